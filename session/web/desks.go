package web

import (
	"context"
	"net/http"
	"runtime"

	"github.com/go-chi/chi/v5"
)

// desks are where the pages and the states that devices read are made, one for two processors:
// each takes megabytes until it is packed, and a tick is to find a processor soon. Who is at a
// desk waits for nobody.
type desks struct {
	places chan struct{}
	// opening is the one place where devices have sessions read from the file: one with a long
	// history is not to keep the desks.
	opening chan struct{}
}

func newDesks() desks {
	return desks{make(chan struct{}, max(1, runtime.NumCPU()/2)), make(chan struct{}, 1)}
}

type seatKey struct{}

// sit waits for a desk, which the owner always has and who sits at one already, until ctx ends.
func (d desks) sit(ctx context.Context, v visitor) (rise func(), err error) {
	if v.owner || ctx.Value(seatKey{}) != nil {
		return func() {}, nil
	}
	return take(ctx, d.places)
}

func take(ctx context.Context, places chan struct{}) (leave func(), err error) {
	select {
	case places <- struct{}{}:
		return func() { <-places }, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}

// seated has a page made at a desk from its beginning, once its session is in memory.
func (s *Server) seated(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		v := visitorOf(r)
		err := s.opened(r.Context(), v, chi.URLParam(r, "id"))
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		rise, err := s.desks.sit(r.Context(), v)
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		defer rise()
		next(w, r.WithContext(context.WithValue(r.Context(), seatKey{}, true)))
	}
}

// opened has a session in memory for a device, where there is one of that id. What is wrong with
// it is told by who asks for it next.
func (s *Server) opened(ctx context.Context, v visitor, id string) error {
	if v.owner || id == "" || s.Store.Loaded(id) {
		return nil
	}
	leave, err := take(ctx, s.desks.opening)
	if err != nil {
		return err
	}
	defer leave()
	s.Store.Get(id)
	return nil
}
