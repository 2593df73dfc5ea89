package session

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"cornerwise/calc"
	"cornerwise/steps"
)

// newID is 26 letters and digits that nobody guesses: 128 bits and more.
func newID() string { return strings.ToLower(rand.Text()) }

// Create starts a session on a plan in JSON; a plan that can't be made is a *steps.Refusal.
func (s *Store) Create(ctx context.Context, plan json.RawMessage) (Head, error) {
	op := asKept(steps.Op{ID: newID(), Kind: steps.KindPlan, Plan: plan})
	work, err := begin(op.Plan)
	if err != nil {
		return Head{}, err
	}
	if err := s.hasPhotos(work.Plan, calc.Plan{}); err != nil {
		return Head{}, err
	}
	first := steps.FirstEntry(op, Head{}.time(s.now()))
	first.By = namedIn(ctx)
	only, err := newRow(first)
	if err != nil {
		return Head{}, err
	}
	return s.make(ctx, Head{Named: first.Rev}, work, []row{only}, first.At, 0, photosOf(work.Plan), nil)
}

// A row is an op as it is kept.
type row struct {
	rev  int64
	op   string // its id
	kept []byte // steps.Entry, sealed
}

func newRow(e steps.Entry) (row, error) {
	data, err := json.Marshal(e)
	if err != nil {
		return row{}, fmt.Errorf("write op %d: %w", e.Rev, err)
	}
	return row{e.Rev, e.ID, sealed(revKey(e.Rev), data)}, nil
}

// adds is what it takes in the file, with the answer that is kept of it.
func (r row) adds() Added { return Added{Bytes: int64(len(r.kept) + len(r.op) + rowAround)} }

// rowAround is a key, and an answer under its seal.
const rowAround = 32

// make keeps a session whose ops, the last of a time, have made the work, which took so long, and
// named the photos. with is what else the same transaction does; nil for nothing.
func (s *Store) make(
	ctx context.Context, head Head, work *steps.Work, rows []row, last time.Time, took time.Duration,
	photos []string, with func(*batch) error,
) (Head, error) {
	head.ID = newID()
	head = head.after(work, int64(len(rows)), last)
	adds := Added{Sessions: 1}
	for _, r := range rows {
		adds = adds.plus(r.adds())
	}
	byOp := answers(rows)
	err := s.change(ctx, func(b *batch) error {
		if err := b.charge(adds); err != nil {
			return err
		}
		if with != nil {
			if err := with(b); err != nil {
				return err
			}
		}
		d := &draft{head: head, work: work, took: took}
		if d.bucket, b.err = b.tx.Bucket(bucketSessions).CreateBucket([]byte(head.ID)); b.err != nil {
			return b.err
		}
		for _, name := range [][]byte{bucketOps, bucketSeen} {
			if _, b.err = d.bucket.CreateBucket(name); b.err != nil {
				return b.err
			}
		}
		for i, r := range rows {
			d.putOp(b, r)
			rows[i] = row{} // a long import is in memory once only
		}
		for _, r := range byOp {
			d.putAnswer(b, r)
		}
		b.putPhotos(head.ID, photos)
		b.drafts[head.ID] = d
		return nil
	})
	if err != nil {
		return Head{}, err
	}
	return head, nil
}

// answers are the rows without what is kept of them, in the order of their keys among the
// answers. bbolt makes room for each key that comes before others of the same transaction: in
// another order a long import kept the others from the disk twice as long.
func answers(rows []row) []row {
	all := make([]row, len(rows))
	for i, r := range rows {
		all[i] = row{rev: r.rev, op: r.op}
	}
	slices.SortFunc(all, func(a, b row) int { return strings.Compare(a.op, b.op) })
	return all
}
