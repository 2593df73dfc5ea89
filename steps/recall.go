package steps

import (
	"fmt"
	"maps"
	"strings"
	"time"
)

// Resume begins work from the first entry of a history, under the edition that it was
// taken under. The error is a *Refusal: the plan can't be read.
func Resume(first Entry) (*Work, error) {
	return beginUnder(first.edition(1), first.Plan)
}

// Recall is the work after an op that was taken once, and what it made new. It refuses
// nothing: needs, looks and limits are asked of a new op only. What today's tables do not
// have any more counts for what stands for it now (edition.go); what today's program can't
// make of it at all is told in Gone.
func (w *Work) Recall(e Entry) (*Work, Change) {
	w = w.under(e.edition(w.edition))
	if e.Kind == KindTick && e.Done == nil {
		return w, Change{Last: w.Last.told()}
	}
	next, text, err := w.take(e.Op)
	if err != nil {
		next, text = w.keepOnly(e.Op, err)
	}
	next = w.follow(next, e.Op, e.At, text)
	return next, changed(w, next)
}

// Entry is a new op as it is to be kept: with its revision and time, the edition where
// that is another than the last op's, and a tick with the number that it is done to.
func (w *Work) Entry(op Op, rev int64, at time.Time) Entry {
	e := Entry{Rev: rev, At: at, Op: op}
	if w.edition != Edition() {
		e.Edition = Edition()
	}
	if op.Kind != KindTick || op.Done == nil || !*op.Done {
		return e
	}
	if _, t := w.Tick(op.Tick); t != nil && op.Number == "" {
		e.Number = t.Number
	}
	numbers := maps.Clone(op.Numbers)
	for _, id := range op.Ticks {
		if _, t := w.Tick(id); t != nil && t.Number != "" && op.Numbers[id] == "" {
			put(&numbers, id, t.Number)
		}
	}
	e.Numbers = numbers
	return e
}

// As is the entry as it was taken by the work after it: a measure with the tick that it did.
func (e Entry) As(next *Work) Entry {
	if e.Kind == KindMeasure && next != nil && next.Last != nil && next.Last.Op.ID == e.ID {
		e.Ticks, e.Numbers = next.Last.Op.Ticks, next.Last.Op.Numbers
	}
	return e
}

// FirstEntry is the op that begins a session, as it is to be kept.
func FirstEntry(op Op, at time.Time) Entry {
	return Entry{Rev: 1, At: at, Edition: Edition(), Op: op}
}

// edition is the one that the entry was taken under, after one under before. Entries from
// before there were editions name none: they are of the first.
func (e Entry) edition(before int) int { return max(e.Edition, before) }

// Had refuses a tick that no edition has ever had, for histories that come from elsewhere.
func (op Op) Had() error {
	ids := op.Ticks
	if op.Kind == KindRedo || op.Kind == KindLater || op.Kind == KindTick && len(ids) == 0 {
		ids = []string{op.Tick}
	}
	for _, id := range ids {
		if !had(id) {
			return unknown(UnknownTick, "tick", id)
		}
	}
	return nil
}

// keepOnly is the work after an op that was taken once and that this program can't do:
// as it was, and Gone tells why.
func (w *Work) keepOnly(op Op, err error) (*Work, string) {
	c := *w
	var f Fate
	switch op.Kind {
	case KindMeasure:
		id := renamed(op.Measure, measuresOf)
		f = Fate{Title: fmt.Sprintf("A measure: %s, %.40s", lower(w.label(id)), op.Value),
			Why: "It was entered, and this program can't build on it any more: " + why(err)}
	case KindMend:
		// Those after it keep their numbers.
		c.mends = append(c.mends[:len(c.mends):len(c.mends)], &mend{n: w.nextMend()})
		f = Fate{Title: "A way out",
			Why: "It was taken, and this program can't tell its steps any more: " + why(err)}
	default:
		f = Fate{Title: "A change of the plan",
			Why: "It was made, and this program can't take it any more: " + why(err)}
	}
	c.Gone = append(c.Gone[:len(c.Gone):len(c.Gone)], f)
	return &c, f.Title
}

// why is a refusal in words, with the field of the plan that it is about.
func why(err error) string {
	if r, ok := err.(*Refusal); ok && len(r.Faults) > 0 {
		return fmt.Sprintf("%s %s.", r.Field, strings.TrimSuffix(r.Message, "."))
	}
	return err.Error()
}
