package draw

import "cornerwise/calc"

// A cornerView is one corner as it is drawn. Its places count in inches from the dot, turned so
// that every corner is like corner 1: the center lies right of the dot and below it, the strip
// that will be folded over left of it, running down, the strip beneath above it, running right.
// Folded so at every corner, the allowance of the miter lies right of the needle.
type cornerView struct {
	Quilt
	s           Scene
	over, under string  // the edges of the two strips
	wide, deep  float64 // the finished widths of their bands
	quilt       frame   // from its places to the quilt's
	f           frame   // from its places to the drawing's
	room        box     // that it is drawn in
}

// far is beyond any room, in inches.
const far = 1e4

func (q Quilt) cornerAtTable(s Scene) cornerView {
	over, under := FoldedOver(s.Corner)
	x, y := cornerPlace(s.Corner)
	return cornerView{Quilt: q, s: s, over: over, under: under,
		wide: q.band(edgesOf(over)), deep: q.band(edgesOf(under)),
		quilt: move(x*q.along(calc.TopBottom), y*q.along(calc.Sides)).of(quarterTurns(s.Corner - 1))}
}

// quarterTurns turns n times a quarter, clockwise.
func quarterTurns(n int) frame {
	return []frame{{1, 0, 0, 1, 0, 0}, {0, 1, -1, 0, 0, 0}, {-1, 0, 0, -1, 0, 0}, {0, -1, 1, 0, 0, 0}}[n%4]
}

// lies puts the corner into a room as it lies on the table, so that what is shown of its places
// fills it; turned over like a page where it lies wrong side up.
func (v cornerView) lies(room, shown box, wrong bool) cornerView {
	way := quarterTurns(v.s.Corner - 1)
	if wrong {
		way = likePage.of(way)
	}
	return v.fitted(room, shown, way)
}

// fitted puts the corner into a room, turned by a frame, so that what is shown fills it.
func (v cornerView) fitted(room, shown box, way frame) cornerView {
	corners := way.all(shown.corners())
	least, most := corners[0], corners[0]
	for _, at := range corners[1:] {
		least = pt{min(least.x, at.x), min(least.y, at.y)}
		most = pt{max(most.x, at.x), max(most.y, at.y)}
	}
	k := min((room.right-room.left)/(most.x-least.x), (room.bottom-room.top)/(most.y-least.y))
	v.f, v.room = room.middleFrame(k, least.to(most, 0.5)).of(way), room
	return v
}

func (v cornerView) at(x, y float64) pt { return v.f.at(x, y) }

// to is where a point of its places lies in the drawing, and k the scale.
func (v cornerView) to(at pt) pt { return v.f.at(at.x, at.y) }
func (v cornerView) k() float64  { return v.f.scale() }

// miter is the way from the dot to the finished outer corner; the fold goes on from it into the
// center, the other way.
func (v cornerView) miter() pt { return pt{-v.wide, -v.deep} }

// folded turns over the half of the corner that the strip over belongs to, about the fold.
func (v cornerView) folded() frame { return mirror(v.miter()) }

// place lays a part in the room, moved by a frame of the corner's own places.
func (v cornerView) place(p *pen, part string, moved frame, outline []pt) {
	v.layIn(p, v.room, part, v.f.of(moved).of(inverse(v.quilt)), v.quilt.all(outline))
}

// line draws a line of its places in the room, moved by a frame of them.
func (v cornerView) line(p *pen, class string, moved frame, points ...pt) {
	p.lineIn(class, v.room, v.f.of(moved).all(points)...)
}

// overStrip and underStrip are the strips flat, each as far as its tail: the allowance of the
// tail, beyond the dot, is free.
func (v cornerView) overStrip(tail float64) []pt {
	s, out := v.seam(), -v.wide-v.seam()
	return []pt{{out, far}, {out, -tail}, {s, -tail}, {s, -s}, {0, 0}, {0, far}}
}

func (v cornerView) underStrip(tail float64) []pt {
	s, out := v.seam(), -v.deep-v.seam()
	return []pt{{far, out}, {-tail, out}, {-tail, s}, {-s, s}, {0, 0}, {far, 0}}
}

// tails are how far the two strips hang beyond the dot.
func (v cornerView) tails() (over, under float64) {
	return v.tail(edgesOf(v.over)), v.tail(edgesOf(v.under))
}

// overHalf and underHalf are the center on either side of the fold.
func (v cornerView) overHalf() []pt  { return []pt{{0, 0}, v.miter().times(-far), {0, far}} }
func (v cornerView) underHalf() []pt { return []pt{{0, 0}, {far, 0}, v.miter().times(-far)} }

// onBorder is the allowance of the folded half where it was pressed: on the strip over.
func (v cornerView) onBorder() []pt {
	s := v.seam()
	return []pt{{0, 0}, {-s, -s * min(1, v.deep/v.wide)}, {-s, far}, {0, far}}
}

// ends are where the miter leaves the strip over, and where it leaves the strip beneath.
func (v cornerView) ends() (over, under pt) {
	s := v.seam()
	return v.miter().times((v.wide + s) / v.wide), v.miter().times((v.deep + s) / v.deep)
}

// shown is the box around the miter, so many times as large as it, and more to one side.
func (v cornerView) shown(out, in float64) box {
	over, under := v.ends()
	x, y := min(over.x, under.x, -v.wide-v.seam()), min(over.y, under.y, -v.deep-v.seam())
	most := max(-x, -y)
	return box{x - out*most, y - out*most, in * most, in * most}
}

// name is what a strip is called, and the edges that it belongs to.
func (v cornerView) name(edge string) string { return edge + " strip" }
