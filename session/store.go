package session

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A Store holds all sessions in one bbolt file. It is safe for concurrent use.
type Store struct {
	db    *openedFile
	name  string // the file's, for errors
	found Report
	epoch string
	now   func() time.Time

	damage  atomic.Pointer[error]
	backing sync.Mutex           // one backup at a time
	photos  sync.Mutex           // files of photos are kept, or tidied
	renewed map[string]time.Time // of photos whose file can't be given its time; under photos

	turns    turns
	requests chan *request // to the committer, which alone writes
	stop     chan struct{} // closed by Close
	ended    chan struct{} // closed by the committer, when all that was queued is done
	toMark   chan string   // sessions that are to have a bookmark
	marked   chan struct{} // closed by who keeps them, at the end
	once     sync.Once

	// mu guards the rest. It is never locked inside a read of the file: a read may
	// wait for a write that waits for mu.
	mu      sync.Mutex
	closed  bool
	clock   uint64 // the number of uses so far of loaded sessions
	loaded  map[string]*loadedSession
	opening map[string]chan struct{} // sessions that are read from the file; closed when one is

	owedAtMost time.Duration // owedAtMost, and less in tests

	dropped uint64 // the number of sessions so far that were let go of or binned
}

// Open opens the store at path, and makes it and its folder where there is none.
// A store of an older program is backed up, then migrated. now is the clock. Errors
// are ErrInUse, ErrNewer, ErrForeign, ErrDamaged, ErrMissing, or the system's.
func Open(path string, now func() time.Time) (*Store, error) {
	db, found, err := openFile(path, now)
	if err != nil {
		return nil, err
	}
	epoch, err := readEpoch(db)
	if err != nil {
		return nil, errors.Join(fileError("open "+filepath.Base(path), err), db.Close())
	}
	s := &Store{
		db:       &openedFile{DB: db},
		epoch:    epoch,
		found:    found,
		name:     filepath.Base(path),
		now:      now,
		requests: make(chan *request),
		stop:     make(chan struct{}),
		ended:    make(chan struct{}),
		toMark:   make(chan string, 16),
		marked:   make(chan struct{}),
		renewed:  map[string]time.Time{},
		loaded:   map[string]*loadedSession{},
		opening:  map[string]chan struct{}{},

		owedAtMost: owedAtMost,
	}
	go s.run()
	go s.keepBookmarks()
	return s, nil
}

// Found is what the check found when the store was opened.
func (s *Store) Found() Report { return s.found }

// Close does what is queued, ends every watch and closes the file. It is safe
// to repeat.
func (s *Store) Close() error {
	s.once.Do(func() { close(s.stop) })
	<-s.ended
	<-s.marked
	s.mu.Lock()
	s.closed = true
	for _, l := range s.loaded {
		l.endLocked()
	}
	clear(s.loaded)
	s.mu.Unlock()
	return s.db.Close()
}

func (s *Store) view(deed string, see func(*bolt.Tx) error) error {
	return s.heard(fileError(deed+" "+s.name, faultAsDamage(func() error { return s.db.View(see) })))
}

// heard remembers an error that tells of damage.
func (s *Store) heard(err error) error {
	if errors.Is(err, ErrDamaged) || errors.Is(err, ErrUnsure) || errors.Is(err, ErrStuck) {
		s.damage.CompareAndSwap(nil, &err)
	}
	return err
}

// Health is the first damage that was met since the store was opened, nil when none was.
func (s *Store) Health() error {
	if damage := s.damage.Load(); damage != nil {
		return *damage
	}
	return nil
}

// faultAsDamage makes an error of what bbolt does on a file that was damaged while it is
// open: a panic, or a fault of memory where the file is mapped and no longer there.
func faultAsDamage(do func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%v: %w\n%s", p, ErrDamaged, debug.Stack())
		}
	}()
	return do()
}
