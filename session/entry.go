package session

import (
	"encoding/binary"
	"encoding/json"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

func revKey(rev int64) []byte { return binary.BigEndian.AppendUint64(nil, uint64(rev)) }

// asKept is the op as it reads back from the file, so that a state made from what
// was sent is the state made from what is kept.
func asKept(op steps.Op) steps.Op {
	// What can't be written steps refuses.
	if op.Plan != nil {
		if plan, err := json.Marshal(op.Plan); err == nil {
			op.Plan = plan
		}
	}
	return op
}

// eachEntry calls see for the entries of a session after a revision, in order. A
// gap is an error.
func eachEntry(session *bolt.Bucket, after int64, see func(steps.Entry) error) error {
	return eachRaw(session, after, func(data []byte) error {
		after++
		var e steps.Entry
		if err := json.Unmarshal(data, &e); err != nil {
			return fmt.Errorf("op %d of a session: %w", after, err)
		}
		if e.Rev != after {
			return fmt.Errorf("op %d of a session is missing", after)
		}
		return see(e)
	})
}

// someEntries are the next ones after a revision; none at the end.
func someEntries(session *bolt.Bucket, after int64) (some []steps.Entry, err error) {
	err = eachEntry(session, after, func(e steps.Entry) error {
		if some = append(some, e); len(some) == readAtOnce {
			return errEnough
		}
		return nil
	})
	return some, notEnough(err)
}

func eachRaw(session *bolt.Bucket, after int64, see func([]byte) error) error {
	c := session.Bucket(bucketOps).Cursor()
	for key, data := c.Seek(revKey(after + 1)); key != nil; key, data = c.Next() {
		row, err := unsealed(key, data)
		if err == nil {
			err = see(row)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
