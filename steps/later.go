package steps

import (
	"slices"
	"strings"
)

// askLater refuses to put off what is done, or without a reason.
func (w *Work) askLater(op Op) error {
	switch _, t := w.Tick(op.Tick); {
	case t == nil:
		return unknown(UnknownTick, "tick", op.Tick)
	case t.Done:
		return &Refusal{Code: InUse, Field: "tick", Message: "That is done already. Only what is open can be put off."}
	case strings.TrimSpace(op.Why) == "" && t.Later == "":
		return &Refusal{Code: BadOp, Field: "why", Message: "Say why it is put off: days later that tells what it waits for."}
	}
	return nil
}

// later puts a tick off, and work goes on with what comes next; without a reason it takes it
// up again, and work goes on there.
func (w *Work) later(op Op) (*Work, string) {
	step, t := w.Tick(op.Tick)
	why := strings.TrimSpace(op.Why)
	if t == nil || t.Done || t.Later == why {
		return w, ""
	}
	at := w.index.ticks[op.Tick]
	next, changed := w.clone(at)
	changed.Ticks[at.at].Later = why
	if why == "" {
		next.Here = step.ID
		return next, "Taken up again: " + step.at(lower(t.Title))
	}
	order := next.round(at)
	if on := slices.IndexFunc(order, func(at position) bool { return next.canGoOn(at, false) }); on >= 0 {
		next.Here = next.stepAt(order[on])
	}
	return next, "Put off: " + step.at(lower(t.Title))
}

// PutOff are the titles of what is put off in a stage.
func (s Stage) PutOff() []string {
	var titles []string
	for _, step := range s.Steps {
		for _, t := range step.Ticks {
			if t.Later != "" {
				titles = append(titles, step.at(t.Title))
			}
		}
	}
	return titles
}
