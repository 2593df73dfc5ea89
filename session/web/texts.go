package web

import (
	"encoding/json"
	"sync"
	"weak"

	"cornerwise/session"
)

// stateTexts are the states of sessions as JSON, each made once for all who read it at the same
// time: it has up to a megabyte, and a slow network holds it for long. What nobody reads any
// more is not kept.
type stateTexts struct {
	mu sync.Mutex
	of map[string]*stateText // by the session's id
}

type stateText struct {
	mu   sync.Mutex
	rev  int64
	data weak.Pointer[json.RawMessage]
}

// maxTexts are remembered before those that nobody reads are forgotten.
const maxTexts = 256

func newStateTexts() *stateTexts { return &stateTexts{of: map[string]*stateText{}} }

// state is newState of a session as JSON. The bytes must not be changed.
func (t *stateTexts) state(snap session.Snapshot) (*json.RawMessage, error) {
	its := t.text(snap.ID)
	its.mu.Lock()
	defer its.mu.Unlock()
	if data := its.data.Value(); data != nil && its.rev == snap.Rev {
		return data, nil
	}
	made, err := json.Marshal(newState(snap))
	if err != nil {
		return nil, err
	}
	data := (*json.RawMessage)(&made)
	its.rev, its.data = snap.Rev, weak.Make(data)
	return data, nil
}

func (t *stateTexts) text(id string) *stateText {
	t.mu.Lock()
	defer t.mu.Unlock()
	its := t.of[id]
	if its != nil {
		return its
	}
	if len(t.of) >= maxTexts {
		clear(t.of) // who reads has the bytes still
	}
	its = &stateText{}
	t.of[id] = its
	return its
}
