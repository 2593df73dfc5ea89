package session

import (
	"encoding/json"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// An Event is an op that was taken, and what it made new. It is one pointer wide,
// for hundreds of watches hold the same.
type Event struct{ *told }

type told struct {
	Rev    int64        `json:"rev"`
	Op     steps.Op     `json:"op"`
	At     time.Time    `json:"at"`
	Change steps.Change `json:"changed"`

	mu   sync.Mutex
	text []byte // as JSON, while many may ask for it
}

func newEvent(e steps.Entry, change steps.Change) Event {
	return Event{&told{Rev: e.Rev, Op: e.Op, At: e.At, Change: change}}
}

// JSON is the event as every device gets it, written once for all that are in step.
// The bytes must not be changed.
func (e Event) JSON() ([]byte, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	var err error
	if e.text == nil {
		e.text, err = json.Marshal(e.told)
	}
	return e.text, err
}

// forget lets go of the text, which is long where a plan changed. Who is so far
// behind has it written anew.
func (e Event) forget() {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.text = nil
}

// maxLag is how many events a watch may lag behind before it ends.
const maxLag = 64

// A Watch gets every event of one session after its start, in order, none twice.
type Watch struct {
	Start  Snapshot     // set when the gap was too long, or since was 0 or ahead
	Missed []Event      // else the events after since
	Events <-chan Event // closed when the watch ends: too slow, binned, or the store closes

	store   *Store
	session *loadedSession
	events  chan Event
}

// Watch starts a watch. since is the last revision that the caller has, 0 for none.
// Close ends it.
func (s *Store) Watch(id string, since int64) (*Watch, error) {
	w := &Watch{store: s, events: make(chan Event, maxLag)}
	w.Events = w.events
	inMemory, rev := true, int64(0)
	err := s.with(id, func(l *loadedSession) {
		rev = l.head.Rev
		if since <= 0 || since > rev || rev-since > maxMissed {
			w.Start = Snapshot{Head: l.head, Work: l.work}
		} else {
			w.Missed, inMemory = l.since(since)
		}
		w.session = l
		l.watches[w] = struct{}{}
	})
	if err == nil && !inMemory {
		// What comes from now on waits in the channel.
		if w.Missed, err = s.replay(id, since, rev); err != nil {
			w.Close()
		}
	}
	if err != nil {
		return nil, err
	}
	return w, nil
}

// since is the events after a revision; false when memory does not reach so far.
func (l *loadedSession) since(rev int64) ([]Event, bool) {
	n := l.head.Rev - rev
	if n > int64(len(l.recent)) {
		return nil, false
	}
	return append([]Event(nil), l.recent[int64(len(l.recent))-n:]...), true
}

// replay makes the events after since, up to a revision, from the file.
func (s *Store) replay(id string, since, upTo int64) (missed []Event, err error) {
	err = s.view("read", func(tx *bolt.Tx) error {
		_, session, err := readHead(tx, id)
		if err != nil {
			return err
		}
		var work *steps.Work
		return eachEntry(session, 0, func(e steps.Entry) error {
			var change steps.Change
			if e.Rev > upTo {
				return nil
			}
			if work, change, err = fold(work, e); err == nil && e.Rev > since {
				missed = append(missed, newEvent(e, change))
			}
			return err
		})
	})
	return missed, err
}

// Close ends the watch. It is safe to repeat.
func (w *Watch) Close() {
	w.store.mu.Lock()
	defer w.store.mu.Unlock()
	w.endLocked()
}

// tellLocked never waits: who is too slow for the others reads the session afresh.
func (w *Watch) tellLocked(e Event) {
	select {
	case w.events <- e:
	default:
		w.endLocked()
	}
}

func (w *Watch) endLocked() {
	if _, on := w.session.watches[w]; on {
		delete(w.session.watches, w)
		close(w.events)
	}
}

func (l *loadedSession) endLocked() {
	for w := range l.watches {
		w.endLocked()
	}
}
