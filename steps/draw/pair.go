package draw

import "cornerwise/calc"

// pair is the center with both pairs of bands, the first with its tails, the
// second waiting beside.
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
	l, w := q.length()/2, q.width()/2
	q.patch(p, f, q.centerOutline())
	p.shape("raw", f.all(box{-w, -l, w, l}.corners())...)
	for _, edge := range edgeNames {
		if e := edgesOf(edge); e != first {
			long := q.half(e)
			p.shape("ghostfill", f.of(q.on(edge)).all(box{-long, gap, long, gap + q.band(e) + seam}.corners())...)
		}
	}
	for _, edge := range edgeNames {
		e := edgesOf(edge)
		on := f.of(q.on(edge))
		long := q.half(e)
		if e == first {
			outline := box{-long, 0, long, q.band(e) + seam}.corners()
			q.bandFabric(p, e, on, outline)
			p.shape("raw", on.all(outline)...)
			a := q.along(e)
			p.line("stitch", on.at(-a, 0), on.at(a, 0))
			p.dot(on.at(-a, 0))
			p.dot(on.at(a, 0))
		}
	}
	p.text("td", f.at(0, 0), amid, "1: "+map[calc.Edges]string{calc.Sides: "left, right", calc.TopBottom: "top, bottom"}[first])
	return map[calc.Edges]string{
		calc.Sides:     "The center with the left and right bands sewn first, their tails hanging free; top and bottom wait",
		calc.TopBottom: "The center with the top and bottom bands sewn first, their tails hanging free; left and right wait",
	}[first]
}
