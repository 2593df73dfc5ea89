package web

import (
	"context"
	"runtime"
)

// desks are where the pages and the states that devices read are made, one for two processors:
// each takes megabytes until it is packed, and a tick is to find a processor soon. Who is at a
// desk waits for nobody.
type desks chan struct{}

func newDesks() desks { return make(desks, max(1, runtime.NumCPU()/2)) }

// sit waits for a desk, which the owner always has, until ctx ends.
func (d desks) sit(ctx context.Context, v visitor) (rise func(), err error) {
	if v.owner {
		return func() {}, nil
	}
	select {
	case d <- struct{}{}:
		return func() { <-d }, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}
