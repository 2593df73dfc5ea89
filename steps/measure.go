package steps

import (
	"fmt"
	"strings"

	"cornerwise/calc"
)

// longest is the longest that a measure may be: no side of a plan has more.
var longest = calc.Of(1000, 1, calc.Inch)

// measure keeps a value measured in the fabric, as it was written. Where numbers
// follow from it, the procedure is worked out anew.
func (w *Work) measure(op Op) (*Work, string, error) {
	id := renamed(op.Measure, measuresOf)
	at, ok := w.index.meas[id]
	if !ok {
		return w, "", nil
	}
	m := w.Stages[at.stage].Steps[at.step].Measures[at.at]
	value := strings.TrimSpace(op.Value)
	if value == m.Value {
		return w, "", nil
	}
	next, step := w.clone(at)
	step.Measures[at.at].enter(value, w.limits())
	text := fmt.Sprintf("%s, %s: %s", step.Title, lower(m.Label), m.word(value))
	if !follows(id) {
		return next, text, nil
	}
	q, err := newQuilt(next.given())
	if err != nil {
		return nil, "", err
	}
	if q.first == w.built.first && sameSize(q, w.built) {
		return next, text, nil
	}
	next, _ = next.onto(next.anew(q), always)
	return next, text, nil
}

// follows tells whether numbers or the order of work follow from a measure.
func follows(id string) bool {
	for _, s := range settledBy {
		if id == s.size || id == s.three[0] || id == s.three[1] || id == s.three[2] {
			return true
		}
	}
	return id == "first-pair" || id == "coped-width" || id == "coped-length"
}

func sameSize(a, b *quilt) bool {
	return a.plan.Center.Width.Equal(b.plan.Center.Width) && a.plan.Center.Length.Equal(b.plan.Center.Length) &&
		a.plan.Pieced.Width.Equal(b.plan.Pieced.Width) && a.plan.Pieced.Length.Equal(b.plan.Pieced.Length) &&
		a.settled.width == b.settled.width && a.settled.length == b.settled.length
}

// askMeasure refuses what is no length, no option, or comes too late.
func (w *Work) askMeasure(op Op) error {
	at, ok := w.index.meas[op.Measure]
	if !ok {
		return unknown(UnknownMeas, "measure", op.Measure)
	}
	m := w.Stages[at.stage].Steps[at.step].Measures[at.at]
	value := strings.TrimSpace(op.Value)
	if value == m.Value {
		return nil
	}
	if m.ID == "first-pair" {
		if pinned := w.pinned(); len(pinned) > 0 {
			return &Refusal{Code: InUse, Field: "measure", Missing: pinned,
				Message: fmt.Sprintf("Work that needs this is done: %s. The pair that comes first can't change now.", w.titles(pinned))}
		}
	}
	if value == "" {
		return nil
	}
	if m.Options != nil {
		for _, o := range m.Options {
			if o.Value == value {
				return nil
			}
		}
		if value == lookMiss && strings.HasPrefix(m.ID, "look-") {
			return nil // from a page of before, where it was offered on every border
		}
		return &Refusal{Code: BadValue, Field: "value", Message: fmt.Sprintf("%.40q is not one of the choices here: %s.", value, m.choices())}
	}
	if _, err := w.length(value); err != nil {
		return err
	}
	return nil
}

// length reads a length that fabric can have.
func (w *Work) length(value string) (calc.Length, *Refusal) {
	l, err := calc.ParseLength(value, w.Plan.Unit)
	said := ""
	switch {
	case err != nil:
		said = "The measure " + err.Error() + "."
	case l.Sign() == 0:
		said = "The measure is 0. Leave it empty until it is taken."
	case longest.Less(l):
		said = fmt.Sprintf("The measure is over %s, more than any top has. Write it again.", w.nearest(longest).Shown())
	default:
		return l, nil
	}
	return l, &Refusal{Code: BadValue, Field: "value", Message: said}
}

// pinned are the edges that are pinned already.
func (w *Work) pinned() []string {
	var ids []string
	for _, n := range everyEdge(nil, nil) {
		if id := n.fill("sew.{edge}.pinned"); w.done(id) {
			ids = append(ids, id)
		}
	}
	return ids
}

func (m Measure) choices() string {
	var words []string
	for _, o := range m.Options {
		words = append(words, o.Value)
	}
	return strings.Join(words, ", ")
}

// word is a value as it is told: a choice by its label.
func (m Measure) word(value string) string {
	for _, o := range m.Options {
		if o.Value == value {
			return o.Label
		}
	}
	if value == "" {
		return "taken away"
	}
	return value
}

// actsOf is the tick that a measure is entered with, where the measure does it: all that is
// asked for with it is there and none of it is hard to believe, it can be done, and it is no
// cut and no look.
func (w *Work) actsOf(measure string) []string {
	at, ok := w.index.meas[measure]
	if !ok {
		return nil
	}
	step := &w.Stages[at.stage].Steps[at.step]
	_, t := w.Tick(step.Measures[at.at].Tick)
	if t == nil || t.Done || t.Cuts || t.look || len(w.missing(t)) > 0 {
		return nil
	}
	for _, m := range step.Measures {
		if m.Tick == t.ID && (m.Value == "" || m.Doubt != "" || m.Options != nil) {
			return nil
		}
	}
	return []string{t.ID}
}
