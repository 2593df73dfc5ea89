package steps

import (
	"bytes"
	"encoding/gob"
	"encoding/json"
	"fmt"
	"maps"

	"cornerwise/calc"
)

// Reopen is the work that a bookmark keeps. The bookmark must be one of this very program. An
// error says that it can't be read; the ops tell the same.
func Reopen(kept []byte) (*Work, error) {
	var k bookmark
	if err := gob.NewDecoder(bytes.NewReader(kept)).Decode(&k); err != nil {
		return nil, fmt.Errorf("read a bookmark: %w", err)
	}
	w, err := k.reopen()
	if err != nil {
		return nil, fmt.Errorf("reopen work at a bookmark: %w", err)
	}
	return w, nil
}

func (k bookmark) reopen() (*Work, error) {
	first, err := calc.ParsePlan(k.First)
	if err != nil {
		return nil, err
	}
	bases := make([]*basis, len(k.Bases))
	for i, b := range k.Bases {
		if bases[i], err = b.basis(); err != nil {
			return nil, err
		}
	}
	if k.Before == nil {
		return k.Work.reopen(&Work{first: first, firstSource: k.First}, bases)
	}
	before, err := k.Before.reopen(&Work{first: first, firstSource: k.First}, bases)
	if err != nil {
		return nil, err
	}
	w, err := k.Work.reopen(before, bases)
	if err != nil {
		return nil, err
	}
	last := &Done{At: k.Undo.At, Text: k.Undo.Text, before: before}
	if err := json.Unmarshal(k.Undo.Op, &last.Op); err != nil {
		return nil, err
	}
	done := *w
	done.Last = last
	return &done, nil
}

// reopen is the Work, made from one of the same session.
func (k keptWork) reopen(from *Work, bases []*basis) (*Work, error) {
	w, err := k.bare(from)
	if err != nil {
		return nil, err
	}
	w.begun, w.edition, w.whole = k.Begun, k.Edition, k.Whole
	w.Here, w.Gone, w.former = k.Here, k.Gone, k.Former
	for id, s := range k.Steps {
		at, ok := w.index.steps[id]
		if !ok {
			return nil, fmt.Errorf("there is no step %.40q", id)
		}
		next, step := w.clone(at)
		if err := s.onto(step, w, bases); err != nil {
			return nil, err
		}
		w = next
	}
	return w.find(), nil
}

// bare is the Work that the steps are then set on: a copy of the one that it is made from
// where it has the same quilt, else one with nothing done.
func (k keptWork) bare(from *Work) (*Work, error) {
	mends := make([]*mend, len(k.Mends))
	for i, m := range k.Mends {
		mends[i] = m.mend()
	}
	if k.Same {
		w := *from
		w.mends = mends
		return &w, nil
	}
	plan, err := calc.ParsePlan(k.Given.Source)
	if err != nil {
		return nil, err
	}
	q, err := newQuilt(given{plan, k.Given.Source, k.Given.Measured, k.Given.Made, mends[:k.Given.Mends:k.Given.Mends], k.Given.Trimmed})
	if err != nil {
		return nil, err
	}
	w := from.anew(q)
	w.mends = mends
	return w, nil
}

func (k keptStep) onto(step *Step, w *Work, bases []*basis) error {
	step.Done, step.Note = k.Done, k.Note
	left := maps.Clone(k.Measures)
	for i := range step.Measures {
		if value, ok := left[step.Measures[i].ID]; ok {
			step.Measures[i].enter(value, w.limits())
			delete(left, step.Measures[i].ID)
		}
	}
	ticks := maps.Clone(k.Ticks)
	for i := range step.Ticks {
		if t, ok := ticks[step.Ticks[i].ID]; ok {
			t.onto(&step.Ticks[i], w.built.basis, bases)
			delete(ticks, step.Ticks[i].ID)
		}
	}
	if len(left)+len(ticks) > 0 {
		return fmt.Errorf("the step %s has no such measures or ticks: %v %v", step.ID, left, ticks)
	}
	return nil
}

func (k keptTick) onto(t *Tick, own *basis, bases []*basis) {
	t.Done, t.New, t.Passed, t.Despite, t.Opened, t.Later, t.under = k.Done, k.New, k.Passed, k.Despite, k.Opened, k.Later, k.Under
	t.Numbers = t.unchanged()
	t.told, t.seen = nil, view{t.Numbers, own, k.Earlier}
	switch {
	case k.Told != nil:
		t.told = k.Told.Numbers
	case k.Done:
		t.told = t.Numbers
	}
	if k.Seen != nil {
		t.seen.numbers = k.Seen.Numbers
	}
	if k.Basis > 0 {
		t.seen.of = bases[k.Basis-1]
	}
	if len(k.Changed) > 0 {
		t.Numbers = append([]Number(nil), t.Numbers...)
		for i, c := range k.Changed {
			t.Numbers[i].Changed = &c
		}
	}
}

func (k keptMend) mend() *mend {
	m := &mend{n: k.N, title: k.Title, before: k.Before, after: k.After, needs: k.Needs, blocks: k.Blocks, of: k.Of, strips: k.Strips}
	for _, a := range k.Acts {
		m.acts = append(m.acts, act{a.Verb, a.Say, a.Why, a.Numbers, a.Figures})
	}
	return m
}

func (k keptBasis) basis() (*basis, error) {
	plan, err := calc.ParsePlan(k.Source)
	if err != nil {
		return nil, err
	}
	return &basis{k.Source, bare(plan), k.Pieced, k.Center, pairOfSizes{plan.Pieced, k.Width, k.Length}, k.First}, nil
}
