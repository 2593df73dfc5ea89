package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/cmd/cornerwise/internal/window"
	"cornerwise/session/web"
)

func runServe(ctx context.Context, args []string, c console) error {
	conf, err := readConfig(args, c.env)
	if err != nil {
		return err
	}
	saveMemory()
	if conf.noWindow {
		window.LetGo()
	}
	if second(ctx, conf, false, c.stdout) {
		return nil
	}
	err = serve(ctx, conf, c.stdout, c.stderr)
	var open inUse
	if errors.As(err, &open) && second(ctx, conf, true, c.stdout) {
		return nil
	}
	if err != nil {
		lastWords(ctx, conf, c, err)
	}
	return err
}

// serve keeps the server up until ctx ends: one service after another, at one endpoint.
// An error is a whole sentence for the person who started it.
func serve(ctx context.Context, c config, stdout, stderr io.Writer) (err error) {
	log := newLog(stderr)
	ctx, quit := context.WithCancel(ctx)
	defer quit()
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
	words, err := s.begin(ctx, c, e, quit, log)
	if err != nil {
		return err
	}
	pages, fromCommands := newSwitch(s.web.Handler()), local.NewHandler(e.here())
	fromCommands.Use(s.web.Local())
	server := newServer(pages, log)
	failed := make(chan error, 1)
	go func() { failed <- e.serve(server) }()
	defer local.Serve(c.data, fromCommands, log)()
	show := sync.OnceFunc(func() { c.show(e.here() + "/") })
	for {
		fmt.Fprint(stdout, words)
		show()
		log.Info("start", "version", thisBuild().short(), "listen", e.listens, "open", c.open)
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
			if words, err = s.begin(ctx, c, e, quit, log); err != nil {
				return err
			}
			pages.to(s.web.Handler())
			fromCommands.Use(s.web.Local())
		}
	}
}

// newLog is the log. Where a person reads along in a window it has what they must see to only.
func newLog(stderr io.Writer) *slog.Logger {
	var options slog.HandlerOptions
	if window.Shows(stderr) {
		options.Level = slog.LevelWarn
	}
	return slog.New(slog.NewTextHandler(stderr, &options))
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
