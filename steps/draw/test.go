package draw

import (
	"fmt"

	"cornerwise/calc"
)

// test is three strips sewn side by side, one seam after the other: what is measured across them
// tells the allowance that was really sewn.
func (q Quilt) test(p *pen, s Scene) string {
	test := calc.NewSeamTest(q.Plan)
	if s.Act == "measure" {
		return q.testMeasured(p, test)
	}
	// The second seam at the machine: two strips opened, right side up, and the third wrong side
	// up on the second.
	const right, top, bottom = 286.0, 78.0, 470.0
	cut, seam := in(test.Cut.Length), q.seam()
	k := 260 / (2*cut - 2*seam)
	second, third := right-(cut-seam)*k, right-cut*k
	left := right - (2*cut-2*seam)*k
	p.shape("c1", box{left, top, second, bottom}.corners()...)
	p.shape("c2", box{second, top, right, bottom}.corners()...)
	p.line("raw", pt{right, top}, pt{left, top}, pt{left, bottom}, pt{right, bottom})
	p.line("seam", pt{second, top}, pt{second, bottom})
	p.shape("wrong", box{third, top, right, bottom}.corners()...)
	p.shape("raw", box{third, top, right, bottom}.corners()...)
	p.sewing(pt{right - seam*k, top}, bottom, seam*k)
	p.dim(pt{right - seam*k, bottom - 24}, pt{right, bottom - 24})
	p.line("leader", pt{right + 4, bottom - 24}, pt{322, 388})
	p.text("tn", pt{width / 2, 34}, amid, "each cut "+test.Cut.Exactly())
	p.words(pt{322, 130}, after, word{"t", "then the"}, word{"t", "second seam"})
	p.words(pt{308, 360}, after, word{"tn", q.Sheet.Seam.Exactly()}, word{"ts", "wrong side up"})
	return fmt.Sprintf("Three test strips, each cut %s wide, the first two sewn and opened, the third wrong side up on the second: the second seam, %s in from the raw edges", test.Cut.Exactly(), q.Sheet.Seam.Exactly())
}

// testMeasured is the three strips right side up, their allowances pressed to one side beneath.
func (q Quilt) testMeasured(p *pen, test calc.SeamTest) string {
	cut, seam := in(test.Cut.Length), q.seam()
	k := 400 / in(test.Across.Length)
	x, top, bottom := (width-400)/2, 110.0, 400.0
	edges := []float64{x, x + (cut-seam)*k, x + (2*cut-3*seam)*k, x + 400}
	for i := range 3 {
		p.shape([]string{"c1", "c2", "c1"}[i], box{edges[i], top, edges[i+1], bottom}.corners()...)
	}
	p.shape("raw", box{edges[0], top, edges[3], bottom}.corners()...)
	p.lines("seam", pt{edges[1], top}, pt{edges[1], bottom}, pt{edges[2], top}, pt{edges[2], bottom})
	p.lines("ghost", pt{edges[1] + seam*k, top}, pt{edges[1] + seam*k, bottom}, pt{edges[2] + seam*k, top}, pt{edges[2] + seam*k, bottom})
	p.dim(pt{edges[0], 82}, pt{edges[3], 82})
	p.text("tn", pt{width / 2, 40}, amid, test.Across.Exactly())
	p.dim(pt{edges[1], 250}, pt{edges[2], 250})
	p.text("t", pt{width / 2, 452}, amid, "the middle one "+test.Middle.Exactly())
	return fmt.Sprintf("Three test strips sewn side by side with %s allowances, right side up, the allowances pressed to one side beneath: %s across all three, the middle one %s", q.Sheet.Seam.Exactly(), test.Across.Exactly(), test.Middle.Exactly())
}
