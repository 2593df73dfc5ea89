package session

import (
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

// catchUp folds what the file has of a session, from its bookmark on. It ends early, with
// ErrClosed, once stop is closed.
func (l *loadedSession) catchUp(tx *bolt.Tx, id string, stop <-chan struct{}) error {
	head, session, err := readHead(tx, id)
	if err != nil {
		return err
	}
	if !head.Binned.IsZero() {
		return ErrBinned
	}
	if l.work == nil {
		l.reopen(tx, head)
	}
	return l.foldUpTo(head, session, stop)
}

func (l *loadedSession) foldUpTo(head Head, session *bolt.Bucket, stop <-chan struct{}) error {
	begun := time.Now()
	defer func() { l.owed += time.Since(begun) }()
	err := eachEntry(session, l.head.Rev, func(e steps.Entry) (err error) {
		select {
		case <-stop:
			return ErrClosed
		default:
		}
		var change steps.Change
		if l.work, change, err = fold(l.work, e); err == nil {
			l.remember(newEvent(e, change))
		}
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
func (s *Store) with(id string, see func(*loadedSession)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.loaded[id]
	// Read without mu, as it may wait for a slow disk. An op that comes meanwhile has its
	// session loaded; where that was let go of again, or binned, it is read once more.
	for fresh := (&loadedSession{}); l == nil || l.work == nil; {
		before := s.dropped
		s.mu.Unlock()
		err := s.view("read", func(tx *bolt.Tx) error { return fresh.catchUp(tx, id, s.stop) })
		s.mu.Lock()
		if err != nil {
			return err
		}
		switch l = s.loaded[id]; {
		case l == nil && s.dropped == before:
			l = s.addLocked(id, fresh)
			s.owe(id, l, 0)
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
