package steps

import "cornerwise/calc"

// foundSeam tells the allowance that is really sewn, which way to move the needle, and
// what four seams of that error do to this top.
func foundSeam(w *Work, t readings) []found {
	if !t.has("seam-across") {
		return nil
	}
	a := w.answerOf("allowance", calc.Entered{Lengths: map[string]calc.Length{"across": t.length("seam-across")}})
	return []found{{"seam-test", Finding{"seam", "Your seam", About{}, w.redoIn(a, nil)}}}
}
