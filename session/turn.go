package session

import "sync"

// turns are taken by ops before they wait for the committer. What a plan, a measure or a way
// out comes to may take a second to reckon. So it is reckoned before the one transaction
// that all sessions share, with no other op of its session under way; ops that take no time go
// side by side.
type turns struct {
	mu sync.Mutex
	of map[string]*turn // by the session's id
}

type turn struct {
	sync.RWMutex
	users int // that have it, or wait for it
}

// take waits for the turn, alone or beside others, and gives it back by give.
func (t *turns) take(id string, alone bool) (give func()) {
	t.mu.Lock()
	if t.of == nil {
		t.of = map[string]*turn{}
	}
	its := t.of[id]
	if its == nil {
		its = &turn{}
		t.of[id] = its
	}
	its.users++
	t.mu.Unlock()
	if alone {
		its.Lock()
	} else {
		its.RLock()
	}
	return func() {
		if alone {
			its.Unlock()
		} else {
			its.RUnlock()
		}
		t.mu.Lock()
		defer t.mu.Unlock()
		if its.users--; its.users == 0 {
			delete(t.of, id)
		}
	}
}
