package session

import (
	"context"
	"time"
)

// Bin puts a session into the bin: it can be listed there and taken out, nothing
// else, and its watches end. Nothing is thrown away. It is safe to repeat.
func (s *Store) Bin(ctx context.Context, id string) error {
	return s.setBinned(ctx, id, func(h Head) time.Time {
		if !h.Binned.IsZero() {
			return h.Binned
		}
		return h.time(s.now())
	})
}

// Unbin takes a session out of the bin. It is safe to repeat.
func (s *Store) Unbin(ctx context.Context, id string) error {
	return s.setBinned(ctx, id, func(Head) time.Time { return time.Time{} })
}

func (s *Store) setBinned(ctx context.Context, id string, when func(Head) time.Time) error {
	return s.change(ctx, func(b *batch) error {
		d, err := b.draft(id)
		if err != nil {
			return err
		}
		d.head.Binned = when(d.head)
		return nil
	})
}
