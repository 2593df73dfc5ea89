package steps

import (
	"cmp"
	"slices"
	"time"
)

// Apply is the work after a new op, taken at a time, and what it made new. The error
// is a *Refusal, and the work is as before.
func (w *Work) Apply(op Op, at time.Time) (*Work, Change, error) {
	if err := cmp.Or(op.Check(), op.checkKind()); err != nil {
		return nil, Change{}, err
	}
	w = w.under(Edition())
	if err := w.ask(op); err != nil {
		return nil, Change{}, err
	}
	next, text, err := w.take(op)
	if err == nil && op.Kind == KindMeasure && op.Done != nil {
		if op.Ticks = next.actsOf(op.Measure); op.Ticks != nil {
			var did string
			next, did = next.ticks(op)
			text = cmp.Or(text, did)
		}
	}
	if err != nil {
		return nil, Change{}, err
	}
	next = w.follow(next, op, at, text)
	return next, changed(w, next), nil
}

// follow completes the work after an op: what was found out, what is new to it, and what
// undo would take back.
func (w *Work) follow(next *Work, op Op, at time.Time, text string) *Work {
	if next != w {
		if w.finds(op) {
			next = next.remade().resettled(next.trimmedToLeast()).find()
		}
		next = next.withNew()
	}
	switch {
	case op.Kind == KindUndo:
		// As it was, and nothing to take back.
	case op.Kind != KindHere && op.Kind != KindSeen && next != w:
		before := *w
		before.Last = nil
		c := *next
		c.Last = &Done{Op: op, At: at, Text: text, before: &before}
		next = &c
	}
	return next
}

// finds tells whether something may be found out from an op, or a strip be cut by it.
func (w *Work) finds(op Op) bool {
	switch op.Kind {
	case KindMeasure, KindPlan, KindRedo, KindMend:
		return true
	case KindTick:
		if len(op.Ticks) > 0 {
			return slices.ContainsFunc(op.Ticks, func(id string) bool { return w.finds(op.one(id)) })
		}
		_, t := w.Tick(op.Tick)
		return t == nil || t.Cuts
	}
	return false
}
