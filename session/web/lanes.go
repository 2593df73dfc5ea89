package web

import (
	"cmp"
	"context"
	"net/http"
	"runtime"
	"sync"

	"cornerwise/session"
	"cornerwise/steps"
)

// Lanes are where devices have plans reckoned: each device one at a time, all of them
// together on half of the processors, so that ticks are not held up.
type lanes struct {
	all chan struct{}

	mu   sync.Mutex
	each map[party]*lane
}

// A lane is that of one device.
type lane struct {
	place chan struct{}
	users int // that have it, or wait for it
}

func newLanes() *lanes {
	return &lanes{all: make(chan struct{}, max(1, runtime.NumCPU()/2)), each: map[party]*lane{}}
}

// inLane reckons something in the visitor's lane. It may not wait for the visitor: what is
// read or written over the network comes before it or after it.
func (s *Server) inLane(r *http.Request, reckon func()) error {
	leave, err := s.lanes.enter(r.Context(), visitorOf(r))
	if err != nil {
		return err
	}
	defer leave()
	reckon()
	return nil
}

// createFor has the store begin a session, in the visitor's lane.
func (s *Server) createFor(r *http.Request, plan []byte) (head session.Head, err error) {
	full := s.inLane(r, func() { head, err = s.Store.Create(r.Context(), plan) })
	return head, cmp.Or(full, err)
}

// takeFor has the store take an op, in the visitor's lane where it takes long to reckon.
func (s *Server) takeFor(ctx context.Context, v visitor, id string, op steps.Op) (rev int64, err error) {
	if session.TakesLong(op.Kind) {
		leave, err := s.lanes.enter(ctx, v)
		if err != nil {
			return 0, err
		}
		defer leave()
	}
	return s.Store.Do(ctx, id, op)
}

// enter waits until the visitor may go, which the owner always may, or until ctx ends.
func (l *lanes) enter(ctx context.Context, v visitor) (leave func(), err error) {
	if v.owner {
		return func() {}, nil
	}
	l.mu.Lock()
	its := l.each[v.party]
	if its == nil {
		its = &lane{place: make(chan struct{}, 1)}
		l.each[v.party] = its
	}
	its.users++
	l.mu.Unlock()
	left := func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		if its.users--; its.users == 0 {
			delete(l.each, v.party)
		}
	}
	for _, place := range []chan struct{}{its.place, l.all} {
		select {
		case place <- struct{}{}:
		case <-ctx.Done():
			if place == l.all {
				<-its.place
			}
			left()
			return nil, context.Cause(ctx)
		}
	}
	return func() {
		<-l.all
		<-its.place
		left()
	}, nil
}
