package web

import (
	"cmp"
	"context"
	"net/http"
	"runtime"
	"slices"
	"sync"

	"cornerwise/session"
	"cornerwise/steps"
)

// Lanes are where devices have plans reckoned: each device one at a time, all of them
// together on half of the processors, so that ticks are not held up. A network of IPv6 has no
// more in the queue for those than there are, so that who is elsewhere is soon the next.
type lanes struct {
	all chan struct{}

	mu   sync.Mutex
	each map[party]*lane
}

// A lane is that of one device, or of a network.
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
	if err := s.opened(ctx, v, id); err != nil {
		return 0, err
	}
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
	var back []func()
	leave = func() {
		for _, give := range slices.Backward(back) {
			give()
		}
	}
	places := []chan struct{}{l.join(v.party, 1, &back)}
	if v.party.around != "" {
		places = append(places, l.join(party{around: v.party.around}, cap(l.all), &back))
	}
	for _, place := range append(places, l.all) {
		select {
		case place <- struct{}{}:
			back = append(back, func() { <-place })
		case <-ctx.Done():
			leave()
			return nil, context.Cause(ctx)
		}
	}
	return leave, nil
}

// join is the lane of a party, with so many places, until it is given back.
func (l *lanes) join(p party, places int, back *[]func()) chan struct{} {
	l.mu.Lock()
	defer l.mu.Unlock()
	its := l.each[p]
	if its == nil {
		its = &lane{place: make(chan struct{}, places)}
		l.each[p] = its
	}
	its.users++
	*back = append(*back, func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		if its.users--; its.users == 0 {
			delete(l.each, p)
		}
	})
	return its.place
}
