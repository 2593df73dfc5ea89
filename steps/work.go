package steps

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"time"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// Work is where one top stands: what the ops say, and nothing else. A Work is
// never changed; Apply makes a new one, which shares what stayed the same.
type Work struct {
	Plan   calc.Plan
	Source json.RawMessage // the plan as the person wrote it, in today's names
	Sheet  calc.Sheet      // reckoned from the plan and the size settled on
	Stages []Stage         // with what is done, in the order of work
	Here   string          // the step where work goes on
	Gone   []Fate          // done ticks that are no part of the work any more, until that is seen
	Last   *Done           // the last op that undo can take back; nil after an undo

	begun   int // the edition that it was begun under
	edition int // the edition of the last op
	whole   int // the last edition under which all was done; 0: none

	first       calc.Plan // as it was first made
	firstSource json.RawMessage

	mends  []*mend
	former map[string]formerTick // ticks that its ops have and its procedure has not
	built  *quilt
	index  *index
}

// Done is one op for the "last thing done" line.
type Done struct {
	Op   Op
	At   time.Time
	Text string // in words: "Line drawn, corner 2"

	before *Work // as it was, for undo; its own Last is nil
}

// Begin starts work on a plan in JSON; the error is a *Refusal.
func Begin(plan json.RawMessage) (*Work, error) { return beginUnder(Edition(), plan) }

func beginUnder(edition int, plan json.RawMessage) (*Work, error) {
	parsed, err := calc.ParsePlan(plan)
	if err != nil {
		return nil, badPlan(err)
	}
	q, err := newQuilt(given{plan: parsed, source: calc.Renamed(plan)})
	if err != nil {
		return nil, err
	}
	w := (&Work{first: parsed, firstSource: calc.Renamed(plan), begun: edition, edition: edition}).anew(q)
	w.Here = w.Stages[0].Steps[0].ID
	return w.withNew(), nil
}

func badPlan(err error) *Refusal {
	var faults calc.Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		return &Refusal{Code: BadPlan, Field: "plan", Message: "The plan can't be read. Send it as a JSON object."}
	}
	return &Refusal{Code: BadPlan, Field: faults[0].Field, Message: faults[0].Message, Faults: faults}
}

// Edition is the edition that the session was begun under.
func (w *Work) Edition() int { return w.begun }

// given is what a quilt for the work as it stands is worked out from.
func (w *Work) given() given {
	return given{w.Plan, w.Source, w.measured(), w.made(), w.mends, w.trimmedToLeast()}
}

// anew is a Work of the same session with nothing done, on another quilt.
func (w *Work) anew(q *quilt) *Work {
	fresh := &Work{Plan: q.given.plan, Source: q.source, Sheet: q.sheet, first: w.first, firstSource: w.firstSource, mends: q.mends, former: w.former,
		begun: w.begun, edition: w.edition, whole: w.whole, built: q}
	fresh.Stages, fresh.index = q.build()
	return fresh
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
			if !t.Passed {
				total++
			}
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
func (w *Work) set(id string, done bool) *Work { return w.setTo(id, done, "") }

// setTo is set for a tick that was done to a number, as it was shown then; "" where that
// is the number that the tick has.
func (w *Work) setTo(id string, done bool, number string) *Work {
	at := w.index.ticks[id]
	if w.Stages[at.stage].Steps[at.step].Ticks[at.at].Done == done {
		return w
	}
	c, step := w.clone(at)
	step.Ticks[at.at].set(w, done, number)
	step.complete()
	return c
}

// set does or opens the tick. Where it was done to another number than it has, it says so.
func (t *Tick) set(w *Work, done bool, number string) {
	t.under = w.edition
	if t.Done, t.told, t.Despite, t.Opened, t.Later = done, nil, "", "", ""; !done {
		return
	}
	t.see(w.built.basis)
	t.told = t.Numbers
	switch earlier := w.built.reckonedIn(w.edition, t); {
	case number != "" && !t.isAt(number):
		t.told = t.toldAt(number, w.Plan.Unit)
	case number == "" && earlier != nil:
		t.told = earlier
	default:
		return
	}
	t.since(view{numbers: t.told, of: w.built.basis, earlier: true}, w.built.basis)
}

// toldAt are the tick's numbers, the first as it was shown when it was done.
func (t *Tick) toldAt(shown string, u calc.Unit) []Number {
	told := slices.Clone(t.Numbers)
	if len(told) == 0 {
		told = []Number{{Name: "as it was done"}}
	}
	told[0].Text, told[0].Figures = plain(shown), nil
	for _, part := range strings.Split(told[0].Text, " × ") {
		l, err := calc.ParseLength(part, u)
		if err != nil {
			told[0].Figures = nil // words
			break
		}
		told[0].Figures = append(told[0].Figures, calc.Figure{Length: l, Unit: u})
	}
	return told
}

// complete tells whether the step is done: all that counts of it.
func (s *Step) complete() {
	s.Done = true
	for _, t := range s.Ticks {
		s.Done = s.Done && (t.Done || t.Passed)
	}
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

// made are the strips that are cut already.
func (w *Work) made() map[string]cutAs {
	strips := map[string]cutAs{}
	for _, b := range everyBorder(w.built, nil) {
		for _, e := range everyEdge(w.built, nil) {
			n := b.with(e)
			strip, parts := n.fill("{border}.{edge}"), n.fill("join.{border}.{edge}.cut")
			_, t := w.Tick(parts)
			switch {
			case t != nil && t.Done && t.under > 0 && t.under < joinsPlaced:
				strips[strip] = earlyParts
			case w.done(parts), t == nil && w.former[parts].Done:
				strips[strip] = inParts
			case w.done(n.fill("cut.{border}.{edge}.cut")):
				strips[strip] = inOne
			}
		}
	}
	for _, pair := range copedPair(w.built, nil) {
		for _, n := range bothEdges(w.built, pair) {
			switch {
			case w.done(n.fill("coping.{edge}.partsCut")):
				strips["0."+n["edge"]] = inParts
			case w.done(n.fill("coping.{edge}.cut")):
				strips["0."+n["edge"]] = inOne
			}
		}
	}
	return strips
}

// remade is the Work with the procedure for the strips as they were cut, where that is
// otherwise than the sheet lays them now.
func (w *Work) remade() *Work {
	made := w.made()
	same := true
	for strip, parts := range made {
		border, edge, _ := strings.Cut(strip, ".")
		same = same && (w.built.made[strip] == earlyParts) == (parts == earlyParts) &&
			joined(w.built, names{"border": border, "edge": edge}) == (parts != inOne)
	}
	if same {
		return w
	}
	q, err := newQuilt(w.given())
	if err != nil {
		return w // it stands as it is
	}
	next, _ := w.onto(w.anew(q), always)
	next.Gone = w.Gone
	return next
}

// next is the step where work goes on from another: the first one at or after it,
// going round, with a tick that can be done now. What is put off is passed over, and comes
// back before its stage is left. When all is done it stays.
func (w *Work) next(from position) string {
	order := w.round(from)
	first := slices.IndexFunc(order, func(at position) bool { return w.canGoOn(at, false) })
	if first < 0 || order[first].stage != from.stage {
		put := slices.IndexFunc(order, func(at position) bool {
			return (at.stage <= from.stage || first < 0) && w.canGoOn(at, true)
		})
		if put >= 0 {
			first = put
		}
	}
	return w.stepAt(order[max(first, 0)])
}

// round is every step, from one on and round to the one before it.
func (w *Work) round(from position) []position {
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
	return slices.Concat(order[start:], order[:start])
}

func (w *Work) stepAt(at position) string { return w.Stages[at.stage].Steps[at.step].ID }

// canGoOn tells whether a step has a tick that can be done now: one that is put off, or one
// that is not.
func (w *Work) canGoOn(at position, putOff bool) bool {
	step := &w.Stages[at.stage].Steps[at.step]
	return slices.ContainsFunc(step.Ticks, func(t Tick) bool {
		return !t.Done && !t.Passed && (t.Later != "") == putOff && len(w.missing(&t)) == 0
	})
}
