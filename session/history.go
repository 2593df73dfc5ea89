package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// History is every op of a session in order, with its revision and time.
func (s *Store) History(id string) (entries []steps.Entry, err error) {
	err = s.viewOpen(id, func(_ Head, session *bolt.Bucket) error {
		return eachEntry(session, 0, func(e steps.Entry) error {
			entries = append(entries, e)
			return nil
		})
	})
	return entries, err
}

// Lately calls see for the entries of a session from the newest back, until see says that it is
// enough, and for so many at the most. No others are read.
func (s *Store) Lately(id string, most int, see func(steps.Entry) (enough bool)) error {
	return s.viewOpen(id, func(_ Head, session *bolt.Bucket) error {
		c := session.Bucket(bucketOps).Cursor()
		for key, data := c.Last(); key != nil && most > 0; key, data = c.Prev() {
			row, err := unsealed(key, data)
			if err != nil {
				return err
			}
			var e steps.Entry
			if err := json.Unmarshal(row, &e); err != nil {
				return fmt.Errorf("an op of a session: %w", err)
			}
			if most--; see(e) {
				return nil
			}
		}
		return nil
	})
}

// Begun is when the first op of a session was taken.
func (s *Store) Begun(id string) (at time.Time, err error) {
	err = s.viewOpen(id, func(_ Head, session *bolt.Bucket) error {
		return eachEntry(session, 0, func(e steps.Entry) error {
			at = e.At
			return errEnough
		})
	})
	return at, notEnough(err)
}

// HistoryTo writes {"history": [...]} with every op of a session as it stands, like ExportTo.
func (s *Store) HistoryTo(id string, to io.Writer) error {
	return s.writeOps(id, to, func(Head) ([]byte, error) { return []byte(`{"history":[`), nil })
}

const exportVersion = 1 // of the form of an exported session

// ExportTo writes one session whole as it stands, with its history, as JSON. Import reads it.
// The head in it is for people who look inside; what counts is the history. A history may have
// 16 MiB and its reader a slow network: it is read from the file piece by piece, each let go of
// before the next, and nothing of the file is held while it is written. Nothing is written
// before the first piece is read.
func (s *Store) ExportTo(id string, to io.Writer) error {
	return s.writeOps(id, to, func(head Head) ([]byte, error) {
		data, err := json.Marshal(head)
		return fmt.Appendf(nil, `{"cornerwise":%d,"session":%s,"history":[`, exportVersion, data), err
	})
}

// ExportWithPhotosTo is ExportTo with the photos of its fabrics, where it has any. They come before
// the history, so that who imports it has kept them by then.
func (s *Store) ExportWithPhotosTo(id string, to io.Writer) error {
	photos, err := s.photosOfSession(id)
	if err != nil {
		return err
	}
	if len(photos) == 0 {
		return s.ExportTo(id, to)
	}
	return s.writeOps(id, to, func(head Head) ([]byte, error) {
		data, err := json.Marshal(head)
		if err != nil {
			return nil, err
		}
		if _, err := fmt.Fprintf(to, `{"cornerwise":%d,"session":%s,"photos":[`, exportVersion, data); err != nil {
			return nil, err
		}
		return []byte(`],"history":[`), s.writePhotos(photos, to)
	})
}

// Export is what ExportTo writes, in memory.
func (s *Store) Export(id string) ([]byte, error) {
	var b bytes.Buffer
	err := s.ExportTo(id, &b)
	return b.Bytes(), err
}

// writeOps writes what comes before the ops, those in one list, and the end of both.
func (s *Store) writeOps(id string, to io.Writer, before func(Head) ([]byte, error)) error {
	var piece []byte
	err := s.pieces(id, func(head Head, rows [][]byte) (err error) {
		if piece == nil {
			if piece, err = before(head); err != nil {
				return err
			}
		} else {
			piece = append(piece[:0], ',')
		}
		_, err = to.Write(append(piece, bytes.Join(rows, []byte{','})...))
		return err
	})
	if err == nil {
		_, err = to.Write([]byte("]}"))
	}
	return err
}

// pieceSize is how many bytes of ops are read at a time; the last one may go beyond it.
const pieceSize = 64 << 10

// pieces calls each with the ops of a session as JSON, up to those that it has at the first
// call. Each may take long.
func (s *Store) pieces(id string, each func(first Head, rows [][]byte) error) error {
	var first Head
	for after := int64(0); first.ID == "" || after < first.Rev; {
		var rows [][]byte
		err := s.viewOpen(id, func(head Head, session *bolt.Bucket) error {
			if first.ID == "" {
				first = head
			}
			size := 0
			return eachRaw(session, after, func(row []byte) error {
				if size > pieceSize || after == first.Rev {
					return errEnough
				}
				rows = append(rows, bytes.Clone(row))
				size += len(row)
				after++
				return nil
			})
		})
		if err = notEnough(err); err == nil && len(rows) == 0 {
			err = fmt.Errorf("a session has %d ops on disk, where its head says %d", after, first.Rev)
		}
		if err == nil {
			err = each(first, rows)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// errEnough ends a look at ops before the last.
var errEnough = errors.New("enough")

func notEnough(err error) error {
	if errors.Is(err, errEnough) {
		return nil
	}
	return err
}

// viewOpen looks at a session that is not in the bin.
func (s *Store) viewOpen(id string, see func(Head, *bolt.Bucket) error) error {
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
