package session

import (
	"encoding/json"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// History is every op of a session in order, with its revision and time.
func (s *Store) History(id string) (entries []steps.Entry, err error) {
	err = s.read(id, func(_ Head, session *bolt.Bucket) error {
		return eachEntry(session, 0, func(e steps.Entry) error {
			entries = append(entries, e)
			return nil
		})
	})
	return entries, err
}

const exportVersion = 1 // of the form of an exported session

// Export is one session whole, with its history, as JSON. Import reads it. The head in it is
// for people who look inside; what counts is the history.
func (s *Store) Export(id string) (data []byte, err error) {
	err = s.read(id, func(head Head, session *bolt.Bucket) error {
		rows := []json.RawMessage{}
		if err := eachRaw(session, 0, func(row []byte) error {
			rows = append(rows, row)
			return nil
		}); err != nil {
			return err
		}
		data, err = json.Marshal(struct {
			Cornerwise int               `json:"cornerwise"`
			Session    Head              `json:"session"`
			History    []json.RawMessage `json:"history"`
		}{exportVersion, head, rows})
		return err
	})
	return data, err
}

// read looks at a session that is not in the bin.
func (s *Store) read(id string, see func(Head, *bolt.Bucket) error) error {
	return s.view("read", func(tx *bolt.Tx) error {
		head, session, err := readHead(tx, id)
		if err != nil {
			return err
		}
		if !head.Binned.IsZero() {
			return ErrBinned
		}
		return see(head, session)
	})
}
