package session

import bolt "go.etcd.io/bbolt"

// MarkAll has a bookmark kept after each op, however short the history is.
func (s *Store) MarkAll() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.owedAtMost = -1
}

// MarkNone has no bookmark kept, however slow the machine is.
func (s *Store) MarkNone() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.owedAtMost = 1 << 62
}

// BookmarkedAt is the revision of a session's bookmark, 0 where none counts.
func (s *Store) BookmarkedAt(id string) (rev int64) {
	_ = s.view("read", func(tx *bolt.Tx) error {
		if b, ok := readBookmark(tx, id); ok {
			rev = b.rev
		}
		return nil
	})
	return rev
}

var (
	Sealed   = sealed
	Unsealed = unsealed
)
