package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"path/filepath"
	"syscall"
	"time"

	"cornerwise/session"
	"cornerwise/session/web"
)

// storeFile is the store's name in the data folder.
const storeFile = "cornerwise.db"

// serve keeps the server up until ctx ends, in turns: see turn. An error is a whole
// sentence for the person who started it.
func serve(ctx context.Context, c config, stdout, stderr io.Writer) (err error) {
	log := slog.New(slog.NewTextHandler(stderr, nil))
	t, err := openTurn(c)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, t.end()) }()
	place, err := openPlace(c, log)
	if err != nil {
		return err
	}
	defer place.Close()
	words, err := t.begin(ctx, c, place, log)
	if err != nil {
		return err
	}
	var front door
	local := &commands{asked: make(chan wish)}
	front.to(t.pages.Handler())
	local.to(t.pages.Local())
	server := &http.Server{
		Handler:           &front,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       time.Minute, // a large import over a weak signal
		WriteTimeout:      time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- place.serve(server) }()
	defer serveLocal(c, local, log)()
	ready := func() {
		fmt.Fprint(stdout, words)
		log.Info("start", "listen", place.at, "open", c.open)
	}
	ready()
	for {
		select {
		case err := <-failed:
			return fmt.Errorf("the server stopped by itself: %w", err)
		case <-ctx.Done():
			t.goodbye(server)
			log.Info("stop")
			return nil
		case w := <-local.asked:
			if !local.quiet(ctx, w) {
				continue
			}
			next, err := t.lend(ctx, c, w, log)
			if next == nil {
				return err
			}
			t = next
			if words, err = t.begin(ctx, c, place, log); err != nil {
				return err
			}
			front.to(t.pages.Handler())
			local.to(t.pages.Local())
			local.turn.Unlock()
			ready()
		}
	}
}

func logStore(log *slog.Logger, found session.Report) {
	has := []any{"schema", found.Version, "sessions", found.Sessions, "ops", found.Ops}
	if !found.Last.IsZero() {
		has = append(has, "last", found.Last)
	}
	log.Info("store", has...)
	if found.Half {
		// bbolt goes on from the other one, and the next commit mends this one.
		log.Warn("one of the store's two first pages was damaged; the last tick may be missing")
	}
	if found.Unread > 0 {
		log.Warn("devices whose record can't be read must pair again", "devices", found.Unread)
	}
}

func storeTrouble(c config, err error) error {
	switch {
	case errors.Is(err, session.ErrInUse):
		return fmt.Errorf("the sessions in %s are in use by another process. Cornerwise is probably running already: "+
			"use that one, stop it, or give this one another folder with --data", c.data)
	case errors.Is(err, session.ErrNewer):
		return fmt.Errorf("the sessions in %s were written by a newer Cornerwise. Nothing was changed: start the newer one", c.data)
	case errors.Is(err, session.ErrMissing):
		return fmt.Errorf("the file of the sessions, %s, is gone, and its backups are there. Nothing was changed. %s. "+
			"To start afresh, move the folder backups away", filepath.Join(c.data, storeFile), offer(kept{data: c.data}))
	case errors.Is(err, session.ErrDamaged), errors.Is(err, session.ErrForeign):
		return fmt.Errorf("the file of the sessions, %s, can't be used: %s. Nothing was changed. %s",
			filepath.Join(c.data, storeFile), what(err), offer(kept{data: c.data}))
	case errors.Is(err, session.ErrFull):
		return fmt.Errorf("there is no space left for the sessions in %s. Free some, then start again; nothing is lost", c.data)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("the folder %s can't be written to by this user. Make it writable, or name another with --data", c.data)
	}
	return fmt.Errorf("the sessions in %s can't be opened: %w. Nothing was changed", c.data, err)
}

func listenTrouble(c config, err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Errorf("the address %s is in use by another program. Cornerwise may be running already; "+
			"stop it, or choose another port with --listen, such as --listen :8371", c.listen)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("this user may not listen on %s. Choose a port from 1024 up with --listen", c.listen)
	}
	return fmt.Errorf("can't listen on %s: %w", c.listen, err)
}

// demoSession is the path of the demo session, made if there is none yet.
func demoSession(ctx context.Context, c config, store *session.Store) (string, error) {
	if !c.demo {
		return "", nil
	}
	for after := ""; ; {
		heads, next, err := store.List(200, after, false)
		if err != nil {
			return "", err
		}
		for _, h := range heads {
			if h.Title == web.DemoTitle {
				return "s/" + h.ID, nil
			}
		}
		if after = next; next == "" {
			break
		}
	}
	head, err := store.Create(ctx, []byte(web.DemoPlan))
	return "s/" + head.ID, err
}
