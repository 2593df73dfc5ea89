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
	room := box{12, 12, 322, 488}
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
	mid := dot.to(tip, 0.32)
	eye := pt{466, 132}
	p.line("leader", mid.plus(pt{off, 0}), eye)
	p.into(eye, func() {
		const cut = 52.0 // the allowance in the window
		p.shape("wrong", box{-130, -130, 130, 130}.corners()...)
		p.shape("ghostfill", box{cut / 2, -130, 130, 130}.corners()...)
		p.line("stitch", pt{-cut / 2, -130}, pt{-cut / 2, 130})
		p.ruler(pt{cut / 2, 130}, pt{cut / 2, -130}, 100, 26)
		p.line("rulerline", pt{-cut / 2, -130}, pt{-cut / 2, 130})
		p.line("cutline", pt{cut / 2, 130}, pt{cut / 2, -130})
		p.dim(pt{-cut / 2, 56}, pt{cut / 2, 56})
	})
	p.words(pt{470, 318}, amid, word{"tn", q.Sheet.Seam.Exactly()}, word{"t", "beyond seam"})
	p.words(pt{470, 436}, amid, word{"ts", "wrong"}, word{"ts", "side up"})
	return fmt.Sprintf(", folded, the %s wrong side up: the ruler on what is kept, its line on the stitching, both tails cut off %s beyond it, away from the person", v.name(v.over), q.Sheet.Seam.Exactly())
}

// tailsCut pales what of the tails comes off: all of both strips in a box of the drawing.
func (v cornerView) tailsCut(p *pen, waste box) {
	_, under := v.tails()
	for _, outline := range [][]pt{v.f.all(v.underStrip(under)), v.f.of(v.folded()).all(v.overStrip(v.cutAway()))} {
		p.shape("ghostfill", waste.in(outline)...)
	}
}
