package steps

import (
	"encoding/json"
	"errors"
	"slices"
	"time"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// Work is where one top stands: what the ops say, and nothing else. A Work is
// never changed; Apply makes a new one, which shares what stayed the same.
type Work struct {
	Plan   calc.Plan
	Source json.RawMessage // the plan as the person wrote it
	Sheet  calc.Sheet      // reckoned from the plan and the size settled on
	Stages []Stage         // with what is done, in the order of work
	Here   string          // the step where work goes on
	Gone   []Fate          // done ticks that are no part of the work any more, until that is seen
	Last   *Done           // the last op that undo can take back; nil after an undo

	first calc.Plan // as it was first made
	mends []*mend
	built *quilt
	index *index
}

// Done is one op for the "last thing done" line.
type Done struct {
	Op   Op
	At   time.Time
	Text string // in words: "Line drawn, corner 2"

	before *Work // as it was, for undo; its own Last is nil
}

// Begin starts work on a plan in JSON; the error is a *Refusal.
func Begin(plan json.RawMessage) (*Work, error) {
	parsed, err := calc.ParsePlan(plan)
	if err != nil {
		return nil, badPlan(err)
	}
	q, err := newQuilt(parsed, nil, nil, nil)
	if err != nil {
		return nil, err
	}
	w := &Work{Plan: parsed, Source: plan, first: parsed}
	w.rebuild(q)
	w.Here = w.Stages[0].Steps[0].ID
	return w, nil
}

func badPlan(err error) *Refusal {
	var faults calc.Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		return &Refusal{Code: BadPlan, Field: "plan", Message: "The plan can't be read. Send it as a JSON object."}
	}
	return &Refusal{Code: BadPlan, Field: faults[0].Field, Message: faults[0].Message, Faults: faults}
}

// rebuild works the procedure out afresh, with nothing done.
func (w *Work) rebuild(q *quilt) {
	w.built, w.Sheet = q, q.sheet
	w.Stages, w.index = q.build()
}

// Quilt is what the drawings of this work are made from.
func (w *Work) Quilt() draw.Quilt { return draw.Quilt{Plan: w.built.plan, Sheet: w.Sheet} }

// Progress is how many ticks are done, of how many.
func (w *Work) Progress() (done, total int) {
	for _, stage := range w.Stages {
		d, t := stage.Progress()
		done, total = done+d, total+t
	}
	return done, total
}

// Progress is how many of the stage's ticks are done, of how many.
func (s Stage) Progress() (done, total int) {
	for _, step := range s.Steps {
		for _, t := range step.Ticks {
			total++
			if t.Done {
				done++
			}
		}
	}
	return done, total
}

// Step finds a step and its stage; nil when there is none of that id.
func (w *Work) Step(id string) (*Stage, *Step) {
	at, ok := w.index.steps[id]
	if !ok {
		return nil, nil
	}
	return &w.Stages[at.stage], &w.Stages[at.stage].Steps[at.step]
}

// Tick finds a tick and its step; nil when there is none of that id.
func (w *Work) Tick(id string) (*Step, *Tick) {
	at, ok := w.index.ticks[id]
	if !ok {
		return nil, nil
	}
	step := &w.Stages[at.stage].Steps[at.step]
	return step, &step.Ticks[at.at]
}

func (w *Work) nearest(l calc.Length) calc.Figure { return w.built.nearest(l) }

func (w *Work) done(id string) bool {
	_, t := w.Tick(id)
	return t != nil && t.Done
}

// missing are the ticks that this one needs and that are still open.
func (w *Work) missing(t *Tick) []string {
	var open []string
	for _, need := range t.Needs {
		if !w.done(need) {
			open = append(open, need)
		}
	}
	return open
}

// clone copies the Work and the path to one step, which may then be changed.
func (w *Work) clone(at position) (*Work, *Step) {
	c := *w
	c.Stages = append([]Stage(nil), w.Stages...)
	stage := &c.Stages[at.stage]
	stage.Steps = append([]Step(nil), stage.Steps...)
	step := &stage.Steps[at.step]
	step.Ticks = append([]Tick(nil), step.Ticks...)
	step.Measures = slices.Clone(step.Measures) // none stays [] in JSON
	return &c, step
}

// set is the Work with a tick done or open; the same Work when it is so already.
func (w *Work) set(id string, done bool) *Work {
	at := w.index.ticks[id]
	if w.Stages[at.stage].Steps[at.step].Ticks[at.at].Done == done {
		return w
	}
	c, step := w.clone(at)
	t := &step.Ticks[at.at]
	if t.Done, t.told, t.Despite, t.Opened = done, nil, "", ""; done {
		t.see(w.built)
		t.told = t.Numbers
	}
	step.Done = true
	for _, t := range step.Ticks {
		step.Done = step.Done && t.Done
	}
	return c
}

// measured is every value entered so far.
func (w *Work) measured() map[string]string {
	values := map[string]string{}
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, m := range step.Measures {
				if m.Value != "" {
					values[m.ID] = m.Value
				}
			}
		}
	}
	return values
}

// whole are the strips that are cut, and not put together of parts.
func (w *Work) whole() map[string]bool {
	strips := map[string]bool{}
	for _, b := range everyBorder(w.built, nil) {
		for _, e := range everyEdge(w.built, nil) {
			n := b.with(e)
			if _, joined := w.Tick(n.fill("join.{border}.{edge}.cut")); joined == nil && w.done(n.fill("cut.{border}.{edge}.cut")) {
				strips[n.fill("{border}.{edge}")] = true
			}
		}
	}
	return strips
}

// next is the step where work goes on from a place: the first one at or after it,
// going round, with a tick that can be done now. When all is done it stays.
func (w *Work) next(from position) string {
	var order []position
	start := 0
	for i, stage := range w.Stages {
		for j := range stage.Steps {
			if i == from.stage && j == from.step {
				start = len(order)
			}
			order = append(order, position{i, j, 0})
		}
	}
	for n := range order {
		at := order[(start+n)%len(order)]
		step := &w.Stages[at.stage].Steps[at.step]
		for k := range step.Ticks {
			if t := &step.Ticks[k]; !t.Done && len(w.missing(t)) == 0 {
				return step.ID
			}
		}
	}
	return w.Stages[from.stage].Steps[from.step].ID
}
