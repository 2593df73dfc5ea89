package draw

import "fmt"

// test is three strips sewn side by side: what is measured across them tells
// the allowance that was really taken.
func (q Quilt) test(p *pen) string {
	cut := 1.5
	if q.Plan.Unit == "cm" {
		cut = 4 / 2.54
	}
	seam := q.seam()
	cut = max(cut, 3*seam)
	all := 3*cut - 4*seam
	k := 400 / all
	x, top, bottom := (width-400)/2, 110.0, 400.0
	edges := []float64{x, x + (cut-seam)*k, x + (2*cut-3*seam)*k, x + 400}
	for i := range 3 {
		p.shape([]string{"c1", "c2", "c1"}[i], box{edges[i], top, edges[i+1], bottom}.corners()...)
	}
	p.line("raw", pt{edges[0], bottom}, pt{edges[0], top}, pt{edges[3], top}, pt{edges[3], bottom})
	p.lines("stitch", pt{edges[1], top}, pt{edges[1], bottom}, pt{edges[2], top}, pt{edges[2], bottom})
	p.torn(pt{edges[3] + 12, bottom - 8}, pt{edges[0] - 12, bottom - 8})
	p.dim(pt{edges[0], 82}, pt{edges[3], 82})
	p.text("t", pt{width / 2, 44}, amid, "all three")
	p.dim(pt{edges[1], 250}, pt{edges[2], 250})
	p.text("ts", pt{width / 2, 452}, amid, "the middle one")
	return fmt.Sprintf("Three test strips sewn side by side with %s allowances: measure across all three, and the middle one", q.Sheet.Seam.Exactly())
}
