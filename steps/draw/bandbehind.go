package draw

import "cornerwise/calc"

// bandBehind are the seams between the borders of a band that lies wrong side up: thread, and
// beside it the raw edge of the allowances, which lie outward on the sides and inward on top
// and bottom.
func (q Quilt) bandBehind(p *pen, l layer) {
	e, strip := edgesOf(l.part), q.on(l.part)
	f, outline := l.at.of(strip), inverse(strip).all(l.outline)
	toward := q.seam()
	if e == calc.TopBottom {
		toward = -toward
	}
	for _, y := range q.seams(e)[1:len(q.Plan.Borders)] {
		q.seamBehind(p, f, outline, y, y+toward)
	}
}

// seamBehind is one seam along a piece, at y across it, and the raw edge of its allowances; the
// edge is left out where it is too near to be told from the seam.
func (q Quilt) seamBehind(p *pen, f frame, outline []pt, y, edge float64) {
	if left, right := across(outline, y); left < right {
		p.line("thread", f.at(left, y), f.at(right, y))
	}
	if left, right := across(outline, edge); left < right && q.seam()*f.scale() > 4 {
		p.line("edgebehind", f.at(left, edge), f.at(right, edge))
	}
}
