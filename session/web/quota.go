package web

import "sync"

// A quota is how many each key may hold, and all together, and how many they do.
type quota struct {
	all, each int

	mu   sync.Mutex
	held map[string]int
	sum  int
}

func newQuota(all, each int) *quota { return &quota{all: all, each: each, held: map[string]int{}} }

// take is false where the key, or all, hold as much as they may.
func (q *quota) take(key string) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.sum >= q.all || q.held[key] >= q.each {
		return false
	}
	q.held[key]++
	q.sum++
	return true
}

func (q *quota) give(key string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.sum--
	if q.held[key]--; q.held[key] == 0 {
		delete(q.held, key)
	}
}
