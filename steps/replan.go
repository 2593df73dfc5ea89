package steps

import (
	"encoding/json"
	"fmt"
	"maps"
	"strings"

	"cornerwise/calc"
)

// A Replan is what becomes of the ticks that are done when numbers or steps change.
type Replan struct {
	Kept   []Fate `json:"kept"`   // stay done; Why where the number is another now
	Opened []Fate `json:"opened"` // open again
	Gone   []Fate `json:"gone"`   // no part of the work any more
}

// A Fate is a done tick and why it does not simply stay so.
type Fate struct {
	Tick  string `json:"tick"`
	Title string `json:"title"` // of the tick
	Step  string `json:"step"`  // the title of its step
	Why   string `json:"why,omitempty"`
}

// Replanned tells what another plan, in JSON, would do to the work. The op plan does
// just that. The error is a *Refusal.
func Replanned(w *Work, plan json.RawMessage) (Replan, error) {
	_, r, err := w.under(Edition()).replanned(plan)
	return r, err
}

// replan changes the plan on the way.
func (w *Work) replan(op Op) (*Work, string, error) {
	next, r, err := w.replanned(op.Plan)
	if err != nil {
		return nil, "", err
	}
	text := "Plan changed"
	switch n := len(r.Opened); {
	case n == 1:
		text += ": 1 tick is open again"
	case n > 1:
		text += fmt.Sprintf(": %d ticks are open again", n)
	}
	return next, text, nil
}

func (w *Work) replanned(source json.RawMessage) (*Work, Replan, error) {
	plan, err := calc.ParsePlan(source)
	if err != nil {
		return nil, Replan{}, badPlan(err)
	}
	from := w.given()
	from.plan, from.source = plan, calc.Renamed(source)
	q, err := newQuilt(from)
	if err != nil {
		return nil, Replan{}, err
	}
	fresh := w.anew(q)
	next, r := w.onto(fresh, w.standing(fresh))
	return next, r, nil
}

// A stand tells why a done tick can't stay done; "": it can.
type stand func(was, is *Tick) string

// always lets every tick stay done that still exists: what was measured does not undo
// what was done.
func always(_, _ *Tick) string { return "" }

// lies are the numbers that lie in the fabric once their tick is done. To the size built
// on all else was done: it is told as changed, and what was done to it is looked at by
// itself.
var lies = map[string]bool{
	"stripe": true, "strip": true, "stripCut": true, "laid": true, "placed": true, "onPrint": true, "parts": true,
	"coping": true, "coped": true, "seam": true, "seamAndStitch": true, "test": true, "toEnd": true,
	"bandWidth": true, "angle": true, "line": true, "lineAndStitch": true, "lineSides": true,
	"lineTopBottom": true, "miterSeam": true,
}

// standing judges what was done by the new plan: a strip that is cut by its least length
// and its width, all else by whether its number is the same.
func (w *Work) standing(fresh *Work) stand {
	cut := map[string]string{} // why a cut strip does not serve, by border and edge; "": it does
	for _, c := range w.cutStrips(w.readings()) {
		if w.done(c.fill("cut.{border}.{edge}.cut")) && c.number("border") <= len(fresh.Plan.Borders) {
			cut[c.fill("{border}.{edge}")] = fresh.serves(c)
		}
	}
	return func(was, is *Tick) string {
		if why := w.newHeads(fresh, is); why != "" {
			return why
		}
		if !is.lies || len(was.told) == 0 || was.told[0].Shown() == is.Number {
			return ""
		}
		if strings.HasPrefix(is.ID, "cut.") || strings.HasPrefix(is.ID, "join.") {
			if why, ok := cut[is.of.fill("{border}.{edge}")]; ok {
				return why
			}
		}
		return fmt.Sprintf("It was done at %s; it is %s now.", was.told[0].Shown(), is.Number)
	}
}

// serves tells why a strip as it is cut is no good for this work; "": it is.
func (w *Work) serves(c cutStrip) string {
	k := calc.CheckStrip(w.built.plan, w.Sheet, calc.CutStrip{Border: c.number("border"), Edges: c.edges(), Width: c.width, Length: c.length}, w.limits())
	switch {
	case k.Verdict.Kind == calc.Short:
		return k.Verdict.Text
	case k.Width.Kind == calc.Narrow:
		return k.Width.Text
	}
	return ""
}

// onto carries what was done, measured, noted and where work stood over to a Work built
// anew, and tells what became of every done tick. A tick that loses what it was done on
// is opened too: nothing is done on top of nothing.
func (w *Work) onto(fresh *Work, stands stand) (*Work, Replan) {
	w.carry(fresh)
	r := Replan{[]Fate{}, []Fate{}, []Fate{}}
	// In the order of work a tick's needs come before it or have been refused.
	for again := true; again; {
		again = false
		for _, stage := range fresh.Stages {
			for i := range stage.Steps {
				step := &stage.Steps[i]
				for k := range step.Ticks {
					t := &step.Ticks[k]
					if t.Done {
						continue
					}
					if _, was := w.Tick(t.ID); was == nil && w.former[t.ID].Done {
						t.set(fresh, true, w.former[t.ID].Number)
						again = true
					} else if was != nil && was.Done && len(w.lost(fresh, t)) == 0 && stands(was, t) == "" {
						t.Done, t.told, t.Despite, t.under, again = true, was.told, was.Despite, was.under, true
					}
				}
				step.complete()
			}
		}
	}
	for _, stage := range fresh.Stages {
		for i := range stage.Steps {
			step := &stage.Steps[i]
			for k := range step.Ticks {
				t := &step.Ticks[k]
				_, was := w.Tick(t.ID)
				if was == nil {
					continue
				}
				t.since(was.seen, fresh.built.basis)
				switch {
				case t.Done:
					r.Kept = append(r.Kept, t.fate(step, t.news()))
				case was.Done:
					// A reason of its own tells more than what it comes after.
					if t.Opened = stands(was, t); t.Opened == "" {
						t.Opened = fmt.Sprintf("It comes after what is open now: %s.", fresh.titles(w.lost(fresh, t)))
					}
					r.Opened = append(r.Opened, t.fate(step, t.Opened))
				default:
					t.Opened, t.Later = was.Opened, was.Later
				}
			}
		}
	}
	r.Gone = w.gone(fresh)
	for _, f := range append(append([]Fate(nil), w.Gone...), r.Gone...) {
		if _, t := fresh.Tick(f.Tick); t == nil {
			fresh.Gone = append(fresh.Gone, f)
		}
	}
	// What is part of the work again is kept there.
	fresh.former = maps.Clone(w.former)
	maps.DeleteFunc(fresh.former, func(id string, _ formerTick) bool { _, t := fresh.Tick(id); return t != nil })
	fresh.Here, fresh.Last = w.Here, w.Last
	if _, step := fresh.Step(w.Here); step == nil {
		fresh.Here = fresh.next(position{})
	}
	return fresh, r
}

// lost are the needs of a tick that this change took from under it: open now, and neither
// open when it was done nor younger than the edition of the op.
func (w *Work) lost(fresh *Work, t *Tick) []string {
	_, was := w.Tick(t.ID)
	var lost []string
	for _, need := range fresh.missing(t) {
		_, before := w.Tick(need)
		_, is := fresh.Tick(need)
		wasOpen := was != nil && was.Done && before != nil && !before.Done
		if !wasOpen && is.came <= w.edition {
			lost = append(lost, need)
		}
	}
	return lost
}

// carry brings notes and measures over.
func (w *Work) carry(fresh *Work) {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			if at, ok := fresh.index.steps[step.ID]; ok {
				fresh.Stages[at.stage].Steps[at.step].Note = step.Note
			}
			for _, m := range step.Measures {
				if at, ok := fresh.index.meas[m.ID]; ok {
					fresh.Stages[at.stage].Steps[at.step].Measures[at.at].enter(m.Value, fresh.limits())
				}
			}
		}
	}
}

// gone are the done ticks that the fresh Work does not have.
func (w *Work) gone(fresh *Work) []Fate {
	gone := []Fate{}
	for _, stage := range w.Stages {
		for i := range stage.Steps {
			for k := range stage.Steps[i].Ticks {
				t := &stage.Steps[i].Ticks[k]
				if _, is := fresh.Tick(t.ID); t.Done && is == nil {
					gone = append(gone, t.fate(&stage.Steps[i], "It is no part of the work any more. "+fresh.built.basis.why(w.built.basis)))
				}
			}
		}
	}
	return gone
}

func (t *Tick) fate(step *Step, why string) Fate { return Fate{t.ID, t.Title, step.Title, why} }

// news is what of the number that the tick is worked to has changed since it was done.
func (t *Tick) news() string {
	if len(t.Numbers) == 0 || t.Numbers[0].Changed == nil {
		return ""
	}
	c := t.Numbers[0].Changed
	return fmt.Sprintf("It was done at %s; it is %s now. %s", c.Was, c.Now, c.Why)
}
