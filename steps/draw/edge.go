package draw

import (
	"fmt"

	"cornerwise/calc"
)

// An edge is pinned, sewn and checked as it lies at the machine: the center wrong side up on
// the band, the quilt left of the needle, the raw edges right of it, the seam running toward
// the person from the top of the picture down. So left is sewn from corner 1 to 4, bottom from
// 4 to 3, right from 3 to 2, top from 2 to 1.
var sewnFrom = map[string][2]int{"left": {1, 4}, "bottom": {4, 3}, "right": {3, 2}, "top": {2, 1}}

// SewnFrom are the corners from which and to which an edge is sewn.
func SewnFrom(edge string) (first, last int) { return sewnFrom[edge][0], sewnFrom[edge][1] }

func (q Quilt) edge(p *pen, s Scene) string {
	if s.Act == "press" {
		return q.edgePressed(p, s)
	}
	v := q.atMachine(s)
	v.layers(p)
	first, last := v.end(-1), v.end(1)
	say, words := "", word{}
	switch s.Act {
	case "pin":
		v.pins(p, -1)
		say, words = "pinned: middles, ends, then between", word{"t", "pins across"}
	case "sew":
		foot := first.to(last, 0.34)
		v.pins(p, -0.1)
		p.line("stitch", first, foot)
		p.foot(foot, 1, max(q.seam()*v.k, 20))
		say = fmt.Sprintf("sewn from dot to dot, %s in from the raw edge, backstitched at both", q.Sheet.Seam.Exactly())
		words = word{"t", "dot to dot"}
		if s.Second {
			words.text = "hole to hole"
		}
	case "check":
		p.line("stitch", first, last)
		say = "both ends of the seam close by: the stitches end in the dots, not past them"
	}
	v.numbers(p)
	p.dot(first)
	p.dot(last)
	if s.Second && s.Act == "pin" {
		q.turnedToMachine(p, box{24, 16, 300, 150}, s.Edge)
		p.words(pt{24, 200}, after, word{"ts", "wrong side up"})
		q.tailFolded(p, s.Edge, box{24, 250, 294, 394})
		p.words(pt{24, 446}, after, word{"t", "tails back,"}, words)
		return v.words(say + "; an inset shows a tail folded back over its own strip, right side up")
	}
	v.close(p, -1, pt{150, 126})
	if s.Act == "check" {
		v.close(p, 1, pt{150, 374})
		p.words(pt{274, height / 2}, after, word{"ts", "wrong"}, word{"ts", "side up"})
		return v.words(say)
	}
	lines := []word{words, {"ts", "wrong side up"}}
	q.turnedToMachine(p, box{24, 258, 300, 394}, s.Edge)
	p.words(pt{24, 448}, after, lines...)
	return v.words(say)
}

// An edgeView is an edge at the machine: its frame maps the strip's places (x along it from its
// middle toward the end of the seam, y out of the center from the seam) to the drawing's.
type edgeView struct {
	Quilt
	s         Scene
	e         calc.Edges
	f         frame
	k         float64
	dot, half float64 // along the seam from its middle: to a dot, and to the strip's end
	low       float64 // how far into the center the drawing goes
}

func (q Quilt) atMachine(s Scene) edgeView {
	const deep = 190.0
	e := edgesOf(s.Edge)
	v := edgeView{Quilt: q, s: s, e: e, dot: q.along(e), half: q.half(e)}
	reach := v.half
	if s.Second {
		reach = max(reach, v.dot+q.band(e.Neighbor())+q.seam())
	}
	cut := q.band(e) + 2*q.seam()
	v.k = min(232/reach, 34/q.seam())
	// A band wider than the room makes the edge shorter, down to a least length.
	if most := max(deep/(cut+q.seam()), 120/reach); v.k > most {
		v.k = most
	}
	v.f = frame{0, v.k, v.k, 0, width - 90, height / 2}
	v.low = q.seam() - deep/v.k
	return v
}

// strip is the frame of the edge's places on the quilt, x toward the end of the seam.
func (v edgeView) strip() frame {
	on := v.on(v.s.Edge)
	if !on.mirrors() {
		return on
	}
	return on.of(likePage)
}

// end is where the dot at the seam's first end lies, or at its last: way is -1 or 1.
func (v edgeView) end(way float64) pt { return v.f.at(way*v.dot, 0) }

// center is the frame of the center and of all that is sewn to it: wrong side up. The band
// lies beneath, folded back from the seam: right side up.
func (v edgeView) center() frame { return v.f.of(inverse(v.strip())) }
func (v edgeView) band() frame {
	return v.f.of(frame{1, 0, 0, -1, 0, 0}).of(inverse(v.strip()))
}

func (v edgeView) layers(p *pen) {
	seam, cut := v.seam(), v.Quilt.band(v.e)+2*v.seam()
	far := seam - in(v.Sheet.Center.Along(v.e.Neighbor()).Length) // the center's other edge
	low, bandLow := max(far, v.low), max(seam-cut, v.low)
	strip := v.strip()
	on := func(b box) []pt { return strip.all(b.corners()) }

	v.lay(p, v.s.Edge, v.band(), on(box{-v.half, -seam, v.half, -bandLow}))
	rim := v.f.all([]pt{{-v.half, bandLow}, {-v.half, seam}, {v.half, seam}, {v.half, bandLow}})
	if bandLow > v.low {
		rim = append(rim, rim[0])
	}
	p.line("raw", rim...)
	if v.s.Second {
		v.firstPair(p)
	}
	center := box{-v.dot - seam, low, v.dot + seam, seam}
	v.lay(p, "center", v.center(), on(center))
	p.line("raw", v.f.at(center.left, low), v.f.at(center.left, seam), v.f.at(center.right, seam), v.f.at(center.right, low))
	if low > v.low {
		p.line("raw", v.f.at(center.left, low), v.f.at(center.right, low))
	}
	if v.s.Second { // the seams that are sewn, from the dots inward
		p.lines("stitch", v.end(-1), v.f.at(-v.dot, low), v.end(1), v.f.at(v.dot, low))
	}
	if bandLow > low {
		p.line("ghost", v.f.at(center.left, bandLow), v.f.at(center.right, bandLow))
	}
	if low == v.low || bandLow == v.low {
		reach := max(v.half, v.dot+v.Quilt.band(v.e.Neighbor())) + 12/v.k
		p.torn(v.f.at(reach, v.low+8/v.k), v.f.at(-reach, v.low+8/v.k))
	}
	p.lines("chalk", v.f.at(0, seam+14/v.k), v.f.at(0, seam-20/v.k))
}

// firstPair are the neighboring bands, sewn before: wrong side up as the center is, their
// tails folded back at the dots onto their right sides, so that they lie beneath.
func (v edgeView) firstPair(p *pen) {
	n, seam := v.e.Neighbor(), v.seam()
	wide := v.Quilt.band(n) + seam
	strip := v.strip()
	for _, way := range []float64{-1, 1} {
		part := v.neighbor(way)
		outline := box{min(way*v.dot, way*(v.dot+wide)), v.low, max(way*v.dot, way*(v.dot+wide)), 0}
		v.lay(p, part, v.center(), strip.all(outline.corners()))
		p.line("raw", v.f.at(way*(v.dot+wide), v.low), v.f.at(way*(v.dot+wide), 0))
		p.line("fold", v.end(way), v.f.at(way*(v.dot+wide), 0))
		if tail := -v.tail(n); tail > v.low { // its end, beneath
			p.line("ghost", v.f.at(way*v.dot, tail), v.f.at(way*(v.dot+wide), tail))
		}
	}
}

// neighbor is the edge that meets this one at the first end of the seam, or at the last.
func (v edgeView) neighbor(way float64) string {
	if way < 0 {
		return neighborAt(v.s.Edge, sewnFrom[v.s.Edge][0])
	}
	return neighborAt(v.s.Edge, sewnFrom[v.s.Edge][1])
}

// pins stand across the seam by halving, heads beyond the raw edges, from a place along the
// seam on, -1 being its first dot. The one in the middle stands beside the mark.
func (v edgeView) pins(p *pen, from float64) {
	n, long := 8, v.end(1).minus(v.end(-1)).long()
	for n > 1 && long < 24*float64(n) {
		n /= 2
	}
	for _, t := range halved(n) {
		if t < from || from > -1 && t == 1 { // no pin in a dot while it is sewn
			continue
		}
		at := v.f.at(t*v.dot, v.seam()-24/v.k)
		if t == 0 {
			at = at.plus(pt{0, 13})
		}
		p.pin(at, pt{-1, 0})
	}
}

// numbers are the corners' at both ends, clear of each other.
func (v edgeView) numbers(p *pen) {
	from := sewnFrom[v.s.Edge]
	for i, way := range []float64{-1, 1} {
		at := v.end(way)
		if apart := 44 - v.end(1).minus(v.end(-1)).long(); apart > 0 {
			at.y += way * apart / 2
		}
		p.text("ts", at.plus(pt{40, 0}), amid, fmt.Sprint(from[i]))
	}
}

// close is one end of the seam in a round window.
func (v edgeView) close(p *pen, way float64, eye pt) {
	seam, from := v.seam(), v.end(way)
	p.line("leader", from, eye)
	p.into(eye, func() {
		k, r := 50/seam, 4*seam
		g := v
		g.k, g.low = k, -r
		g.f = frame{0, k, k, 0, -10, -way * (12 + k*v.dot)}
		strip, dot := v.strip(), way*v.dot
		on := func(b box) []pt { return strip.all(b.corners()) }
		g.lay(p, v.s.Edge, g.band(), on(box{dot - r, -seam, dot + r, r}))
		p.line("raw", g.f.at(dot-r, seam), g.f.at(dot+r, seam))
		if v.s.Second {
			out := dot + way*r
			g.lay(p, v.neighbor(way), g.center(), on(box{min(dot, out), -r, max(dot, out), 0}))
			p.line("fold", g.f.at(dot, 0), g.f.at(out, 0))
		}
		edge := dot + way*seam
		g.lay(p, "center", g.center(), on(box{min(edge, dot-way*r), -r, max(edge, dot-way*r), seam}))
		p.line("raw", g.f.at(dot-way*r, seam), g.f.at(edge, seam), g.f.at(edge, -r))
		if v.s.Second {
			p.line("stitch", g.f.at(dot, 0), g.f.at(dot, -r))
		}
		at := g.f.at(dot, 0)
		switch v.s.Act {
		case "pin":
			p.use("pin", move(at.x, at.y).of(facing(pt{-1, 0})).of(scale(1.8)))
		case "sew", "check": // backstitched: a few stitches beside the seam's own
			p.line("stitch", at, g.f.at(dot-way*r, 0))
			p.line("stitch", g.f.at(dot-way*0.1*seam, -0.14*seam), g.f.at(dot-way*1.1*seam, -0.14*seam))
		}
		p.dot(at)
	})
}

func (v edgeView) words(say string) string {
	tails := ""
	if v.s.Second {
		tails = "; the first strips' tails are folded away beneath, the earlier stitches show"
	}
	from := sewnFrom[v.s.Edge]
	return fmt.Sprintf("%s edge from corner %d to corner %d, as it lies at the machine: center wrong side up on the band, right sides together, raw edges at the right: %s%s",
		v.s.Edge, from[0], from[1], say, tails)
}

// halved are where pins stand by halving, from -1 to 1: n spaces, a power of 2.
func halved(n int) []float64 {
	var at []float64
	for i := 0; i <= n; i++ {
		at = append(at, -1+2*float64(i)/float64(n))
	}
	return at
}
