package session

import (
	"time"

	"cornerwise/steps"
)

// A reckoned is what an op makes of a session, not kept yet.
type reckoned struct {
	of     *steps.Work
	entry  steps.Entry
	next   *steps.Work
	change steps.Change
	took   time.Duration
	err    error // a *steps.Refusal, or a fault of the program
}

// reckon takes an op by a device, as devices are named.
func reckon(head Head, of *steps.Work, op steps.Op, by string, now time.Time) reckoned {
	r := reckoned{of: of, entry: of.Entry(op, head.Rev+1, head.time(now))}
	r.entry.By = by
	begun := time.Now()
	r.next, r.change, r.err = apply(of, r.entry)
	r.entry = r.entry.As(r.next)
	r.took = time.Since(begun)
	return r
}

// is tells whether it was reckoned for what the session is now.
func (r reckoned) is(head Head, work *steps.Work) bool {
	return r.of == work && r.entry.Rev == head.Rev+1
}

// TakesLong tells whether an op of the kind may take long to reckon.
func TakesLong(kind string) bool {
	switch kind {
	case steps.KindPlan, steps.KindMend, steps.KindMeasure, steps.KindRedo:
		return true
	}
	return false
}
