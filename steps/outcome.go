package steps

import "cornerwise/calc"

// Outcome compares the bordered top as measured with the plan as it was first made, and
// says where a difference comes from.
func Outcome(w *Work) calc.Outcome {
	t := w.readings()
	return calc.NewOutcome(w.first, w.built.plan, t.whole("top-"), w.allowance(t), w.limits())
}

// allowance is the one that the seam test showed; 0: it was not tested, or can't be so.
func (w *Work) allowance(t readings) calc.Length {
	if !t.has("seam-across") {
		return calc.Length{}
	}
	c := calc.NewSeamTest(w.built.plan).Check(w.built.plan, t.length("seam-across"), w.limits())
	if c.Verdict.Kind == calc.NoCheck {
		return calc.Length{}
	}
	return c.Allowance.Length
}

// A NextUp is what comes when the borders are on.
type NextUp struct {
	// Measured: reckoned for the top as it was measured; else for what it should be.
	Measured bool `json:"measured"`
	calc.Next
}

// Next reckons backing, batting and binding by common practice
// (calc.DefaultFinishing), for the top as measured once all its widths and lengths are.
func Next(w *Work) (NextUp, error) {
	t, o := w.readings().whole("top-"), Outcome(w)
	top := calc.Size{Width: w.Sheet.Raw.Width.Length, Length: w.Sheet.Raw.Length.Length}
	next := NextUp{Measured: true}
	for _, l := range append(t.Widths[:], t.Lengths[:]...) {
		next.Measured = next.Measured && l.Sign() > 0
	}
	if next.Measured {
		top = calc.Size{Width: o.Width.Measured.Length, Length: o.Length.Measured.Length}
	}
	found, err := calc.NewNext(top, w.Plan.Unit, calc.DefaultFinishing(w.Plan.Unit))
	next.Next = found
	return next, err
}
