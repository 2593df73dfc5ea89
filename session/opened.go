package session

import (
	"fmt"
	"sync"
	"sync/atomic"

	bolt "go.etcd.io/bbolt"
)

// An openedFile is the store's file while it is open. Nobody reads from it what is not on
// the disk yet: bbolt shows a commit in its map before the disk has it, and after a loss of
// power its revision would be given to another op.
type openedFile struct {
	*bolt.DB

	// syncing is held by a commit until the disk has it, and by who reads while the read
	// begins; what a read sees does not change later.
	syncing sync.RWMutex
	stuck   atomic.Bool // for ever, after a commit that may be on the disk, or not
}

// View reads the file as the disk has it.
func (f *openedFile) View(see func(*bolt.Tx) error) error {
	tx, err := f.beginRead()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	return see(tx)
}

func (f *openedFile) beginRead() (*bolt.Tx, error) {
	f.syncing.RLock()
	defer f.syncing.RUnlock()
	if f.stuck.Load() {
		return nil, ErrStuck
	}
	return f.DB.Begin(false)
}

// beginWrite begins what commit ends, and Rollback.
func (f *openedFile) beginWrite() (*bolt.Tx, error) {
	if f.stuck.Load() {
		return nil, ErrStuck
	}
	return f.DB.Begin(true)
}

// commit returns once the disk has what the transaction wrote. After an error it has nothing
// of it, or, with ErrUnsure, nobody can know: then nothing more is read or written.
func (f *openedFile) commit(tx *bolt.Tx) error {
	f.syncing.Lock()
	defer f.syncing.Unlock()
	id := tx.ID()
	err := tx.Commit()
	if err == nil {
		return nil
	}
	if seen, readErr := f.DB.Begin(false); readErr == nil {
		defer seen.Rollback()
		if seen.ID() < id {
			return err // bbolt did not come as far as to write which pages count
		}
	}
	f.stuck.Store(true)
	return fmt.Errorf("%w: %w", err, ErrUnsure)
}
