package session

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"strings"

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
	first := steps.FirstEntry(op, Head{}.time(s.now()))
	return s.make(ctx, work, []steps.Entry{first})
}

// make keeps a session whose entries have made the work.
func (s *Store) make(ctx context.Context, work *steps.Work, entries []steps.Entry) (Head, error) {
	last := entries[len(entries)-1]
	head := Head{ID: newID()}.after(work, last.Rev, last.At)
	rows := make([][]byte, len(entries))
	for i, e := range entries {
		var err error
		if rows[i], err = json.Marshal(e); err != nil {
			return Head{}, fmt.Errorf("write op %d: %w", e.Rev, err)
		}
	}
	err := s.change(ctx, func(b *batch) error {
		d := &draft{head: head, work: work}
		if d.bucket, b.err = b.tx.Bucket(bucketSessions).CreateBucket([]byte(head.ID)); b.err != nil {
			return b.err
		}
		for _, name := range [][]byte{bucketOps, bucketSeen} {
			if _, b.err = d.bucket.CreateBucket(name); b.err != nil {
				return b.err
			}
		}
		for i, e := range entries {
			d.put(b, e, rows[i])
		}
		b.drafts[head.ID] = d
		return nil
	})
	if err != nil {
		return Head{}, err
	}
	return head, nil
}
