package draw

import (
	"fmt"

	"cornerwise/calc"
)

// ends are the corners at an edge's two ends as drawn: left then right, or top
// then bottom. Over, the center lies wrong side up and its ends have changed
// points; the edge itself stays where it lies on the table.
func ends(edge string, over bool) (first, last int) {
	c := map[string][2]int{"top": {1, 2}, "bottom": {4, 3}, "left": {1, 4}, "right": {2, 3}}[edge]
	if over {
		return c[1], c[0]
	}
	return c[0], c[1]
}

func (q Quilt) edge(p *pen, s Scene) string {
	p.onEdge(s.Edge)
	if s.Act == "press" {
		return q.edgePressed(p, s)
	}
	e, seam := edgesOf(s.Edge), q.seam()
	half, dot := q.half(e), q.along(e)
	cut := q.band(e) + 2*seam

	// The room: the edge along one side of it, the center going into it.
	const deep = 168.0
	var f frame
	if upright(s.Edge) {
		f = lay(s.Edge, height/2, width-56, min(236/half, 34/seam))
	} else {
		f = lay(s.Edge, width/2, 56, min(284/half, 34/seam))
	}
	k := f.scale()
	// A band wider than the room makes the edge shorter, down to a least length.
	if most := max(deep/(cut+seam), 120/half); k > most {
		f = f.of(scale(most / k))
		k = most
	}
	view := seam - deep/k
	far := seam - in(q.Sheet.Center.Along(e.Neighbor()).Length) // the center's other edge
	low := max(far, view)

	under := f.of(frame{1, 0, 0, -1, 0, 0})
	lie := func(at frame, b box) { // the band, right side up beneath
		q.bandFabric(p, e, at, []pt{{b.left, -b.bottom}, {b.right, -b.bottom}, {b.right, -b.top}, {b.left, -b.top}})
	}
	bandLow := max(view, seam-cut)
	lie(under, box{-half, bandLow, half, seam})
	rim := []pt{f.at(-half, bandLow), f.at(-half, seam), f.at(half, seam), f.at(half, bandLow)}
	if bandLow > view {
		rim = append(rim, rim[0])
	}
	p.line("raw", rim...)
	if s.Second {
		q.firstPair(p, e, f, view)
	}
	center := box{-dot - seam, low, dot + seam, seam}
	p.shape("wrongcenter", f.all(center.corners())...)
	lies := q.on(s.Edge)
	q.copingBehind(p, f.of(inverse(lies)), lies.all(center.corners()))
	p.line("raw", f.at(center.left, low), f.at(center.left, seam), f.at(center.right, seam), f.at(center.right, low))
	if low > view {
		p.line("raw", f.at(center.left, low), f.at(center.right, low))
	}
	if bandLow > low {
		p.line("ghost", f.at(center.left, bandLow), f.at(center.right, bandLow))
	}
	if low == view || bandLow == view {
		reach := max(half, dot+q.band(e.Neighbor())) + 12/k
		p.torn(f.at(reach, view+8/k), f.at(-reach, view+8/k))
	}
	p.lines("chalk", f.at(0, seam+12/k), f.at(0, seam-16/k))

	a, b := f.at(-dot, 0), f.at(dot, 0)
	first, last := ends(s.Edge, true)
	apart := max(0, 44-b.minus(a).long()) / 2 // so that the corners' numbers stay clear of each other
	beside := pt{0, -34}
	if upright(s.Edge) {
		beside = pt{34, 0}
	}
	p.text("ts", a.plus(beside).minus(b.minus(a).unit().times(apart)), amid, fmt.Sprint(first))
	p.text("ts", b.plus(beside).plus(b.minus(a).unit().times(apart)), amid, fmt.Sprint(last))

	say := ""
	across := f.at(0, 0).minus(f.at(0, 1))
	switch s.Act {
	case "pin":
		n := 8
		for n > 1 && b.minus(a).long() < 24*float64(n) {
			n /= 2
		}
		for _, t := range halved(n) {
			p.pin(f.at(t*dot, seam-24/k), across)
		}
		say = "pinned: middles, ends, then between"
		q.endClose(p, s, pt{138, 374}, pt{210, 126}, a, -1)
	case "sew":
		p.line("stitch", a, b)
		say = fmt.Sprintf("sewn from dot to dot, %s in from the raw edge, backstitched at both", q.Sheet.Seam.Exactly())
		mid := f.at(0, -30/k)
		along := b.minus(a).unit()
		way := min(70, 0.4*b.minus(a).long())
		p.arrow("arrow", mid.minus(along.times(way)), mid.plus(along.times(way)))
		q.endClose(p, s, pt{138, 374}, pt{210, 126}, a, -1)
	case "check":
		p.line("stitch", a, b)
		say = "both ends of the seam close by: the stitches end in the dots, not past them"
		q.endClose(p, s, pt{138, 374}, pt{210, 126}, a, -1)
		q.endClose(p, s, pt{450, 374}, pt{210, 374}, b, 1)
	}
	p.dot(a)
	p.dot(b)
	if s.Act != "check" {
		words := map[string]string{"pin": "pins across", "sew": "dot to dot"}[s.Act]
		if s.Act == "sew" && s.Second {
			words = "hole to hole"
		}
		lines := []word{{"t", words}, {"ts", "wrong side up"}}
		if s.Second {
			lines = append(lines, word{"ts", "tails away"})
		}
		if upright(s.Edge) {
			p.words(pt{24, 360}, after, lines...)
		} else {
			p.words(pt{282, 374}, after, lines...)
		}
	}
	tails := ""
	if s.Second {
		tails = "; the first strips' tails are folded away"
	}
	return fmt.Sprintf("%s edge, center wrong side up on the band, right sides together: %s%s", s.Edge, say, tails)
}

// firstPair are the neighboring bands, sewn before, wrong side up, their tails
// folded back over themselves so that the right side shows.
func (q Quilt) firstPair(p *pen, e calc.Edges, f frame, low float64) {
	n, seam, dot := e.Neighbor(), q.seam(), q.along(e)
	wide := q.band(n) + seam
	fold := -seam
	tail := min(q.half(n)-q.along(n)+fold, fold-low)
	for _, way := range []float64{-1, 1} {
		outline := box{dot, low, dot + wide, fold}.corners()
		g := f.of(frame{way, 0, 0, 1, 0, 0})
		p.shape("wrong", g.all(outline)...)
		back := frame{0, -1, 1, 0, dot, fold} // x down from the fold, y outward
		q.bandFabric(p, n, g.of(back), box{0, 0, tail, wide}.corners())
		p.line("raw", g.at(dot+wide, low), g.at(dot+wide, fold))
		p.line("raw", g.at(dot, fold-tail), g.at(dot+wide, fold-tail))
		p.line("fold", g.at(dot, fold), g.at(dot+wide, fold))
	}
}

// endClose is the end of a seam close by, in a round window: at pos as the top
// edge is drawn, or at side as the right one is. way is -1 for its first end.
func (q Quilt) endClose(p *pen, s Scene, top, right, from pt, way float64) {
	eye := top
	if upright(s.Edge) {
		eye = right
	}
	e, seam := edgesOf(s.Edge), q.seam()
	p.line("leader", from, eye)
	p.into(eye, func() {
		k := 50 / seam
		// x away from the edge's middle, y out of the center; the dot at the origin.
		c := frame{way * k, 0, 0, -k, way * -12, 10}
		if upright(s.Edge) {
			c = frame{0, way * k, k, 0, -10, way * -12}
		}
		r := 4 * seam
		dot := q.along(e)
		q.bandFabric(p, e, c.of(frame{1, 0, 0, -1, -dot, 0}), []pt{{dot - r, -seam}, {dot + r, -seam}, {dot + r, r}, {dot - r, r}})
		p.line("raw", c.at(-r, seam), c.at(r, seam))
		if s.Second {
			p.shape("wrong", c.all(box{0, -r, r, -0.7 * seam}.corners())...)
			p.line("fold", c.at(0, -0.7*seam), c.at(r, -0.7*seam))
		}
		p.shape("wrongcenter", c.all(box{-r, -r, seam, seam}.corners())...)
		p.line("raw", c.at(-r, seam), c.at(seam, seam), c.at(seam, -r))
		if s.Second {
			p.line("stitch", c.at(0, 0), c.at(0, -r))
		}
		across := c.at(0, 0).minus(c.at(0, 1))
		switch s.Act {
		case "pin":
			at := c.at(0, 0)
			p.use("pin", move(at.x, at.y).of(facing(across)).of(scale(1.8)))
		case "sew", "check":
			p.line("stitch", c.at(0, 0), c.at(-r, 0))
			p.line("stitch", c.at(-0.1*seam, -0.14*seam), c.at(-1.1*seam, -0.14*seam))
		}
		p.dot(c.at(0, 0))
		if s.Act == "sew" {
			at := c.at(0, 0)
			p.use("needle", move(at.x, at.y))
		}
	})
}

// edgePressed is the edge opened, right side up, the iron on its seam.
func (q Quilt) edgePressed(p *pen, s Scene) string {
	e, seam := edgesOf(s.Edge), q.seam()
	half, dot, wide := q.half(e), q.along(e), q.band(e)+seam
	n := e.Neighbor()
	reach := half
	if s.Second {
		reach = max(half, dot+q.band(n)+seam)
	}
	const most = 250.0
	k := 284 / reach
	if upright(s.Edge) {
		k = 236 / reach
	}
	tail := 0.0
	if s.Second {
		tail = max(0, q.half(n)-q.along(n)-wide) * k
	}
	high := min(wide*k, most)
	tail = min(tail, 60)
	f := lay(s.Edge, width/2, 24+tail+high, k)
	if upright(s.Edge) {
		f = lay(s.Edge, height/2, width-24-tail-high, k)
	}
	top := high / k
	room := 428 - f.f
	if upright(s.Edge) {
		room = f.e - 205
	}
	far := in(q.Sheet.Center.Along(n).Length) - 2*seam
	low := -min(far, room/k)
	if s.Second {
		for _, way := range []float64{-1, 1} {
			g := f.of(frame{way, 0, 0, 1, 0, 0}).of(frame{0, 1, 1, 0, dot, 0})
			outline := box{low, 0, top + tail/k, q.band(n) + seam}.corners()
			q.bandFabric(p, n, g, outline)
			p.line("raw", g.at(low, q.band(n)+seam), g.at(top+tail/k, q.band(n)+seam), g.at(top+tail/k, -seam), g.at(0, -seam))
		}
	}
	x := dot
	if !s.Second {
		x += seam
	}
	center := box{-x, low, x, 0}.corners()
	lies := q.on(s.Edge)
	q.patch(p, f.of(inverse(lies)), lies.all(center))
	p.line("raw", f.at(-x, 0), f.at(-x, low))
	p.line("raw", f.at(x, 0), f.at(x, low))
	q.bandFabric(p, e, f, []pt{{-half, -seam}, {-dot - seam, -seam}, {-dot, 0}, {dot, 0}, {dot + seam, -seam}, {half, -seam}, {half, top}, {-half, top}})
	p.line("raw", f.at(-dot, 0), f.at(-dot-seam, -seam), f.at(-half, -seam), f.at(-half, top), f.at(half, top), f.at(half, -seam), f.at(dot+seam, -seam), f.at(dot, 0))
	if top < wide {
		p.torn(f.at(-half-12/k, top-8/k), f.at(half+12/k, top-8/k))
	}
	p.line("stitch", f.at(-dot, 0), f.at(dot, 0))
	if s.Second {
		p.lines("stitch", f.at(-dot, 0), f.at(-dot, low), f.at(dot, 0), f.at(dot, low))
	}
	if far > -low {
		end := max(x, dot+q.band(n)+seam) + 12/k
		p.torn(f.at(end, low+8/k), f.at(-end, low+8/k))
	} else {
		p.line("raw", f.at(-x, low), f.at(x, low))
	}
	p.dot(f.at(-dot, 0))
	p.dot(f.at(dot, 0))
	out := f.at(0, 1).minus(f.at(0, 0)).unit()
	along := f.at(1, 0).minus(f.at(0, 0)).unit()
	on := f.at(0, 0).minus(along.times(20))
	p.iron(on, along, 0.9)
	from := on.minus(along.times(50))
	p.arrow("arrow", from.minus(out.times(36)), from.plus(out.times(min(44, high*0.8))))
	if upright(s.Edge) {
		p.words(pt{16, 60}, after, word{"t", "toward"}, word{"t", "the border"})
	} else {
		p.text("t", pt{width / 2, 468}, amid, "toward the border")
	}
	return fmt.Sprintf("%s edge opened, right side up: the seam pressed toward the border, the tails hanging free beyond the dots", s.Edge)
}

// halved are where pins stand by halving, from -1 to 1: n spaces, a power of 2.
func halved(n int) []float64 {
	var at []float64
	for i := 0; i <= n; i++ {
		at = append(at, -1+2*float64(i)/float64(n))
	}
	return at
}
