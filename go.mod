module cornerwise

go 1.26.0

require (
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/evanw/esbuild v0.28.2
	github.com/go-chi/chi/v5 v5.5.0
	github.com/google/go-cmp v0.7.0
	github.com/gorilla/websocket v1.5.3
	github.com/peterstace/simplefeatures v0.50.0
	github.com/piglig/go-qr v1.1.0
	github.com/pion/mdns/v2 v2.2.2
	github.com/shopspring/decimal v1.6.0
	github.com/tdewolff/minify/v2 v2.24.25
	go.etcd.io/bbolt v1.5.0
	golang.org/x/net v0.35.0
	golang.org/x/time v0.16.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/pion/logging v0.2.4 // indirect
	github.com/tdewolff/parse/v2 v2.8.20 // indirect
	golang.org/x/sys v0.49.0 // indirect
)
