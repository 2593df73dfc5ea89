package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/cmd/cornerwise/internal/maintenance"
	"cornerwise/session"
	"cornerwise/session/web"
)

const (
	firstBackup = 10 * time.Second // after the start: a copy keeps the disk busy
	backupEvery = time.Hour        // where something changed
)

// Together they leave room in the two seconds that a stop may take: on a computer that is busy
// the end of the process takes some tenths more.
const (
	drainWithin = 1200 * time.Millisecond
	endWithin   = 300 * time.Millisecond // after that
)

// A service is the work on one open store, with its pages and its backups. It ends with
// the server, or for a restore: then another one begins on what is there.
type service struct {
	store   *session.Store
	devices *session.Devices
	web     *web.Server    // nil until begin
	stop    chan struct{}  // closed to end every live connection
	cancel  func()         // ends the backups
	backups sync.WaitGroup // that are under way
	drained sync.Once
}

// An inUse error is that another process has the store open.
type inUse struct{ error }

// openService opens the store. An error is a whole sentence.
func openService(c config) (*service, error) {
	store, err := session.Open(datafolder.Store(c.data), time.Now)
	switch {
	case errors.Is(err, session.ErrInUse):
		return nil, inUse{maintenance.Explain(c.data, err)}
	case err != nil:
		return nil, maintenance.Explain(c.data, err)
	}
	devices, err := session.OpenDevices(store)
	if err != nil {
		return nil, errors.Join(maintenance.Explain(c.data, err), store.Close())
	}
	return &service{store: store, devices: devices, stop: make(chan struct{}), cancel: func() {}}, nil
}

// begin makes the pages, and backups from now on; it returns the words that say where
// to go. quit stops the program.
func (s *service) begin(
	ctx context.Context, c config, e *endpoint, quit func(), log *slog.Logger,
) (words string, err error) {
	demo, err := demoSession(ctx, c, s.store)
	if err != nil {
		return "", fmt.Errorf("the demo session could not be made: %w", err)
	}
	if words, err = welcome(c, e, demo, s.devices); err != nil {
		return "", err
	}
	logStore(log, s.store.Found())
	s.web = &web.Server{
		Store:     s.store,
		Devices:   s.devices,
		Open:      c.open,
		Name:      e.name,
		Version:   thisBuild().short(),
		Addresses: e.others,
		AtLogin:   c.atLogin(),
		Quit:      quit,
		OnlyHere:  e.listens.Addr().Unmap().IsLoopback(),
		Authority: e.authorityDER(),
		Log:       log,
		Stop:      s.stop,
	}
	ctx, s.cancel = context.WithCancel(ctx)
	s.backups.Go(func() {
		select {
		case <-time.After(firstBackup):
			s.store.BackUpEvery(ctx, backupEvery, log)
		case <-ctx.Done():
		}
	})
	return words, nil
}

// drain tells every device to come back later, once, and shuts the servers down when
// what is under way is answered.
func (s *service) drain(servers ...*http.Server) {
	s.drained.Do(func() {
		close(s.stop)
		ctx, cancel := context.WithTimeout(context.Background(), drainWithin)
		defer cancel()
		for _, server := range servers {
			if server.Shutdown(ctx) != nil {
				server.Close()
			}
		}
		if s.web != nil {
			s.web.Wait(ctx)
		}
	})
}

// close drains, and closes the store last: what came in before is still kept. Later
// requests are told that nothing was kept. It is safe to repeat.
func (s *service) close() error {
	s.drain()
	s.cancel()
	s.backups.Wait()
	return s.store.Close()
}

// end is close for a program that ends within two seconds. A disk that takes longer is not
// waited for: what it was to keep is as after a kill, not answered, and there or not.
func (s *service) end() error {
	closed := make(chan error, 1)
	go func() { closed <- s.close() }()
	select {
	case err := <-closed:
		return err
	case <-time.After(endWithin):
		return nil
	}
}

// release closes the store for another command until that is done with it. It is false
// when ctx ended first.
func (s *service) release(ctx context.Context, r local.Release, log *slog.Logger) bool {
	if err := s.close(); err != nil {
		log.Error("close the store", "err", err)
	}
	log.Info("the store is released for a restore")
	r.Grant()
	select {
	case <-r.Over():
		return true
	case <-ctx.Done():
		return false
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
