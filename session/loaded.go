package session

import (
	"bytes"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

const (
	// maxLoaded works are in memory, beside those with an op under way: one of twelve borders
	// has 1.2 MB, and 256 devices may watch a session each.
	maxLoaded = 64
	// maxMissed events are kept of each session, so that a device that was away for a moment
	// is told without a look into the file.
	maxMissed = 200
	inStep    = 8 // the events at the end whose text is kept
)

// A loadedSession is a session in memory, as it is on disk. It is never in the bin.
type loadedSession struct {
	head    Head
	work    *steps.Work // nil where it was let go of, and the session is watched
	recent  []Event     // the last ones, without a gap, up to head.Rev
	watches map[*Watch]struct{}
	pins    int // ops under way
	used    uint64
	owed    time.Duration // that the ops since its bookmark take to go through
}

// readAtOnce is how many ops are read from the file before they are folded. A read that lasts
// holds up who writes, once the file has to grow.
const readAtOnce = 64

// catchUp folds what the file has of a session, from its bookmark on. It ends early, with
// ErrClosed, once the store closes.
func (s *Store) catchUp(l *loadedSession, id string) error {
	if l.work == nil {
		if err := s.reopen(l, id); err != nil {
			return err
		}
	}
	for {
		var head Head
		var entries []steps.Entry
		err := s.viewOpen(id, func(h Head, session *bolt.Bucket) (err error) {
			head = h
			entries, err = someEntries(session, l.head.Rev)
			return err
		})
		if err != nil {
			return err
		}
		begun := time.Now()
		for _, e := range entries {
			select {
			case <-s.stop:
				return ErrClosed
			default:
			}
			if err := l.take(e); err != nil {
				return err
			}
		}
		l.owed += time.Since(begun)
		if len(entries) < readAtOnce {
			return l.end(head)
		}
	}
}

// reopen takes the work from the session's bookmark, where one counts.
func (s *Store) reopen(l *loadedSession, id string) error {
	var b bookmark
	err := s.viewOpen(id, func(head Head, session *bolt.Bucket) error {
		if kept, ok := readBookmark(session.Tx(), id); ok && kept.rev <= head.Rev {
			b = kept
			b.work = bytes.Clone(kept.work) // it outlives the transaction
		}
		return nil
	})
	if err != nil || b.rev == 0 {
		return err
	}
	if work, err := reopen(b.work); err == nil {
		l.work, l.head.Rev = work, b.rev
	}
	return nil
}

// take folds one more op.
func (l *loadedSession) take(e steps.Entry) (err error) {
	var change steps.Change
	if l.work, change, err = fold(l.work, e); err == nil {
		l.remember(newEvent(e, change))
	}
	l.head.Rev = e.Rev
	return err
}

// end holds what was folded to the head that the file has.
func (l *loadedSession) end(head Head) error {
	if l.work == nil || l.head.Rev != head.Rev {
		return fmt.Errorf("a session has %d ops on disk, where its head says %d", l.head.Rev, head.Rev)
	}
	l.head = head
	return nil
}

// foldUpTo folds all ops of a session, within one transaction.
func (l *loadedSession) foldUpTo(head Head, session *bolt.Bucket) error {
	if err := eachEntry(session, l.head.Rev, l.take); err != nil {
		return err
	}
	return l.end(head)
}

// with calls see with a session that is not in the bin, with mu held.
func (s *Store) with(id string, see func(*loadedSession)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.loaded[id]
	// Read without mu, as it may wait for a slow disk, and by one for all who ask. An op that
	// comes meanwhile has its session loaded; where that was let go of again, or binned, it is
	// read once more.
	for fresh := (&loadedSession{}); l == nil || l.work == nil; l = s.loaded[id] {
		if others := s.opening[id]; others != nil {
			s.mu.Unlock()
			<-others
			s.mu.Lock()
			continue
		}
		opened := make(chan struct{})
		s.opening[id] = opened
		before := s.dropped
		s.mu.Unlock()
		err := s.catchUp(fresh, id)
		s.mu.Lock()
		delete(s.opening, id)
		close(opened)
		if err != nil {
			return err
		}
		switch l = s.loaded[id]; {
		case l == nil && s.dropped == before:
			s.owe(id, s.addLocked(id, fresh), 0)
		case l != nil && l.work == nil && l.head.Rev == fresh.head.Rev:
			l.work, l.owed = fresh.work, fresh.owed
			s.owe(id, l, 0)
			s.useLocked(l)
			s.trimLocked()
		}
	}
	if s.closed {
		return ErrClosed
	}
	s.useLocked(l)
	see(l)
	return nil
}

// Loaded tells whether a session is in memory: another is read from the file first.
func (s *Store) Loaded(id string) bool { return s.loadedWork(id) != nil }

func (s *Store) loadedWork(id string) *steps.Work {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.loaded[id]
	if l == nil {
		return nil
	}
	s.useLocked(l)
	return l.work
}

func (s *Store) useLocked(l *loadedSession) {
	s.clock++
	l.used = s.clock
}

func (s *Store) addLocked(id string, l *loadedSession) *loadedSession {
	l.watches = map[*Watch]struct{}{}
	s.loaded[id] = l
	s.useLocked(l)
	s.trimLocked()
	return l
}

// trimLocked lets go of the work that was used longest ago where there are too many. Who
// watches its session hears of the next op all the same; it is read from the file for that.
func (s *Store) trimLocked() {
	works, oldest := 0, ""
	for id, l := range s.loaded {
		switch {
		case l.pins > 0:
		case l.work == nil && len(l.watches) == 0:
			delete(s.loaded, id)
		case l.work == nil:
		default:
			if works++; oldest == "" || l.used < s.loaded[oldest].used {
				oldest = id
			}
		}
	}
	if works <= maxLoaded {
		return
	}
	s.dropped++
	if l := s.loaded[oldest]; len(l.watches) > 0 {
		l.work = nil
		return
	}
	delete(s.loaded, oldest)
}

// publish shows a committed batch to readers and watches.
func (s *Store) publish(b *batch) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for id, d := range b.drafts {
		l := s.loaded[id]
		switch {
		case !d.head.Binned.IsZero():
			s.dropped++
			if l != nil {
				l.endLocked()
				delete(s.loaded, id)
			}
			continue
		case d.work == nil:
			continue // came out of the bin, and nobody has looked yet
		case l == nil:
			l = s.addLocked(id, &loadedSession{head: d.kept, work: d.work})
		}
		l.advanceLocked(d)
		s.owe(id, l, d.took)
	}
}

func (l *loadedSession) advanceLocked(d *draft) {
	for _, e := range d.events {
		// A reader may have seen it on disk already.
		if e.Rev <= l.head.Rev {
			continue
		}
		l.remember(e)
		for w := range l.watches {
			w.tellLocked(e)
		}
	}
	if d.head.Rev >= l.head.Rev {
		l.head, l.work = d.head, d.work
	}
}

// remember keeps an event for devices that were away for a moment.
func (l *loadedSession) remember(e Event) {
	if e.heavy() {
		l.recent = nil
		return
	}
	l.recent = append(l.recent, e)
	n := len(l.recent)
	if n > inStep {
		l.recent[n-1-inStep].forget()
	}
	if n > 2*maxMissed {
		l.recent = append([]Event(nil), l.recent[n-maxMissed:]...)
	}
}
