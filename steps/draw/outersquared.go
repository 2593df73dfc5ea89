package draw

import "fmt"

// outerSquared is the bordered top's outer corner close by, right side up, a square ruler on
// it: a blade along its right edge would go away from the person, so the table is turned until
// the ear at one edge lies right of the ruler, then the one at the other.
func (q Quilt) outerSquared(p *pen, s Scene) string {
	p.forHand(q)
	v := q.cornerAtTable(s)
	out, down := -v.wide-v.seam(), -v.deep-v.seam()
	show := max(min(1.5*max(-out, -down), 14), 4*v.seam())
	// Each corner is turned so that it lies at the top right.
	room := box{60, 74, 500, 416}
	v = v.fitted(room, box{out, down, out + show, down + show}, quarterTurns(1))
	v.room = box{room.left, 12, width - 12, room.bottom}
	end := v.miter().times(2)
	edge := box{out, down, far, far}
	v.flaps(p)
	v.place(p, "center", still, []pt{{0, 0}, {far, 0}, {far, far}, {0, far}})
	v.placeIn(p, edge, v.under, []pt{{far, down}, end, {0, 0}, {far, 0}})
	v.placeIn(p, edge, v.over, []pt{{0, 0}, end, {out, far}, {0, far}})
	v.line(p, "seam", still, pt{far, 0}, pt{}, pt{0, far})
	if a, b, ok := edge.line(pt{}, end); ok {
		v.line(p, "seam", still, a, b)
	}
	tip := v.at(out, down)
	v.line(p, "raw", still, pt{far, down}, pt{out, down}, pt{out, far})
	low := pt{tip.x, v.room.bottom}
	long := 0.86 * (low.y - tip.y)
	p.ruler(tip.plus(pt{0, long}), tip, long, v.rulerStep(v.k()))
	p.blade(pt{tip.x, v.room.bottom - 8}, pt{tip.x, tip.y + 12})
	p.text("ts", tip.plus(pt{40, -34}), amid, fmt.Sprint(s.Corner))
	p.text("t", pt{tip.x - long*0.55, tip.y + long*0.5}, amid, "square ruler")
	p.text("t", pt{width / 2, 462}, amid, "ears off, edge by edge")
	lies := map[bool]string{false: "top right", true: "bottom left"}[q.LeftHand]
	return ", right side up, turned so that it lies at the " + lies + ": the ears of the miter's allowances stick out at it; a square ruler on what is kept, the blade along its edge, away from the person, then the same at the other edge"
}
