package session

import (
	"fmt"
	"strconv"

	bolt "go.etcd.io/bbolt"
)

var (
	bucketMeta      = []byte("meta")
	bucketSessions  = []byte("sessions")
	bucketRecent    = []byte("recent")
	bucketBin       = []byte("bin")
	bucketOps       = []byte("ops")
	bucketSeen      = []byte("seen")
	bucketDevices   = []byte("devices")
	bucketBookmarks = []byte("bookmarks") // made with the first
	bucketPhotos    = []byte("photos")
	bucketPacked    = []byte("packed") // in a backup that is carried off

	keyVersion = []byte("version")
	keySealed  = []byte("sealed")
	keyHead    = []byte("head")
	keyEpoch   = []byte("past") // its name on the wire too
	keyEdition = []byte("edition")
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
	func(tx *bolt.Tx) error {
		for _, name := range [][]byte{bucketSessions, bucketRecent, bucketBin} {
			if err := sealAll(tx.Bucket(name)); err != nil {
				return err
			}
		}
		return nil
	},
	func(tx *bolt.Tx) error {
		// Before, the first device made the bucket.
		devices, err := tx.CreateBucketIfNotExists(bucketDevices)
		if err != nil {
			return err
		}
		return sealAll(devices)
	},
	// From here on an op may do several ticks, and a measure its own. A program of before would
	// read such an op and do none of them.
	func(*bolt.Tx) error { return nil },
	// From here on a plan may say how its fabric is printed, and show a photo of it. A program of
	// before could not read such a plan.
	func(tx *bolt.Tx) error {
		_, err := tx.CreateBucketIfNotExists(bucketPhotos)
		return err
	},
}

// The first versions whose records are sealed, and whose devices are.
const (
	sealedFrom        = 2
	devicesSealedFrom = 3
)

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
		return putVersion(tx, len(migrations))
	})
}

// putVersion writes the version twice: bare, as every program before and after can
// read it, and sealed, so that a damaged one is not taken for a newer program's.
func putVersion(tx *bolt.Tx, version int) error {
	written := []byte(strconv.Itoa(version))
	meta := tx.Bucket(bucketMeta)
	if err := meta.Put(keyVersion, written); err != nil {
		return err
	}
	return meta.Put(keySealed, sealed(keySealed, written))
}

// readVersion is the version that the two records of meta tell, each nil where
// there is none; 0 when the file was just made.
func readVersion(written, kept []byte) (int, error) {
	if written == nil && kept == nil {
		return 0, nil
	}
	version, err := strconv.Atoi(string(written))
	if err != nil || version < 1 {
		return 0, fmt.Errorf("the version is %.20q: %w", written, ErrDamaged)
	}
	if kept == nil {
		if version >= sealedFrom && version <= len(migrations) {
			return 0, fmt.Errorf("the version %d has no seal: %w", version, ErrDamaged)
		}
		return version, nil
	}
	again, err := unsealed(keySealed, kept)
	if err != nil {
		return 0, err
	}
	if string(again) != string(written) {
		return 0, fmt.Errorf("the version is %.20q and %.20q: %w", written, again, ErrDamaged)
	}
	return version, nil
}

func versionOf(db *bolt.DB) (version int, err error) {
	err = db.View(func(tx *bolt.Tx) error {
		meta := tx.Bucket(bucketMeta)
		if meta == nil {
			return ErrForeign
		}
		version, err = readVersion(meta.Get(keyVersion), meta.Get(keySealed))
		return err
	})
	return version, err
}
