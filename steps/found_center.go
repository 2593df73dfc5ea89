package steps

import (
	"fmt"

	"cornerwise/calc"
)

// foundCenter judges the center: each way across once its three measures are entered, the
// shape once both diagonals are, and what comes off before the center is trimmed true.
func foundCenter(w *Work, t readings) []found {
	s := calc.NewSquareUp(t.whole(""), w.Plan.Pieced, w.limits())
	var all []found
	for _, d := range []struct {
		of, step, title string
		calc.Direction
	}{{"width", "widths", "Three widths", s.Width}, {"length", "lengths", "Three lengths", s.Length}} {
		if d.Taken < 3 {
			continue
		}
		f := Finding{d.of, d.title, About{}, answer(d.Verdict, calc.Named{Name: "mean", Figure: d.Mean},
			calc.Named{Name: "apart by", Figure: d.Spread}, calc.Named{Name: "build on", Figure: d.BuildOn})}
		all = append(all, found{d.step, f})
		if d.Verdict.Kind != calc.Right {
			all = append(all, found{"settle", f})
		}
	}
	if t.has("diagonal-1") && t.has("diagonal-2") {
		shape := answer(s.Shape.Verdict)
		if lean := s.Shape.Lean; lean != nil && s.Shape.Verdict.Kind != calc.Slip {
			shape.Figures = []calc.Named{{Name: "diagonals apart", Figure: lean.Apart},
				{Name: "leans over its length", Figure: lean.OverLength}, {Name: "leans over its width", Figure: lean.OverWidth}}
		}
		for _, suspect := range s.Shape.Suspects {
			shape.Figures = append(shape.Figures, calc.Named{Name: w.label(suspect.Measure) + ", about", Figure: suspect.About})
		}
		all = append(all, found{"diagonals", Finding{"shape", "The shape", About{}, shape}})
		if s.Shape.Verdict.Kind != calc.Rectangle {
			all = append(all, found{"true-up", Finding{"shape", "The shape", About{}, shape}})
		}
	}
	if len(s.Trims) > 0 {
		trims := answer(calc.Verdict{Kind: calc.TrimOff, Text: "This much sticks out beyond a true rectangle.", Act: "Trim it off, and no more."})
		for _, trim := range s.Trims {
			trims.Figures = append(trims.Figures, calc.Named{Name: fmt.Sprintf("%s edge, %s", trim.Edge, trim.Where), Figure: trim.Off})
		}
		all = append(all, found{"true-up", Finding{"trim", "What to trim", About{}, trims}})
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
