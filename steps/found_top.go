package steps

import (
	"fmt"

	"cornerwise/calc"
)

// foundTop compares the bordered top with what was to be expected, each way across once
// its three measures are entered, and its shape once both diagonals are.
func foundTop(w *Work, t readings) []found {
	if !t.hasAny("top-") {
		return nil
	}
	var all []found
	o := Outcome(w)
	for _, d := range []struct {
		of, step, title string
		three           [3]calc.Length
		calc.Compared
	}{
		{"top-width", "top-widths", "Three widths", t.three("top-width-", "top", "middle", "bottom"), o.Width},
		{"top-length", "top-lengths", "Three lengths", t.three("top-length-", "left", "middle", "right"), o.Length},
	} {
		if d.three[0].Sign() == 0 || d.three[1].Sign() == 0 || d.three[2].Sign() == 0 {
			continue
		}
		a := compared(d.Compared, w.limits())
		if d.Flat.Kind != calc.Right {
			a.Say = append(a.Say, answer(d.Flat).Say...)
			if a.Kind == calc.Right || d.Flat.Kind != calc.Ease {
				a.Kind = d.Flat.Kind
			}
		}
		all = append(all, found{d.step, Finding{d.of, d.title, About{}, a}})
	}
	if t.has("top-diagonal-1") && t.has("top-diagonal-2") {
		in := calc.Entered{Flat: true, Lengths: map[string]calc.Length{}}
		trouble, _ := calc.TroubleOf("out-of-square")
		for _, ask := range trouble.Asks {
			in.Lengths[ask.ID] = t.length(ask.ID)
		}
		a := w.redoIn(w.answerOf("out-of-square", in), nil)
		if o.Flat.Kind != calc.Missing {
			flat := answer(o.Flat)
			a.Say = append(a.Say, flat.Say...)
			if a.Kind == calc.Rectangle {
				a.Kind = o.Flat.Kind
			}
		}
		all = append(all, found{"top-diagonals", Finding{"top-shape", "The bordered top", About{}, a}})
	}
	return all
}

// compared tells one way across, and where a difference comes from.
func compared(c calc.Compared, lim calc.Limits) calc.Answer {
	v := calc.Verdict{Kind: calc.Right, Text: fmt.Sprintf("As expected: %s.", c.Measured.Shown())}
	if c.Off.Length.Sign() != 0 {
		off, way := c.Off, "more"
		if off.Length.Sign() < 0 {
			off.Length, way = calc.Length{}.Sub(off.Length), "less"
		}
		v.Text = fmt.Sprintf("It measures %s: %s %s than the %s expected.", c.Measured.Shown(), off.Shown(), way, c.Expected.Shown())
		if lim.Mend.Less(off.Length) {
			v.Kind = calc.Mend
		} else if lim.Apart.Less(off.Length) {
			v.Kind = calc.Ease
		}
	}
	a := answer(v, calc.Named{Name: "expected", Figure: c.Expected}, calc.Named{Name: "measured", Figure: c.Measured})
	for _, p := range c.Parts {
		a.Say = append(a.Say, p.Text)
		a.Figures = append(a.Figures, calc.Named{Name: p.Kind, Figure: p.By})
	}
	return a
}
