package session

import (
	"crypto/rand"
	"errors"

	bolt "go.etcd.io/bbolt"
)

// Epoch names the epoch that the revisions count in: another after each Restore, for
// then a revision may be reached again by other ops. "" where nothing was restored.
// The file and the wire call it past.
func (s *Store) Epoch() string { return s.epoch }

// beginEpoch gives the store at path an epoch of its own.
func beginEpoch(path string) error {
	db, err := openBolt(path, false)
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bolt.Tx) error {
		return tx.Bucket(bucketMeta).Put(keyEpoch, sealed(keyEpoch, []byte(rand.Text())))
	})
	return errors.Join(err, db.Close())
}

// readEpoch is the epoch of a store. A damaged one is another: every device then
// reads its session afresh, and nothing is lost.
func readEpoch(db *bolt.DB) (epoch string, err error) {
	err = faultAsDamage(func() error {
		return db.View(func(tx *bolt.Tx) error {
			kept, err := readSealed(tx.Bucket(bucketMeta), keyEpoch)
			if epoch = string(kept); err != nil {
				epoch = rand.Text()
			}
			return nil
		})
	})
	return epoch, err
}
