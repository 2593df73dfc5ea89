module cornerwise

go 1.26.0

require (
	github.com/chromedp/cdproto v0.159.3 // tests: events of that browser
	github.com/chromedp/chromedp v0.23.0 // tests: a real browser, by touch
	github.com/evanw/esbuild v0.28.2 // tests: no newer syntax than old tablets read
	github.com/go-chi/chi/v5 v5.5.0 // a route table that reads as a page
	github.com/google/go-cmp v0.7.0 // tests: the lines in which a golden sheet differs
	github.com/gorilla/websocket v1.5.3 // live connections, kept behind session/web/live.go
	github.com/kardianos/service v1.3.0 // starting at login: units of systemd, agents of launchd
	github.com/peterstace/simplefeatures v0.50.0 // tests: areas and overlaps, reckoned elsewhere
	github.com/piglig/go-qr v1.1.0 // QR codes: ISO/IEC 18004 has many tables; the drawing is ours
	github.com/pion/mdns/v2 v2.2.2 // the name: probing and caching of RFC 6762
	github.com/shopspring/decimal v1.6.0 // decimals written out exactly
	github.com/tdewolff/minify/v2 v2.24.25 // smaller scripts and styles; it takes a parser
	go.etcd.io/bbolt v1.5.0 // the store: one file, one writer, synced commits
	golang.org/x/image v0.48.0 // photos in WebP; the standard library has the other formats
	golang.org/x/net v0.62.0 // the socket that mdns takes
	golang.org/x/term v0.48.0 // whether somebody reads along in a window
	golang.org/x/time v0.16.0 // how often a thing may be done (session/throttle.go)
	gonum.org/v1/gonum v0.17.0 // Fourier transforms of any length: how a print repeats
	pgregory.net/rapid v1.3.0 // tests: properties that shrink to the smallest case
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/godbus/dbus/v5 v5.2.4 // tests: the screen saver that a browser holds back
	github.com/pion/logging v0.2.4 // indirect
	github.com/tdewolff/parse/v2 v2.8.20 // indirect
	golang.org/x/sys v0.50.0 // on Windows: a page for who sits there, and the window
)
