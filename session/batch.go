package session

import (
	"cmp"
	"encoding/json"
	"errors"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/steps"
)

// A batch is what one transaction does. err is the first fault of the file: it
// undoes all of it, where a request's own error undoes nothing.
type batch struct {
	store  *Store
	tx     *bolt.Tx
	drafts map[string]*draft
	wrote  bool
	err    error

	account *Account // of the request under way; nil for the owner's
	charges []charge
	by      string // the device that asked for it; "" for the computer that serves
}

// A draft is a session as the batch has it so far; nobody else sees it before the
// commit.
type draft struct {
	kept   Head // as the file's index has it; zero for a new session
	head   Head
	work   *steps.Work // nil until it is asked for
	bucket *bolt.Bucket
	events []Event
	took   time.Duration // to reckon its ops
}

// An answer is what an op was told, kept for when it is sent again.
type answer struct {
	Rev     int64          `json:"rev,omitempty"`
	Refusal *steps.Refusal `json:"refusal,omitempty"`
}

// readAnswer is what an op of a session was told; nil where it was not seen.
func readAnswer(session *bolt.Bucket, op string) (a *answer, err error) {
	data, err := readSealed(session.Bucket(bucketSeen), []byte(op))
	if err == nil && data != nil {
		err = json.Unmarshal(data, &a)
	}
	return a, err
}

// told is the answer as it was given, where it could be read.
func (a *answer) told(err error) (int64, error) {
	switch {
	case err != nil:
		return 0, err
	case a.Refusal != nil:
		return 0, a.Refusal
	}
	return a.Rev, nil
}

// put keeps a value under its seal.
func (b *batch) put(bucket *bolt.Bucket, key, value []byte) {
	b.putKept(bucket, key, sealed(key, value))
}

func (b *batch) putKept(bucket *bolt.Bucket, key, kept []byte) {
	if b.err == nil {
		b.wrote, b.err = true, bucket.Put(key, kept)
	}
}

func (b *batch) putJSON(bucket *bolt.Bucket, key []byte, value any) {
	data, err := json.Marshal(value)
	b.err = cmp.Or(b.err, err)
	b.put(bucket, key, data)
}

func (b *batch) delete(bucket *bolt.Bucket, key []byte) {
	if b.err == nil {
		b.wrote, b.err = true, bucket.Delete(key)
	}
}

// draft is a session, in the bin or not.
func (b *batch) draft(id string) (*draft, error) {
	if d := b.drafts[id]; d != nil {
		return d, nil
	}
	head, bucket, err := readHead(b.tx, id)
	if err != nil {
		return nil, err
	}
	d := &draft{kept: head, head: head, bucket: bucket}
	b.drafts[id] = d
	return d, nil
}

// open is a session that can be worked on.
func (b *batch) open(id string) (*draft, error) {
	d, err := b.draft(id)
	if err != nil {
		return nil, err
	}
	if !d.head.Binned.IsZero() {
		return nil, ErrBinned
	}
	if d.work == nil {
		if d.work = b.store.loadedWork(id); d.work == nil {
			// Since its op was pinned it was binned and taken out again.
			var l loadedSession
			if err := l.foldUpTo(d.head, d.bucket); err != nil {
				return nil, err
			}
			d.work = l.work
		}
	}
	return d, nil
}

// do takes one op. ready is what it makes of the session, where that was reckoned before.
func (b *batch) do(id string, op steps.Op, ready reckoned) (int64, error) {
	d, err := b.open(id)
	if err != nil {
		return 0, err
	}
	if a, err := readAnswer(d.bucket, op.ID); a != nil || err != nil {
		return a.told(err)
	}
	if !ready.is(d.head, d.work) {
		ready = reckon(d.head, d.work, op, b.by, b.store.now())
	}
	if err := ready.err; err != nil {
		// What is wrong in itself is wrong again next time; what clashed may not be.
		var refusal *steps.Refusal
		if errors.As(err, &refusal) && refusal.Clash() {
			data, err := json.Marshal(answer{Refusal: refusal})
			if err == nil {
				err = b.charge(Added{Bytes: int64(len(op.ID) + len(data))})
			}
			if err != nil {
				return 0, err
			}
			b.put(d.bucket.Bucket(bucketSeen), []byte(op.ID), data)
		}
		return 0, err
	}
	e := ready.entry
	kept, err := newRow(e)
	if err == nil {
		err = b.charge(kept.adds())
	}
	if err != nil {
		return 0, err
	}
	d.put(b, kept)
	if op.Kind == steps.KindPlan {
		b.putPhotos(id, photosOf(ready.next.Plan))
	}
	d.work, d.head = ready.next, d.head.after(ready.next, e.Rev, e.At)
	d.head.Named = cmp.Or(d.head.Named, e.Rev)
	d.took += ready.took
	d.events = append(d.events, newEvent(e, ready.change))
	return e.Rev, nil
}

func (d *draft) put(b *batch, r row) {
	d.putOp(b, r)
	d.putAnswer(b, r)
}

func (d *draft) putOp(b *batch, r row) {
	ops := d.bucket.Bucket(bucketOps)
	ops.FillPercent = 0.9 // only ever appended to
	b.putKept(ops, revKey(r.rev), r.kept)
}

func (d *draft) putAnswer(b *batch, r row) {
	b.putJSON(d.bucket.Bucket(bucketSeen), []byte(r.op), answer{Rev: r.rev})
}

// heads writes the head of each session once, however many ops it had, and moves
// it in the list.
func (b *batch) heads() {
	for _, d := range b.drafts {
		if d.head == d.kept {
			continue
		}
		b.putJSON(d.bucket, keyHead, d.head)
		if d.kept.ID != "" {
			b.delete(d.kept.index(b.tx), d.kept.key())
		}
		b.put(d.head.index(b.tx), d.head.key(), nil)
	}
}
