package draw

import (
	"fmt"

	"cornerwise/calc"
)

// test is three strips sewn side by side: what is measured across them tells
// the allowance that was really sewn.
func (q Quilt) test(p *pen, s Scene) string {
	test := calc.NewSeamTest(q.Plan)
	cut, seam := in(test.Cut.Length), q.seam()
	k := 400 / in(test.Across.Length)
	x, top, bottom := (width-400)/2, 110.0, 400.0
	edges := []float64{x, x + (cut-seam)*k, x + (2*cut-3*seam)*k, x + 400}
	for i := range 3 {
		p.shape([]string{"c1", "c2", "c1"}[i], box{edges[i], top, edges[i+1], bottom}.corners()...)
	}
	p.line("raw", pt{edges[0], bottom}, pt{edges[0], top}, pt{edges[3], top}, pt{edges[3], bottom})
	p.lines("stitch", pt{edges[1], top}, pt{edges[1], bottom}, pt{edges[2], top}, pt{edges[2], bottom})
	p.torn(pt{edges[3] + 12, bottom - 8}, pt{edges[0] - 12, bottom - 8})
	if s.Act == "sew" {
		p.use("needle", move(edges[1], 240).of(scale(1.4)))
		p.use("needle", move(edges[2], 240).of(scale(1.4)))
		p.text("tn", pt{width / 2, 48}, amid, "each cut "+test.Cut.Exactly())
		p.text("t", pt{width / 2, 452}, amid, q.Sheet.Seam.Exactly()+" seams")
		return fmt.Sprintf("Three test strips, each cut %s wide, being sewn side by side with %s allowances", test.Cut.Exactly(), q.Sheet.Seam.Exactly())
	}
	p.dim(pt{edges[0], 82}, pt{edges[3], 82})
	p.text("tn", pt{width / 2, 48}, amid, test.Across.Exactly())
	p.dim(pt{edges[1], 250}, pt{edges[2], 250})
	p.text("t", pt{width / 2, 452}, amid, "the middle one "+test.Middle.Exactly())
	return fmt.Sprintf("Three test strips sewn side by side with %s allowances: %s across all three, the middle one %s", q.Sheet.Seam.Exactly(), test.Across.Exactly(), test.Middle.Exactly())
}
