package session

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// renewedAtOnce is how many heads one transaction makes anew.
const renewedAtOnce = 64

// renewHeads makes every head anew where the file's are of an older edition of the
// procedure: the first page then says what the sessions say. A file of a newer edition is
// ErrNewer. Where the program dies on the way, the next start does it again.
func renewHeads(db *bolt.DB) error {
	edition, err := readEdition(db)
	switch {
	case err != nil:
		return err
	case edition > steps.Edition():
		return ErrNewer
	case edition == steps.Edition():
		return nil
	}
	for after := []byte{}; after != nil; {
		err := db.Update(func(tx *bolt.Tx) (err error) {
			after, err = renewSome(tx, after)
			return err
		})
		if err != nil {
			return err
		}
	}
	return db.Update(func(tx *bolt.Tx) error { return putEdition(tx, steps.Edition()) })
}

// renewSome makes the heads of some sessions anew, after one of them in the order of ids;
// it returns the last of them, nil when none is left.
func renewSome(tx *bolt.Tx, after []byte) ([]byte, error) {
	c := tx.Bucket(bucketSessions).Cursor()
	id, _ := c.Seek(after)
	if id != nil && string(id) == string(after) {
		id, _ = c.Next()
	}
	var ids []string
	for ; id != nil && len(ids) < renewedAtOnce; id, _ = c.Next() {
		ids = append(ids, string(id))
	}
	if len(ids) == 0 {
		return nil, nil
	}
	for _, id := range ids {
		head, session, err := readHead(tx, id)
		if err != nil {
			return nil, err
		}
		l := &loadedSession{}
		if l.foldUpTo(head, session) != nil {
			continue // its page says what is wrong; the list shows it as it was
		}
		data, err := json.Marshal(head.after(l.work, head.Rev, head.Touched))
		if err == nil {
			err = session.Put(keyHead, sealed(keyHead, data))
		}
		if err != nil {
			return nil, fmt.Errorf("make the head of a session anew: %w", err)
		}
	}
	return []byte(ids[len(ids)-1]), nil
}

// readEdition is the edition that the heads in the file are of: the first, where none is
// kept.
func readEdition(db *bolt.DB) (edition int, err error) {
	err = db.View(func(tx *bolt.Tx) error {
		written, err := readSealed(tx.Bucket(bucketMeta), keyEdition)
		if err != nil || written == nil {
			edition = 1
			return err
		}
		if edition, err = strconv.Atoi(string(written)); err != nil || edition < 1 {
			return errors.Join(fmt.Errorf("the edition is %.20q: %w", written, ErrDamaged), err)
		}
		return nil
	})
	return edition, err
}

func putEdition(tx *bolt.Tx, edition int) error {
	return tx.Bucket(bucketMeta).Put(keyEdition, sealed(keyEdition, []byte(strconv.Itoa(edition))))
}
