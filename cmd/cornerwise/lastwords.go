package main

import (
	"context"
	"net"
	"net/http"
	"runtime"
	"time"

	"cornerwise/cmd/cornerwise/internal/opener"
	"cornerwise/cmd/cornerwise/internal/window"
	"cornerwise/session/web"
)

const (
	seenWithin = time.Minute     // the browser may be slow to start
	shownFor   = 2 * time.Second // after the last request: the page has its style then
)

// lastWords says in the browser why it does not serve, where it was opened without a window that
// would show it. It is back once that is seen.
func lastWords(ctx context.Context, conf config, c console, why error) {
	if conf.noBrowser || runtime.GOOS == "windows" || window.Shows(c.stdout) || window.Shows(c.stderr) {
		return
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return
	}
	asked := make(chan struct{}, 1)
	page := web.Sentence(sentence(why))
	server := http.Server{ReadTimeout: 5 * time.Second, Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		page.ServeHTTP(w, r)
		select {
		case asked <- struct{}{}:
		default:
		}
	})}
	defer server.Close()
	go server.Serve(listener)
	if opener.Open("http://"+listener.Addr().String()+"/") != nil {
		return
	}
	for wait := seenWithin; ; wait = shownFor {
		select {
		case <-asked:
		case <-time.After(wait):
			return
		case <-ctx.Done():
			return
		}
	}
}
