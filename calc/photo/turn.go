package photo

import "context"

// turns lets two pictures at a time be read or looked at, in the whole process: memory is what
// runs out first.
var turns = make(chan struct{}, 2)

// wait takes a turn, and tells how to give it back. Its error is the context's.
func wait(ctx context.Context) (done func(), err error) {
	select {
	case turns <- struct{}{}:
		return func() { <-turns }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}
