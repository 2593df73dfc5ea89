package steps

import (
	"fmt"
	"strings"

	"cornerwise/calc"
)

// foundCenter judges the center: each way across once its three measures are entered, and
// the shape once both diagonals are.
func foundCenter(w *Work, t readings) []found {
	s := calc.NewSquareUp(t.whole(""), w.Plan.Pieced, w.limits())
	was := w.trimmedToLeast()
	built := w.built.plan.Pieced
	var all []found
	for _, d := range []struct {
		of, step, title string
		calc.Direction
		across bool
		built  calc.Length
		redo   []string
	}{
		{"width", "widths", "Three widths", s.Width, true, built.Width, []string{"width.top", "width.middle", "width.bottom"}},
		{"length", "lengths", "Three lengths", s.Length, false, built.Length, []string{"length.left", "length.middle", "length.right"}},
	} {
		if d.Taken < 3 {
			continue
		}
		if !d.BuildOn.Length.Equal(d.built) { // another size was entered
			d.Verdict.Act, _, _ = strings.Cut(d.Verdict.Act, " Until that is settled")
		}
		a := answer(d.Verdict, calc.Named{Name: "mean", Figure: d.Mean},
			calc.Named{Name: "apart by", Figure: d.Spread}, calc.Named{Name: "build on", Figure: d.BuildOn})
		if a.Ways = s.Ways(d.across, w.Sheet.Seam, d.redo...); was && !d.BuildOn.Length.Equal(d.built) || was && len(a.Ways) > 0 {
			d.BuildOn = w.nearest(d.built)
			a = answer(calc.Verdict{Kind: calc.Right, Text: fmt.Sprintf("They were %s apart before the center was trimmed.", d.Spread.Exactly()),
				Act: fmt.Sprintf("Build on %s, as it was settled then.", d.BuildOn.Exactly())},
				calc.Named{Name: "apart by", Figure: d.Spread}, calc.Named{Name: "build on", Figure: d.BuildOn})
		}
		f := Finding{d.of, d.title, About{}, w.redoIn(a, nil)}
		all = append(all, found{d.step, f})
		if d.Verdict.Kind != calc.Right {
			all = append(all, found{"settle", f})
		}
	}
	if t.has("diagonal-1") && t.has("diagonal-2") {
		shape := answer(s.Shape.Verdict)
		if was && s.Shape.Verdict.Kind == calc.Trapezoid {
			shape = answer(calc.Verdict{Kind: calc.Right, Text: "Opposite edges differed before the center was trimmed."})
		}
		if lean := s.Shape.Lean; lean != nil && s.Shape.Verdict.Kind != calc.Slip {
			shape.Figures = []calc.Named{{Name: "diagonals apart", Figure: lean.Apart},
				{Name: "leans over its length", Figure: lean.OverLength}, {Name: "leans over its width", Figure: lean.OverWidth}}
		}
		for _, suspect := range s.Shape.Suspects {
			shape.Figures = append(shape.Figures, calc.Named{Name: w.label(suspect.Measure) + ", about", Figure: suspect.About})
		}
		all = append(all, found{"diagonals", Finding{"shape", "The shape", About{}, shape}})
		if k := s.Shape.Verdict.Kind; k != calc.Rectangle && k != calc.Ease && !was {
			all = append(all, found{"true-up", Finding{"shape", "The shape", About{}, shape}})
		}
	}
	return all
}

// label is what a measure is called, with its step.
func (w *Work) label(id string) string {
	at, ok := w.index.meas[id]
	if !ok {
		return id
	}
	step := &w.Stages[at.stage].Steps[at.step]
	return step.Title + ", " + lower(step.Measures[at.at].Label)
}
