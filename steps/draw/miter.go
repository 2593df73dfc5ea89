package draw

import "fmt"

// atNeedle is the folded corner as it lies at the machine and under the ruler: the dot at the
// top, the miter running toward the person, the tails right of it.
// tip is where the line of the strip on top ends, last where the thread of both strips does.
func (q Quilt) atNeedle(s Scene, room box, dot pt, long float64) (v cornerView, tip, last pt) {
	v = q.cornerAtTable(s)
	over, under := v.ends()
	m := v.miter().unit()
	k := min(long/max(over.long(), under.long()), 64/v.seam())
	v.room = room
	v.f = move(dot.x, dot.y).of(scale(k)).of(frame{m.y, m.x, -m.x, m.y, 0, 0})
	return v, v.to(over), v.to(m.times(min(over.long(), under.long())))
}

// miterSewn is sewn from the dot to the outer edge; the needle has left the dot.
func (q Quilt) miterSewn(p *pen, s Scene) string {
	room := box{12, 12, 404, 488}
	v, tip, _ := q.atNeedle(s, room, pt{228, 86}, 372)
	v.foldedLayers(p, true)
	dot := v.at(0, 0)
	p.line("dim", dot, tip)
	at := dot.to(tip, 0.3)
	for _, t := range []float64{0.62, 0.84} {
		v.pinAcross(p, dot.to(tip, t), pt{0, 1})
	}
	p.line("stitch", dot, at)
	p.foot(at, 1, 0)                                            // along a line, no guide
	p.line("stitch", dot.plus(pt{-7, 8}), dot.plus(pt{-7, 44})) // backstitched
	beside := pt{66, 0}
	p.arrow("arrow", dot.to(tip, 0.46).plus(beside), dot.to(tip, 0.84).plus(beside))
	p.dot(dot)
	p.shape("frame", room.corners()...)
	p.words(pt{420, 44}, after, word{"t", fmt.Sprint("corner ", s.Corner)})
	p.words(pt{420, 220}, after, word{"t", "dot to"}, word{"t", "edge"})
	p.words(pt{420, 440}, after, word{"ts", "wrong"}, word{"ts", "side up"})
	return fmt.Sprintf(", folded, as it lies at the machine, the %s wrong side up, the quilt left of the needle, the tails right: sewn from the dot outward to the edge, %s",
		v.name(v.over), q.drawn(edgesOf(v.over)).Shown())
}

// miterTrimmed is cut a seam allowance from the stitches: the ruler lies on what is kept, its
// line on the stitches, the tails right of its edge; the blade goes away from the person.
func (q Quilt) miterTrimmed(p *pen, s Scene) string {
	p.forHand(q)
	room := box{12, 12, 306, 488}
	v, tip, last := q.atNeedle(s, room, pt{172, 96}, 348)
	v.foldedLayers(p, true)
	dot := v.at(0, 0)
	off := v.seam() * v.k()
	p.line("stitch", dot, last)
	v.tailsCut(p, box{dot.x + off, room.top, room.right, room.bottom})
	if _, under := v.ends(); v.to(under).y > tip.y { // the cut takes both strips
		tip = v.to(under)
	}
	p.ruler(pt{dot.x + off, tip.y + 22}, pt{dot.x + off, dot.y - 40}, 84, v.rulerStep(v.k()))
	p.blade(pt{dot.x + off, tip.y + 22}, pt{dot.x + off, dot.y - 26})
	p.dot(dot)
	p.shape("frame", room.corners()...)
	before, after := box{340, 12, 588, 182}, box{340, 200, 588, 370}
	if p.turned { // the first stays above
		before, after = after, before
	}
	p.line("leader", dot.to(tip, 0.32).plus(pt{off, 0}), pt{before.left, before.middle().y})
	p.trimClose(before, false)
	p.trimClose(after, true)
	p.words(pt{466, 432}, amid, word{"tn", q.Sheet.Seam.Exactly()}, word{"ts", "wrong side up"})
	return fmt.Sprintf(", folded, the %s wrong side up: the ruler on what is kept, its line on the stitching, both tails cut off %s beyond it, away from the person; close by, before the cut and after", v.name(v.over), q.Sheet.Seam.Exactly())
}

// trimClose is a piece of the miter close by: the ruler's line on the stitches, its edge where
// the tails come off; and once they are off.
func (p *pen) trimClose(room box, trimmed bool) {
	const allowance = 56.0
	x := room.left + 110
	cut := x + allowance
	p.shape("wrong", box{room.left, room.top, cut, room.bottom}.corners()...)
	p.line("stitch", pt{x, room.top}, pt{x, room.bottom})
	if trimmed {
		p.line("raw", pt{cut, room.top}, pt{cut, room.bottom})
	} else {
		p.shape("ghostfill", box{cut, room.top, room.right, room.bottom}.corners()...)
		p.ruler(pt{cut, room.bottom}, pt{cut, room.top}, 120, allowance/2)
		p.line("rulerdrawn", pt{x, room.top}, pt{x, room.bottom})
		p.line("cutline", pt{cut, room.bottom}, pt{cut, room.top})
	}
	p.dim(pt{x, room.middle().y}, pt{cut, room.middle().y})
	p.shape("frame", room.corners()...)
}

// tailsCut pales what of the tails comes off: all of both strips in a box of the drawing.
func (v cornerView) tailsCut(p *pen, waste box) {
	_, under := v.tails()
	for _, outline := range [][]pt{v.f.all(v.underStrip(under)), v.f.of(v.folded()).all(v.overStrip(v.cutAway()))} {
		p.shape("ghostfill", waste.in(outline)...)
	}
}
