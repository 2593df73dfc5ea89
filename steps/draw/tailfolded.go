package draw

import (
	"fmt"

	"cornerwise/calc"
)

// tailFolded is the corner where the seam will start, right side up as it lies on the table:
// the tail of the strip that is sewn there is folded back at the dot over its own strip, and
// pinned.
func (q Quilt) tailFolded(p *pen, edge string, room box) {
	first, corner := neighborAt(edge, sewnFrom[edge][0]), sewnFrom[edge][0]
	n, seam := edgesOf(first), q.seam()
	wide := q.band(n) + seam
	x, y := cornerPlace(corner)
	dot := pt{x * q.along(calc.TopBottom), y * q.along(calc.Sides)}
	on := q.on(first)
	out := on.at(0, 1).minus(on.at(0, 0))                   // across the strip, away from the center
	back := pt{-x, -y}.minus(out.times(-x*out.x - y*out.y)) // along it, away from its end
	k := min(room.right-room.left, room.bottom-room.top) / (1.7 * wide)
	at := dot.plus(out.times(0.35 * wide)).plus(back.times(0.5 * wide))
	f := room.middleFrame(k, at)
	strip := func(along, across float64) pt { // from the dot, in the quilt's places
		return dot.plus(back.times(along)).plus(out.times(across))
	}
	const far = 1e3
	q.layIn(p, room, "center", f, []pt{strip(-seam, 0), strip(far, 0), strip(far, -far), strip(-seam, -far)})
	p.lineIn("raw", room, f.all([]pt{strip(-seam, 0), strip(-seam, -far)})...)
	q.layIn(p, room, first, f, []pt{strip(0, 0), strip(0, wide), strip(far, wide), strip(far, 0)})
	p.lineIn("raw", room, f.all([]pt{strip(0, wide), strip(far, wide)})...)
	tail := min(q.tail(n), 0.8*wide)
	over := f.of(turnedOver(dot, out))
	q.layIn(p, room, first, over, []pt{strip(0, -seam), strip(0, wide), strip(-tail, wide), strip(-tail, -seam)})
	p.lineIn("raw", room, f.all([]pt{strip(0, -seam), strip(tail, -seam)})...)
	p.lineIn("raw", room, f.all([]pt{strip(tail, wide), strip(0, wide)})...)
	if end := f.all([]pt{strip(tail, -seam), strip(tail, wide)}); tail < q.tail(n) {
		p.torn2(end[0], end[1])
	} else {
		p.line("raw", end...)
	}
	p.lineIn("fold", room, f.all([]pt{strip(0, -seam), strip(0, wide)})...)
	pinned := strip(tail*0.62, wide*0.45)
	p.pin(f.at(pinned.x, pinned.y), back)
	p.shape("frame", room.corners()...)
	p.text("ts", f.at(dot.x, dot.y).plus(pt{-30 * x, -30 * y}), amid, fmt.Sprint(corner))
}

// neighborAt is the edge that meets an edge at one of its corners.
func neighborAt(edge string, corner int) string {
	over, under := FoldedOver(corner)
	if over == edge {
		return under
	}
	return over
}
