package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"sync/atomic"
	"time"

	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session/web"
)

func runServe(ctx context.Context, args []string, c console) error {
	conf, err := readConfig(args, c.env)
	if err != nil {
		return err
	}
	saveMemory()
	return serve(ctx, conf, c.stdout, c.stderr)
}

// serve keeps the server up until ctx ends: one service after another, at one endpoint.
// An error is a whole sentence for the person who started it.
func serve(ctx context.Context, c config, stdout, stderr io.Writer) (err error) {
	log := slog.New(slog.NewTextHandler(stderr, nil))
	s, err := openService(c)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.end()) }()
	e, err := openEndpoint(c, log)
	if err != nil {
		return err
	}
	defer e.Close()
	words, err := s.begin(ctx, c, e, log)
	if err != nil {
		return err
	}
	pages, fromCommands := newSwitch(s.web.Handler()), local.NewHandler()
	fromCommands.Use(s.web.Local())
	server := newServer(pages, log)
	failed := make(chan error, 1)
	go func() { failed <- e.serve(server) }()
	defer local.Serve(c.data, fromCommands, log)()
	for {
		fmt.Fprint(stdout, words)
		log.Info("start", "listen", e.listens, "open", c.open)
		select {
		case err := <-failed:
			return fmt.Errorf("the server stopped by itself: %w", err)
		case <-ctx.Done():
			s.drain(server)
			log.Info("stop")
			return nil
		case r := <-fromCommands.Releases():
			if !s.release(ctx, r, log) {
				log.Info("stop")
				return nil
			}
			next, err := openService(c)
			if err != nil {
				return err
			}
			s = next
			if words, err = s.begin(ctx, c, e, log); err != nil {
				return err
			}
			pages.to(s.web.Handler())
			fromCommands.Use(s.web.Local())
		}
	}
}

func newServer(h http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       time.Minute, // a large import over a weak signal
		WriteTimeout:      time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          web.ErrorLog(log),
	}
}

// A handlerSwitch leads to the pages of the service that is on. After its end it still
// leads there: its store is closed, and whoever asks is told to come again.
type handlerSwitch struct{ now atomic.Pointer[http.Handler] }

func newSwitch(h http.Handler) *handlerSwitch {
	s := &handlerSwitch{}
	s.to(h)
	return s
}

func (s *handlerSwitch) to(h http.Handler) { s.now.Store(&h) }

func (s *handlerSwitch) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	(*s.now.Load()).ServeHTTP(w, r)
}
