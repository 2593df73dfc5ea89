package session

import (
	"fmt"
	"strconv"

	bolt "go.etcd.io/bbolt"
)

var (
	bucketMeta     = []byte("meta")
	bucketSessions = []byte("sessions")
	bucketRecent   = []byte("recent")
	bucketBin      = []byte("bin")
	bucketOps      = []byte("ops")
	bucketSeen     = []byte("seen")

	keyVersion = []byte("version")
	keyHead    = []byte("head")
)

// migrations take a file from each version to the next, 0 being an empty one.
// Their number is the version that this program writes. Only ever append.
var migrations = []func(*bolt.Tx) error{
	func(tx *bolt.Tx) error {
		for _, name := range [][]byte{bucketSessions, bucketRecent, bucketBin} {
			if _, err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		return nil
	},
}

// migrate runs the migrations that the file has not had, all or none.
func migrate(db *bolt.DB) error {
	version, err := versionOf(db)
	if err != nil || version == len(migrations) {
		return err
	}
	if version > len(migrations) {
		return ErrNewer
	}
	return db.Update(func(tx *bolt.Tx) error {
		for n := version; n < len(migrations); n++ {
			if err := migrations[n](tx); err != nil {
				return fmt.Errorf("migrate to version %d: %w", n+1, err)
			}
		}
		return tx.Bucket(bucketMeta).Put(keyVersion, []byte(strconv.Itoa(len(migrations))))
	})
}

func versionOf(db *bolt.DB) (version int, err error) {
	err = db.View(func(tx *bolt.Tx) error {
		meta := tx.Bucket(bucketMeta)
		if meta == nil {
			return ErrForeign
		}
		written := meta.Get(keyVersion)
		if written == nil {
			return nil // just made
		}
		version, err = strconv.Atoi(string(written))
		if err != nil || version < 1 {
			return ErrForeign
		}
		return nil
	})
	return version, err
}
