package main

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// A server that runs answers the other commands, which can't open the store that it
// has open: on a loopback port of its own, to who knows the word in this file. The
// file is the owner's alone, and the word is new at each start. A socket in the
// folder would need no word, but its path may have no more than 100 characters.
const servingFile = "cornerwise.serving"

// serveLocal answers the other commands until the function that it returns is called.
func serveLocal(c config, answer http.Handler, log *slog.Logger) (end func()) {
	listener, word, err := listenLocal(c.data)
	if err != nil {
		log.Warn("the other commands can't reach this one while it serves", "err", err)
		return func() {}
	}
	// What is asked ends with the server: a copy of a large store takes a while.
	ctx, cancel := context.WithCancel(context.Background())
	server := &http.Server{
		Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if subtle.ConstantTimeCompare([]byte(r.Header.Get("Authorization")), []byte(word)) != 1 {
				w.WriteHeader(http.StatusUnauthorized)
				return
			}
			answer.ServeHTTP(w, r)
		}),
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
		os.Remove(filepath.Join(c.data, servingFile))
		cancel()
		server.Close()
		<-ended
	}
}

// listenLocal is for who has the store open: a file that is there was left by one
// that was killed.
func listenLocal(data string) (listener net.Listener, word string, err error) {
	if listener, err = net.Listen("tcp", "127.0.0.1:0"); err != nil {
		return nil, "", err
	}
	word = rand.Text()
	path := filepath.Join(data, servingFile)
	os.Remove(path)
	if err = os.WriteFile(path, []byte(listener.Addr().String()+" "+word), 0o600); err != nil {
		listener.Close()
		return nil, "", err
	}
	return listener, word, nil
}

// errSilent tells that no server answers on the data.
var errSilent = errors.New("no Cornerwise answers there")

// ask has the server that runs on the data do something. An error is errSilent, or
// what the server said.
func ask(ctx context.Context, data, method, path string, into any) error {
	res, err := call(ctx, data, method, path)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	body, err := io.ReadAll(io.LimitReader(res.Body, mostSaid))
	if err != nil {
		return fmt.Errorf("it was stopped while it was asked (%w). Ask again", err)
	}
	if json.Unmarshal(body, into) != nil {
		return errSilent // another program has the port by now
	}
	return nil
}

// mostSaid is more than any answer has.
const mostSaid = 1 << 20

// call is ask as far as the answer's first line, which says yes.
func call(ctx context.Context, data, method, path string) (*http.Response, error) {
	written, err := os.ReadFile(filepath.Join(data, servingFile))
	if err != nil {
		return nil, errSilent
	}
	address, word, _ := strings.Cut(string(written), " ")
	req, err := http.NewRequestWithContext(ctx, method, "http://"+address+path, nil)
	if err != nil {
		return nil, errSilent
	}
	req.Header.Set("Authorization", word)
	// No proxy is for this, and a large store takes its time.
	client := http.Client{Timeout: 10 * time.Minute, Transport: &http.Transport{DisableKeepAlives: true}}
	res, err := client.Do(req)
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, errSilent
	}
	if res.StatusCode == http.StatusOK {
		return res, nil
	}
	defer res.Body.Close()
	body, _ := io.ReadAll(io.LimitReader(res.Body, mostSaid))
	var refused struct{ Error struct{ Message string } }
	if json.Unmarshal(body, &refused) != nil || refused.Error.Message == "" {
		return nil, errSilent
	}
	return nil, errors.New(strings.TrimSuffix(refused.Error.Message, "."))
}
