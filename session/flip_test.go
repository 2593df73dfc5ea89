package session

import (
	"context"
	"errors"
	"testing"

	bolt "go.etcd.io/bbolt"
)

// Damage that comes while the store is open: a bit of a record is flipped in the file,
// and what was in memory let go.
func TestFlippedRecordIsFoundWhenItIsRead(t *testing.T) {
	for _, c := range []struct {
		name   string
		bucket func(session *bolt.Bucket) *bolt.Bucket
		key    []byte
		call   func(s *Store, snap Snapshot) error
	}{
		{"an op", func(b *bolt.Bucket) *bolt.Bucket { return b.Bucket(bucketOps) }, revKey(2),
			func(s *Store, snap Snapshot) error { _, err := s.History(snap.ID); return err }},
		{"an op that the state is made of", func(b *bolt.Bucket) *bolt.Bucket { return b.Bucket(bucketOps) }, revKey(2),
			func(s *Store, snap Snapshot) error { _, err := s.Get(snap.ID); return err }},
		{"an answer", func(b *bolt.Bucket) *bolt.Bucket { return b.Bucket(bucketSeen) }, []byte("note"),
			func(s *Store, snap Snapshot) error {
				_, err := s.Do(context.Background(), snap.ID, noteOp("note", snap.Work, "again"))
				return err
			}},
		{"a head", func(b *bolt.Bucket) *bolt.Bucket { return b }, keyHead,
			func(s *Store, _ Snapshot) error { _, _, err := s.List(10, "", false); return err }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, snap := inside(t)
			if _, err := s.Do(context.Background(), snap.ID, noteOp("note", snap.Work, "thread 50")); err != nil {
				t.Fatal(err)
			}
			err := s.db.Update(func(tx *bolt.Tx) error {
				b := c.bucket(tx.Bucket(bucketSessions).Bucket([]byte(snap.ID)))
				kept := append([]byte(nil), b.Get(c.key)...)
				kept[len(kept)/2] ^= 1
				return b.Put(c.key, kept)
			})
			if err != nil {
				t.Fatal(err)
			}
			s.mu.Lock()
			clear(s.loaded)
			s.mu.Unlock()
			if err := c.call(s, snap); !errors.Is(err, ErrDamaged) {
				t.Errorf("the record was read: %v, want ErrDamaged", err)
			}
		})
	}
}

func TestVersionThatIsNotAsWrittenIsDamage(t *testing.T) {
	two, newer := sealed(keySealed, []byte("2")), sealed(keySealed, []byte("99"))
	for _, c := range []struct {
		name          string
		written, kept string
		version       int
		want          error
	}{
		{"a file just made", "", "", 0, nil},
		{"the first schema, which had no seals", "1", "", 1, nil},
		{"one with a seal", "2", string(two), 2, nil},
		{"a newer program's", "99", string(newer), 99, nil},
		{"a newer program's, which has no such seal", "99", "", 99, nil},
		{"a bit flipped in the bare one", "3", string(two), 0, ErrDamaged},
		{"a bit flipped in the sealed one", "2", string(two[:8]) + "3", 0, ErrDamaged},
		{"the bare one gone", "", string(two), 0, ErrDamaged},
		{"the sealed one gone", "2", "", 0, ErrDamaged},
		{"no number", "two", string(two), 0, ErrDamaged},
	} {
		some := func(s string) []byte {
			if s == "" {
				return nil
			}
			return []byte(s)
		}
		version, err := readVersion(some(c.written), some(c.kept))
		if version != c.version || !errors.Is(err, c.want) || c.want == nil && err != nil {
			t.Errorf("%s: readVersion(%q, %q) = %d, %v, want %d, %v", c.name, c.written, c.kept, version, err, c.version, c.want)
		}
	}
}
