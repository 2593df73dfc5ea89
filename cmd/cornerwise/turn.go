package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"cornerwise/session"
	"cornerwise/session/web"
)

// backupEvery is how often the store backs itself up, where something changed.
const (
	backupFirst = 10 * time.Second // after the start
	backupEvery = time.Hour
)

// stopWithin leaves room in the two seconds that a stop may take.
const stopWithin = 1500 * time.Millisecond

// A turn is the work on one store: from the start to the end, or to a restore, after
// which the next one takes up what is there then.
type turn struct {
	store   *session.Store
	devices *session.Devices
	pages   *web.Server
	stop    chan struct{}  // closed to end every live connection
	keeping func()         // ends the backups
	backups sync.WaitGroup // that are under way
	away    sync.Once
}

// openTurn opens the store. An error is a whole sentence.
func openTurn(c config) (*turn, error) {
	store, err := session.Open(filepath.Join(c.data, storeFile), time.Now)
	if err != nil {
		return nil, storeTrouble(c, err)
	}
	devices, err := session.OpenDevices(store)
	if err != nil {
		return nil, errors.Join(storeTrouble(c, err), store.Close())
	}
	return &turn{store: store, devices: devices, stop: make(chan struct{}), keeping: func() {}}, nil
}

// begin has the pages ready, and backups kept from then on; it says where to go.
func (t *turn) begin(ctx context.Context, c config, p *place, log *slog.Logger) (words string, err error) {
	demo, err := demoSession(ctx, c, t.store)
	if err != nil {
		return "", fmt.Errorf("the demo session could not be made: %w", err)
	}
	if words, err = welcome(c, p, demo, t.devices.Offer(false)); err != nil {
		return "", err
	}
	logStore(log, t.store.Found())
	t.pages = &web.Server{Store: t.store, Devices: t.devices, Open: c.open, Name: p.name, Addresses: p.others, Authority: p.certificate(), Log: log, Stop: t.stop}
	ctx, t.keeping = context.WithCancel(ctx)
	t.backups.Go(func() {
		// The first page comes first: a copy of a large store keeps the disk busy.
		select {
		case <-time.After(backupFirst):
			t.store.BackUpEvery(ctx, backupEvery, log)
		case <-ctx.Done():
		}
	})
	return words, nil
}

// goodbye tells every device to come back later, once, and shuts the servers down
// when what they are at is answered.
func (t *turn) goodbye(servers ...*http.Server) {
	t.away.Do(func() {
		close(t.stop)
		ctx, cancel := context.WithTimeout(context.Background(), stopWithin)
		defer cancel()
		for _, server := range servers {
			if server.Shutdown(ctx) != nil {
				server.Close()
			}
		}
		if t.pages != nil {
			t.pages.Wait(ctx)
		}
	})
}

// end says goodbye and lets go of the store, last: what came in is still kept. Who
// comes later is told to come again. It is safe to repeat.
func (t *turn) end() error {
	t.goodbye()
	t.keeping()
	t.backups.Wait()
	return t.store.Close()
}

// lend ends the turn, lets who wishes it have the store until that is over, and opens
// the next turn; nil when ctx ended meanwhile.
func (t *turn) lend(ctx context.Context, c config, w wish, log *slog.Logger) (*turn, error) {
	err := t.end()
	if err != nil {
		log.Error("close the store", "err", err)
	}
	log.Info("stand aside for a restore")
	close(w.granted)
	select {
	case <-w.over:
		return openTurn(c)
	case <-ctx.Done():
		return nil, err
	}
}

// A door leads to the turn that is on. After its end it still leads there: its store
// is closed, and whoever asks is told to come again.
type door struct{ now atomic.Pointer[http.Handler] }

func (d *door) to(h http.Handler) { d.now.Store(&h) }

func (d *door) ServeHTTP(w http.ResponseWriter, r *http.Request) { (*d.now.Load()).ServeHTTP(w, r) }
