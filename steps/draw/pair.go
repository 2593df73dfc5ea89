package draw

import "cornerwise/calc"

// pair is the center with both pairs of bands, right side up: the first sewn on, with its tails,
// the second waiting beside.
func (q Quilt) pair(p *pen, s Scene) string {
	first := s.Edges
	if first == "" {
		first = calc.Sides
	}
	seam := q.seam()
	gap := 0.04 * max(q.width(), q.length())
	reach := func(e calc.Edges) float64 { // how far bands on e stand out from the middle
		out := q.along(e.Neighbor()) + q.band(e) + seam
		if e != first {
			out += gap
		}
		return 2 * max(out, q.half(e.Neighbor()))
	}
	f := box{12, 12, width - 12, height - 12}.fit(reach(calc.Sides), reach(calc.TopBottom))
	q.lay(p, "center", f, q.centerOutline())
	p.shape("raw", f.all(q.centerOutline())...)
	for _, edge := range edgeNames {
		if e := edgesOf(edge); e != first {
			p.shape("ghostfill", f.of(q.on(edge)).all(box{-q.half(e), gap, q.half(e), gap + q.band(e) + seam}.corners())...)
		}
	}
	for _, edge := range edgeNames {
		e := edgesOf(edge)
		if e != first {
			continue
		}
		on := f.of(q.on(edge))
		long, a := q.half(e), q.along(e)
		top := q.band(e) + seam // its inner allowance lies beneath it between the dots, and is free beyond
		outline := []pt{{-long, -seam}, {-a - seam, -seam}, {-a, 0}, {a, 0}, {a + seam, -seam}, {long, -seam}, {long, top}, {-long, top}}
		q.lay(p, edge, f, q.on(edge).all(outline))
		p.line("raw", on.all(append(outline[3:], outline[:3]...))...)
		p.line("seam", on.at(-a, 0), on.at(a, 0))
	}
	p.text("td", f.at(0, 0), amid, "1: "+map[calc.Edges]string{calc.Sides: "left, right", calc.TopBottom: "top, bottom"}[first])
	return map[calc.Edges]string{
		calc.Sides:     "The center, right side up, with the left and right bands sewn first, their tails hanging free; top and bottom wait",
		calc.TopBottom: "The center, right side up, with the top and bottom bands sewn first, their tails hanging free; left and right wait",
	}[first]
}
