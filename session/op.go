package session

import (
	"context"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// Get is a session as it stands on disk.
func (s *Store) Get(id string) (snap Snapshot, err error) {
	err = s.with(id, func(l *loadedSession) { snap = Snapshot{Head: l.head, Work: l.work} })
	return snap, err
}

// Do takes one op and returns once it is on disk. The same op id again gets the
// same answer, a clash too. What is wrong with an op is a *steps.Refusal. ctx ends
// the wait only while the op has not been taken up.
func (s *Store) Do(ctx context.Context, id string, op steps.Op) (rev int64, err error) {
	op = asKept(op)
	alone := TakesLong(op.Kind)
	defer s.turns.take(id, alone)()
	snap, unpin, err := s.pin(id)
	if err != nil {
		return 0, err
	}
	defer unpin()
	var ready reckoned
	if alone {
		// Who waits long for an answer sends the op again.
		if a, err := s.answered(ctx, id, op.ID); a != nil || err != nil {
			return a.told(err)
		}
		ready = reckon(snap.Head, snap.Work, op, namedIn(ctx), s.now())
	}
	if op.Kind == steps.KindPlan && ready.err == nil {
		if err := s.hasPhotos(ready.next.Plan, snap.Work.Plan); err != nil {
			return 0, err
		}
	}
	err = s.change(ctx, func(b *batch) error {
		rev, err = b.do(id, op, ready)
		return err
	})
	if err != nil {
		return 0, err
	}
	return rev, nil
}

// answered is what an op was told; nil where it was not seen.
func (s *Store) answered(ctx context.Context, id, op string) (a *answer, err error) {
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	err = s.viewOpen(id, func(_ Head, session *bolt.Bucket) error {
		a, err = readAnswer(session, op)
		return err
	})
	return a, err
}

// pin is a session as it stands on disk. It stays in memory until unpin: the one transaction
// must not have to read it from the file.
func (s *Store) pin(id string) (snap Snapshot, unpin func(), err error) {
	err = s.with(id, func(l *loadedSession) {
		l.pins++
		snap = Snapshot{Head: l.head, Work: l.work}
		unpin = func() {
			s.mu.Lock()
			defer s.mu.Unlock()
			l.pins--
		}
	})
	return snap, unpin, err
}
