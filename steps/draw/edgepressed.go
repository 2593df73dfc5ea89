package draw

import "fmt"

// edgePressed is the edge opened, right side up and where it lies on the table, the iron on
// its seam.
func (q Quilt) edgePressed(p *pen, s Scene) string {
	e, seam := edgesOf(s.Edge), q.seam()
	n := e.Neighbor()
	half, dot, wide, next := q.half(e), q.along(e), q.band(e)+seam, q.band(n)+seam
	reach := half
	if s.Second {
		reach = max(half, dot+next)
	}
	k := 284 / reach
	if upright(s.Edge) {
		k = 236 / reach
	}
	high := min(wide*k, 250.0) // of the band, from its seam
	tail := 0.0                // of the first pair, beyond it
	if s.Second {
		tail = clamp(q.tail(n)*k-high, 0, 60)
	}
	base := 24 + tail + high
	at := map[string]pt{"top": {width / 2, base}, "bottom": {width / 2, height - base}, "left": {base, height / 2}, "right": {width - base, height / 2}}[s.Edge]
	deep := height - 140 - base // into the center
	if upright(s.Edge) {
		deep = width - 244 - base
	}
	strip := q.on(s.Edge)
	lies := strip.at(0, 0)
	f := move(at.x, at.y).of(scale(k)).of(move(-lies.x, -lies.y))
	g := f.of(strip)
	far := in(q.Sheet.Center.Along(n).Length) - 2*seam // the center's other seam
	low, top, above := -min(far, deep/k), high/k, (high+tail)/k
	on := func(b box) []pt { return strip.all(b.corners()) }

	x := dot // where the center ends along the edge
	if !s.Second {
		x += seam
	}
	for _, way := range []float64{-1, 1} {
		if !s.Second {
			break
		}
		a, b, c := way*dot, way*(dot+next), way*(dot-seam)
		q.lay(p, q.neighborOn(s.Edge, way), f, on(box{min(a, b), low, max(a, b), above}))
		q.lay(p, q.neighborOn(s.Edge, way), f, on(box{min(a, c), 0, max(a, c), above})) // the tail's allowance
		p.line("raw", g.at(b, low), g.at(b, above), g.at(c, above), g.at(c, 0))
	}
	q.lay(p, "center", f, on(box{-x, low, x, 0}))
	p.lines("raw", g.at(-x, 0), g.at(-x, low), g.at(x, 0), g.at(x, low))
	q.lay(p, s.Edge, f, strip.all([]pt{{-half, -seam}, {-dot - seam, -seam}, {-dot, 0}, {dot, 0}, {dot + seam, -seam}, {half, -seam}, {half, top}, {-half, top}}))
	p.line("raw", g.at(-dot, 0), g.at(-dot-seam, -seam), g.at(-half, -seam), g.at(-half, top), g.at(half, top), g.at(half, -seam), g.at(dot+seam, -seam), g.at(dot, 0))
	p.line("seam", g.at(-dot, 0), g.at(dot, 0))
	if s.Second {
		p.lines("seam", g.at(-dot, 0), g.at(-dot, low), g.at(dot, 0), g.at(dot, low))
	}
	if top < wide {
		q.tornBeyond(p, g, half, top, 1)
	}
	if far > -low {
		q.tornBeyond(p, g, max(x, dot+next), low, -1)
	} else {
		p.line("raw", g.at(-x, low), g.at(x, low))
	}

	along := pt{1, 0}
	if upright(s.Edge) {
		along = pt{0, 1}
	}
	mid := g.at(0, 0).minus(along.times(20))
	p.iron(mid, along, 0.9)
	// Words and side views stand where the picture leaves room: beside it, below it or above it.
	at = map[string]pt{"top": {width / 2, 396}, "bottom": {width / 2, 32}, "left": {width - 130, 60}, "right": {130, 60}}[s.Edge]
	if upright(s.Edge) {
		p.words(at, amid, word{"t", "toward"}, word{"t", "the border"})
	} else {
		p.text("t", at, amid, "toward the border")
	}
	before, after := at.plus(pt{-160, 54}), at.plus(pt{160, 54})
	if upright(s.Edge) {
		before, after = at.plus(pt{0, 84}), at.plus(pt{0, 210})
	}
	center, border := p.filled("p3"), q.fills(p, 0)
	if s.Edge == "left" { // as it lies on the table
		p.sections(before, after, border, center, -1)
	} else {
		p.sections(before, after, center, border, 1)
	}
	return fmt.Sprintf("%s edge opened, right side up: the seam pressed toward the border, the tails hanging free beyond the dots; from the side, its allowances standing, then lying beneath the border", s.Edge)
}

// neighborOn is the edge that meets an edge at its end along its own places: way is -1 or 1.
func (q Quilt) neighborOn(edge string, way float64) string {
	if upright(edge) {
		return map[float64]string{-1: "top", 1: "bottom"}[way]
	}
	return map[float64]string{-1: "left", 1: "right"}[way]
}

// tornBeyond wipes away what goes on beyond a line along an edge: out of the center where way
// is 1, into it where it is -1.
func (q Quilt) tornBeyond(p *pen, g frame, reach, at, way float64) {
	k := g.scale()
	a, b := g.at(-reach-12/k, at-way*8/k), g.at(reach+12/k, at-way*8/k)
	if out := g.at(0, at+way).minus(g.at(0, at)); facing(b.minus(a)).at(0, -1).x*out.x+facing(b.minus(a)).at(0, -1).y*out.y < 0 {
		a, b = b, a
	}
	p.torn(a, b)
}
