// Package local connects the other commands of this computer with a server that runs:
// they can't open the store while the server has it open.
//
// The server listens on a loopback port of its own. The file cornerwise.serving in the
// data folder has the port and a secret word, new at each start; only the owner may read
// that file. A socket in the folder would need no word, but its path may have no more than
// 100 characters.
//
// A server that was killed leaves the file, and anyone on this computer may take its port. So
// the word itself is never sent: each request and each reply prove by an HMAC that their sender
// has it. The lock of the store would not do in its place: it tells that somebody has the store
// open, not who listens at the port, and during a restore nobody has it.
//
// What is asked is answered by session/web, one request at a time. Four are answered
// here:
//
//	POST /release  the server lets go of its store. The answer comes once it has, and
//	               the store is the asker's until the asker closes the connection.
//	GET /serving   200 as soon as the server has its store open.
//	GET /proof     200 at once, whatever is under way.
//	GET /page      the address of the first page on this computer, at once too.
//
// A restore that is killed closes its connection too, and the server goes on.
package local

import (
	"context"
	"crypto/rand"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"cornerwise/session/disk"
)

// file is the name, in the data folder, of the file with the port and the word.
const file = "cornerwise.serving"

// Serve has a handler answer the commands that work on a data folder until end is called.
// A fault is logged: the server can do its work without them.
func Serve(folder string, h *Handler, log *slog.Logger) (end func()) {
	listener, word, err := listen(folder)
	if err != nil {
		log.Warn("the other commands can't reach this one while it serves", "err", err)
		return func() {}
	}
	// A request ends with the server: a copy of a large store takes long.
	ctx, cancel := context.WithCancel(context.Background())
	server := &http.Server{
		Handler:           guard(word, h),
		BaseContext:       func(net.Listener) context.Context { return ctx },
		ReadHeaderTimeout: 5 * time.Second,
		// No ReadTimeout: it would end the context of what takes longer.
		IdleTimeout:    5 * time.Second,
		MaxHeaderBytes: 4 << 10,
		ErrorLog:       slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		server.Serve(listener)
	}()
	return func() {
		os.Remove(filepath.Join(folder, file))
		cancel()
		server.Close()
		<-ended
	}
}

// listen is for the one that has the store open: a file that is there already was left
// by one that was killed.
func listen(folder string) (listener net.Listener, word string, err error) {
	if listener, err = net.Listen("tcp", "127.0.0.1:0"); err != nil {
		return nil, "", err
	}
	word = rand.Text()
	path := filepath.Join(folder, file)
	os.Remove(path)
	disk.RemoveHalves(path)
	err = disk.MakeFile(path, func(half string) error { // which follows no link
		return os.WriteFile(half, []byte(listener.Addr().String()+" "+word), 0o600)
	})
	if err != nil {
		listener.Close()
		return nil, "", err
	}
	return listener, word, nil
}

func guard(word string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		c, ok := claimOf(r, word)
		if !ok {
			w.WriteHeader(http.StatusUnauthorized)
			return
		}
		w.Header().Set(proofHeader, c.answer(word))
		if r.URL.Path != "/proof" {
			next.ServeHTTP(w, r)
		}
	})
}
