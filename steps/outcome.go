package steps

import "cornerwise/calc"

// Outcome compares the bordered top as measured with the plan as it was first made, and
// says where a difference comes from.
func Outcome(w *Work) calc.Outcome {
	t := w.taken()
	return calc.NewOutcome(w.first, w.built.plan, t.whole("top-"), w.allowance(t), w.limits())
}

// allowance is the one that the seam test showed; 0: it was not tested, or can't be so.
func (w *Work) allowance(t taken) calc.Length {
	if !t.has("seam-across") {
		return calc.Length{}
	}
	c := calc.NewSeamTest(w.built.plan).Check(w.built.plan, t.length("seam-across"), w.limits())
	if c.Verdict.Kind == calc.NoCheck {
		return calc.Length{}
	}
	return c.Allowance.Length
}
