package session

import (
	"context"
	"fmt"
	"testing"
	"testing/synctest"

	"cornerwise/steps"
)

func otherCenter(n int) steps.Op {
	plan := fmt.Sprintf(`{"center": {"width": "%d", "length": "40"}, "borders": [{"cut": "3"}]}`, 30+n)
	return steps.Op{ID: fmt.Sprint("plan ", n), Kind: steps.KindPlan, Plan: []byte(plan)}
}

// The one transaction that all sessions share takes what was reckoned before it, and reckons
// itself only where the session has become another since.
func TestWhatWasReckonedBeforeTheCommitIsTaken(t *testing.T) {
	s, snap := inside(t)
	was := reckon(snap.Head, snap.Work, otherCenter(1), "", s.now())
	for n, fresh := range []bool{true, false} {
		var took *steps.Work
		err := s.change(context.Background(), func(b *batch) error {
			d, err := b.open(snap.ID)
			if err != nil {
				return err
			}
			op := otherCenter(1)
			op.ID = fmt.Sprint("again ", n)
			_, err = b.do(snap.ID, op, was)
			took = d.work
			return err
		})
		if err != nil || (took == was.next) != fresh {
			t.Errorf("commit %d: %v, it took what was reckoned before: %t, want %t", n, err, took == was.next, fresh)
		}
	}
	if now, err := s.Get(snap.ID); err != nil || now.Rev != snap.Rev+2 {
		t.Errorf("Get = %+v, %v, want two revisions more", now.Head, err)
	}
}

// While the committer is busy a session that nobody has looked at is read from the file, and
// stays in memory until its op is kept.
func TestASessionIsReadBeforeItsOpWaitsForTheCommitter(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, snap := inside(t)
		goOn := make(chan struct{})
		go s.change(t.Context(), func(*batch) error { <-goOn; return nil })
		synctest.Wait()
		for _, op := range []steps.Op{noteOp("note", snap.Work, "a"), otherCenter(2)} {
			s.mu.Lock()
			delete(s.loaded, snap.ID)
			s.mu.Unlock()
			done := make(chan error)
			go func() { _, err := s.Do(t.Context(), snap.ID, op); done <- err }()
			synctest.Wait()
			s.mu.Lock()
			l := s.loaded[snap.ID]
			if l == nil || l.pins != 1 {
				t.Errorf("%s: the session in memory is %+v, want it there and pinned", op.Kind, l)
			}
			for range maxLoaded + 10 {
				s.addLocked(newID(), &loadedSession{work: snap.Work})
			}
			if s.loaded[snap.ID] != l {
				t.Errorf("%s: the session was let go of while its op was under way", op.Kind)
			}
			s.mu.Unlock()
			goOn <- struct{}{}
			if err := <-done; err != nil || l.pins != 0 {
				t.Errorf("%s: %v, and %d pins afterwards", op.Kind, err, l.pins)
			}
			go s.change(t.Context(), func(*batch) error { <-goOn; return nil })
			synctest.Wait()
		}
		goOn <- struct{}{}
		if n := len(s.turns.of); n != 0 {
			t.Errorf("%d turns are left", n)
		}
	})
}

// Ops that are reckoned first do not get in each other's way: each is reckoned once.
func TestOpsOfOneSessionComeInTurn(t *testing.T) {
	s, snap := inside(t)
	done := make(chan error)
	const ops = 20
	for n := range ops {
		go func() {
			op := otherCenter(n)
			if n%2 == 0 {
				op = noteOp(fmt.Sprint("note ", n), snap.Work, fmt.Sprint(n))
			}
			_, err := s.Do(context.Background(), snap.ID, op)
			done <- err
		}()
	}
	for range ops {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	if now, err := s.Get(snap.ID); err != nil || now.Rev != snap.Rev+ops {
		t.Errorf("Get = %+v, %v, want %d revisions more", now.Head, err, ops)
	}
}
