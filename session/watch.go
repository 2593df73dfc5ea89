package session

import (
	"encoding/json"
	"sync"
	"time"

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

// maxLag is how many events a watch may lag behind before it ends; where the next one is
// heavy, maxHeavyLag.
const (
	maxLag      = 64
	maxHeavyLag = 4
)

// heavy tells that the event holds most of the session. It is told and not kept: who missed
// it reads the session afresh.
func (e Event) heavy() bool { return len(e.Change.Stages) > 0 || len(e.Change.Steps) > maxSteps }

const maxSteps = 10 // of a light event

// A Watch gets every event of one session after its start, in order, none twice.
type Watch struct {
	Start  Snapshot     // set when what came since is not kept, or since was 0 or ahead
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
	err := s.with(id, func(l *loadedSession) {
		var reaches bool
		if w.Missed, reaches = l.since(since); !reaches {
			w.Start = Snapshot{Head: l.head, Work: l.work}
		}
		w.session = l
		l.watches[w] = struct{}{}
	})
	if err != nil {
		return nil, err
	}
	return w, nil
}

// since is the events after a revision; false where they are not all kept, or the
// revision is none that the session has had.
func (l *loadedSession) since(rev int64) ([]Event, bool) {
	n := l.head.Rev - rev
	if rev <= 0 || n < 0 || n > min(maxMissed, int64(len(l.recent))) {
		return nil, false
	}
	return append([]Event(nil), l.recent[int64(len(l.recent))-n:]...), true
}

// Close ends the watch. It is safe to repeat.
func (w *Watch) Close() {
	w.store.mu.Lock()
	defer w.store.mu.Unlock()
	w.endLocked()
}

// tellLocked never waits: who is too slow for the others reads the session afresh.
func (w *Watch) tellLocked(e Event) {
	if e.heavy() && len(w.events) > maxHeavyLag {
		w.endLocked()
		return
	}
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
