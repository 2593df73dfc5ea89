package session

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// A Head is what the list of sessions shows.
type Head struct {
	ID      string    `json:"id"`
	Title   string    `json:"title"`
	Rev     int64     `json:"rev"`
	Done    int       `json:"done"` // ticks
	Total   int       `json:"total"`
	Stage   string    `json:"stage"`   // the id of the stage of here
	Touched time.Time `json:"touched"` // the time of the last op
	Binned  time.Time `json:"binned,omitzero"`

	// Last is the last act in words, and its time: what undo would take back. Next is the act
	// that comes next. Heads of before have none until their session's next op.
	Last   string    `json:"last,omitempty"`
	LastAt time.Time `json:"lastAt,omitzero"`
	Next   string    `json:"next,omitempty"`

	// Named is the first revision from which on entries tell their device, and one without a name
	// is of this computer; 0: there is none yet. Of those before, from an older program or another
	// computer, nobody knows.
	Named int64 `json:"named,omitempty"`
}

// maxTold is how many characters of an act a head holds.
const maxTold = 120

// A Snapshot is one session at one revision.
type Snapshot struct {
	Head
	Work *steps.Work
}

// after is the head once an op has made the work what it is.
func (h Head) after(work *steps.Work, rev int64, at time.Time) Head {
	h.Rev, h.Touched = rev, at
	h.Title = work.Plan.Title
	h.Done, h.Total = work.Progress()
	if stage, _ := work.Step(work.Here); stage != nil {
		h.Stage = stage.ID
	}
	h.Last, h.LastAt, h.Next = "", time.Time{}, ""
	if last := work.Last; last != nil {
		h.Last, h.LastAt = briefly(last.Text), last.At
	}
	if step, t := work.Act(); t != nil {
		h.Next = briefly(step.At(t))
	}
	return h
}

func briefly(act string) string {
	if letters := []rune(act); len(letters) > maxTold {
		return string(letters[:maxTold-1]) + "…"
	}
	return act
}

// time is the clock as a session keeps it: it never runs backwards there.
func (h Head) time(clock time.Time) time.Time {
	at := clock.UTC().Truncate(time.Millisecond)
	if at.Before(h.Touched) {
		return h.Touched
	}
	return at
}

// index is the bucket that lists the session, under key.
func (h Head) index(tx *bolt.Tx) *bolt.Bucket {
	if h.Binned.IsZero() {
		return tx.Bucket(bucketRecent)
	}
	return tx.Bucket(bucketBin)
}

func (h Head) key() []byte {
	latestFirst := ^uint64(h.Touched.UnixMilli())
	return append(binary.BigEndian.AppendUint64(nil, latestFirst), h.ID...)
}

func idOfKey(key []byte) string { return string(key[8:]) }

// Head is the head of a session, in the bin or not.
func (s *Store) Head(id string) (head Head, err error) {
	err = s.view("read", func(tx *bolt.Tx) error {
		head, _, err = readHead(tx, id)
		return err
	})
	return head, err
}

// readHead is the head of a session, in the bin or not, and the session's bucket.
func readHead(tx *bolt.Tx, id string) (Head, *bolt.Bucket, error) {
	b := tx.Bucket(bucketSessions).Bucket([]byte(id))
	if b == nil {
		return Head{}, nil, ErrNotFound
	}
	data, err := readSealed(b, keyHead)
	if err != nil {
		return Head{}, nil, err
	}
	var h Head
	if err := json.Unmarshal(data, &h); err != nil {
		return Head{}, nil, fmt.Errorf("the head of a session: %w", err)
	}
	return h, b, nil
}
