package session

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// owedAtMost is how long the ops since a session's bookmark may take to go through, before it
// gets another.
const owedAtMost = 100 * time.Millisecond

// A bookmark is the work of a session at a revision, so that a long history is not gone
// through from its start. A store without any is as good. One counts for the program that
// kept it only, to the byte: another may reckon otherwise.
type bookmark struct {
	program [sha256.Size]byte
	rev     int64
	work    []byte // steps.Bookmark
}

// program is the SHA-256 of the program that runs; zero where it can't be read, and then no
// bookmark is kept or counts.
var program = sync.OnceValue(func() (sum [sha256.Size]byte) {
	path, err := os.Executable()
	if runtime.GOOS == "linux" {
		path = "/proc/self/exe" // itself, also where another was put in its place
	}
	if err != nil {
		return sum
	}
	file, err := os.Open(path)
	if err != nil {
		return sum
	}
	defer file.Close()
	all := sha256.New()
	if _, err := io.Copy(all, file); err != nil {
		return sum
	}
	return [sha256.Size]byte(all.Sum(nil))
})

func (b bookmark) record() []byte {
	data := binary.BigEndian.AppendUint64(b.program[:], uint64(b.rev))
	return append(data, b.work...)
}

// readBookmark is the session's; none where there is none that counts.
func readBookmark(tx *bolt.Tx, id string) (b bookmark, ok bool) {
	bucket := tx.Bucket(bucketBookmarks)
	if bucket == nil {
		return b, false
	}
	data, err := readSealed(bucket, []byte(id))
	if err != nil || len(data) < len(b.program)+8 {
		return b, false
	}
	b.program = [sha256.Size]byte(data)
	b.rev = int64(binary.BigEndian.Uint64(data[len(b.program):]))
	b.work = data[len(b.program)+8:]
	return b, b.program == program() && b.program != [sha256.Size]byte{}
}

// owe counts time that opening the session takes beyond its bookmark. It is called with mu
// held.
func (s *Store) owe(id string, l *loadedSession, more time.Duration) {
	if l.owed += more; l.owed <= s.owedAtMost {
		return
	}
	select {
	case s.toMark <- id:
		l.owed = 0
	default: // after its next op
	}
}

// keepBookmarks keeps those that are asked for, until Close.
func (s *Store) keepBookmarks() {
	defer close(s.marked)
	s.markAnew()
	for {
		select {
		case <-s.stop:
			return
		case id := <-s.toMark:
			s.mu.Lock()
			l := s.loaded[id]
			var at loadedSession
			if l != nil {
				at.head, at.work = l.head, l.work
			}
			s.mu.Unlock()
			if at.work != nil {
				s.mark(at)
			}
		}
	}
}

// markAnew gives a bookmark of this program to each session that has one of another: the
// first who opens it need not wait. A session that can't be read says so when it is opened.
func (s *Store) markAnew() {
	var ids []string
	_ = s.view("read", func(tx *bolt.Tx) error {
		bucket := tx.Bucket(bucketBookmarks)
		if bucket == nil {
			return nil
		}
		return bucket.ForEach(func(id, _ []byte) error {
			if _, ok := readBookmark(tx, string(id)); !ok {
				ids = append(ids, string(id))
			}
			return nil
		})
	})
	for _, id := range ids {
		var l loadedSession
		if s.catchUp(&l, id) == nil {
			s.mark(l)
		}
	}
}

// mark keeps a bookmark of a session. Where it can't be, the session opens as it did before.
func (s *Store) mark(l loadedSession) {
	work, err := bookmarkOf(l.work)
	if err == nil && program() != [sha256.Size]byte{} {
		s.putBookmark(l.head.ID, bookmark{program(), l.head.Rev, work}.record())
	}
}

// putBookmark writes to the bucket of bookmarks, where that leaves space for ops.
func (s *Store) putBookmark(id string, record []byte) {
	free, err := space(filepath.Dir(s.db.Path()))
	if err == nil && free < spaceForOps+2*uint64(len(record)) {
		return
	}
	// An error is told to the next who writes ops.
	_ = s.change(context.Background(), func(b *batch) error {
		bucket, err := b.tx.CreateBucketIfNotExists(bucketBookmarks)
		if err != nil {
			b.err = err
			return err
		}
		b.put(bucket, []byte(id), record)
		return b.err
	})
}

// spaceForOps is what the disk must have left for ops, beside a bookmark.
const spaceForOps = 1 << 20

// bookmarkOf and reopen are those of steps, with a panic there made an error.

func bookmarkOf(work *steps.Work) (kept []byte, err error) {
	defer caught(&err)
	return work.Bookmark()
}

func reopen(kept []byte) (work *steps.Work, err error) {
	defer caught(&err)
	return steps.Reopen(kept)
}
