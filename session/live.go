package session

import (
	"fmt"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// Sessions in memory that nobody watches; and the events kept of each, so that a
// device that was away for a moment is told without a look into the file.
const (
	mostIdle   = 64
	mostMissed = 200
	inStep     = 8 // the events at the end whose text is kept
)

// A live is a session in memory, as it is on disk. It is never in the bin.
type live struct {
	head    Head
	work    *steps.Work
	recent  []Event // the last ones, without a gap, up to head.Rev
	watches map[*Watch]struct{}
	used    uint64
}

// catchUp takes what the file has beyond the live; from a zero live, all of it.
func (l *live) catchUp(tx *bolt.Tx, id string) error {
	head, session, err := readHead(tx, id)
	if err != nil {
		return err
	}
	if !head.Binned.IsZero() {
		return ErrBinned
	}
	return l.foldUpTo(head, session)
}

func (l *live) foldUpTo(head Head, session *bolt.Bucket) error {
	err := eachEntry(session, l.head.Rev, func(e steps.Entry) (err error) {
		l.work, _, err = fold(l.work, e)
		l.head.Rev = e.Rev
		return err
	})
	if err == nil && (l.work == nil || l.head.Rev != head.Rev) {
		err = fmt.Errorf("a session has %d ops on disk, where its head says %d", l.head.Rev, head.Rev)
	}
	l.head = head
	return err
}

// with calls see with a session that is not in the bin, with mu held.
func (s *Store) with(id string, see func(*live)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.lives[id]
	if l == nil {
		fresh := &live{}
		catchUp := func() error {
			return s.view("read", func(tx *bolt.Tx) error { return fresh.catchUp(tx, id) })
		}
		// The long way without mu. What came meanwhile is a few ops at most; with
		// mu held nothing can be published between the read and the use.
		s.mu.Unlock()
		err := catchUp()
		s.mu.Lock()
		if l = s.lives[id]; l == nil {
			if err == nil {
				err = catchUp()
			}
			if err != nil {
				return err
			}
			l = s.keepLocked(id, fresh)
		}
	}
	if s.closed {
		return ErrClosed
	}
	s.useLocked(l)
	see(l)
	return nil
}

func (s *Store) liveWork(id string) *steps.Work {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.lives[id]
	if l == nil {
		return nil
	}
	s.useLocked(l)
	return l.work
}

func (s *Store) useLocked(l *live) {
	s.clock++
	l.used = s.clock
}

// keepLocked adds a live, and lets go of the one that was used longest ago where
// there are too many that nobody watches.
func (s *Store) keepLocked(id string, l *live) *live {
	l.watches = map[*Watch]struct{}{}
	s.lives[id] = l
	s.useLocked(l)
	idle, oldest := 0, id
	for id, other := range s.lives {
		if len(other.watches) > 0 {
			continue
		}
		if idle++; other.used < s.lives[oldest].used {
			oldest = id
		}
	}
	if idle > mostIdle {
		delete(s.lives, oldest)
	}
	return l
}

// publish shows a committed batch to readers and watches.
func (s *Store) publish(b *batch) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for id, d := range b.drafts {
		l := s.lives[id]
		switch {
		case !d.head.Binned.IsZero():
			if l != nil {
				l.endLocked()
				delete(s.lives, id)
			}
			continue
		case d.work == nil:
			continue // came out of the bin, and nobody has looked yet
		case l == nil:
			l = s.keepLocked(id, &live{head: d.kept, work: d.work})
		}
		l.takeLocked(d)
	}
}

func (l *live) takeLocked(d *draft) {
	for _, e := range d.events {
		// A reader may have seen it on disk already.
		if e.Rev <= l.head.Rev {
			continue
		}
		l.recent = append(l.recent, e)
		if n := len(l.recent); n > inStep {
			l.recent[n-1-inStep].forget()
		}
		for w := range l.watches {
			w.tellLocked(e)
		}
	}
	if n := len(l.recent); n > 2*mostMissed {
		l.recent = append([]Event(nil), l.recent[n-mostMissed:]...)
	}
	if d.head.Rev >= l.head.Rev {
		l.head, l.work = d.head, d.work
	}
}
