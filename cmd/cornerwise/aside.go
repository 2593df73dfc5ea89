package main

import (
	"context"
	"errors"
	"net/http"
	"sync"
	"time"
)

// A restore that finds the store served asks the server to stand aside, over the
// line of ask.go, and holds that line until it is done. Should it be killed, the line
// breaks, and the server goes on.

// A wish is one that is waiting for the store.
type wish struct {
	granted chan struct{}   // closed by the server, when it has let go
	over    <-chan struct{} // closed when the other has finished, or is gone
}

// commands answers the other commands. While the server stands aside for one, the
// rest wait.
type commands struct {
	asked chan wish    // what serve has to grant, one after the other
	turn  sync.RWMutex // held for writing while no turn is on
	door
}

func (c *commands) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path == "/aside" {
		c.grant(w, r)
		return
	}
	c.turn.RLock()
	defer c.turn.RUnlock()
	if r.URL.Path != "/on" { // that one only waits
		c.door.ServeHTTP(w, r)
	}
}

// quiet waits until no other command is being answered, and lets none begin; false
// when it is no longer wanted.
func (c *commands) quiet(ctx context.Context, w wish) bool {
	for !c.turn.TryLock() {
		select {
		case <-ctx.Done():
			return false
		case <-w.over:
			return false
		case <-time.After(10 * time.Millisecond):
		}
	}
	return true
}

func (c *commands) grant(w http.ResponseWriter, r *http.Request) {
	mine := wish{granted: make(chan struct{}), over: r.Context().Done()}
	select {
	case c.asked <- mine:
	case <-mine.over:
		return
	}
	select {
	case <-mine.granted:
	case <-mine.over:
		return
	}
	w.WriteHeader(http.StatusOK)
	if http.NewResponseController(w).Flush() == nil {
		<-mine.over
	}
}

// standAside has the server that runs on the data let go of it until back is called,
// which returns once it serves again. Where none runs there is nothing to do.
func standAside(ctx context.Context, data string) (back func(), err error) {
	line, err := call(ctx, data, http.MethodPost, "/aside")
	if errors.Is(err, errSilent) {
		return func() {}, nil
	}
	if err != nil {
		return nil, err
	}
	return func() {
		line.Body.Close()
		if on, err := call(ctx, data, http.MethodGet, "/on"); err == nil {
			on.Body.Close()
		}
	}, nil
}
