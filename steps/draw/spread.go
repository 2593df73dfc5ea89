package draw

import (
	"fmt"

	"cornerwise/calc"
)

// spread is the corner flat and wrong side up, the strip that is worked on lying
// over the other: unequal bands get their lines before they are folded.
func (q Quilt) spread(p *pen, s Scene) string {
	seam := q.seam()
	miter := pt{q.band(calc.Sides), q.band(calc.TopBottom)}
	sides, top := miter.x+seam, miter.y+seam
	own := calc.TopBottom
	if s.Act == "line-sides" {
		own = calc.Sides
	}
	end := miter.times(top / miter.y)
	if own == calc.Sides {
		end = miter.times(sides / miter.x)
	}
	room := box{24, 24, 572, 424}
	k := min(350/max(end.x, sides), 270/max(end.y, top))
	if s.Act == "turn" {
		k = min(300/sides, 240/top)
	}
	reachX, reachY := max(end.x, sides)*k, max(end.y, top)*k
	if s.Act == "turn" {
		reachX, reachY = sides*k, top*k
	}
	f := frame{k, 0, 0, -k, room.right - 44 - max(reachX, 60), room.top + 24 + max(reachY, 90)}
	inch := box{(room.left - f.e) / k, -(room.bottom - f.f) / k, (room.right - f.e) / k, (f.f - room.top) / k}

	p.shape("wrongcenter", f.all(box{inch.left, inch.top, 0, 0}.corners())...)
	w, l := q.along(calc.TopBottom), q.along(calc.Sides)
	q.copingBehind(p, f.of(frame{1, 0, 0, -1, -w, -l}), box{max(inch.left, -2*w) + w, -l, w, min(-inch.top, 2*l) - l}.corners())
	strip := func(e calc.Edges) {
		t, wide := q.tail(e), q.band(e)+seam
		at := frame{1, 0, 0, 1, 0, 0}
		least, most := inch.left, inch.right
		if e == calc.Sides {
			at = frame{0, 1, 1, 0, 0, 0}
			least, most = inch.top, inch.bottom
		}
		long := min(t, most)
		g := f.of(at)
		outline := []pt{{least, 0}, {0, 0}, {seam, -seam}, {long, -seam}, {long, wide}, {least, wide}}
		p.shape("wrong", g.all(outline)...)
		var seams []pt
		cuts := q.seams(e)
		for _, y := range cuts[1 : len(cuts)-1] {
			seams = append(seams, g.at(least, y), g.at(long, y))
		}
		p.lines("seam", seams...)
		p.line("raw", g.at(0, 0), g.at(seam, -seam), g.at(long, -seam))
		p.line("raw", g.at(long, wide), g.at(least, wide))
		if long == t {
			p.line("raw", g.at(long, -seam), g.at(long, wide))
		} else {
			p.torn2(g.at(long, -seam), g.at(long, wide))
		}
	}
	strip(own.Neighbor())
	strip(own)
	p.lines("stitch", f.at(inch.left, 0), f.at(0, 0), f.at(0, 0), f.at(0, inch.top))
	p.torn(pt{room.left + 8, room.bottom}, pt{room.left + 8, room.top})
	p.torn(pt{room.right, room.bottom - 8}, pt{room.left, room.bottom - 8})
	dot := f.at(0, 0)
	if s.Act == "turn" {
		p.dot(dot)
		q.turnClose(p, dot, pt{146, 296}, true)
		p.text("ts", pt{width / 2, 466}, amid, "wrong side up")
		return ", wrong side up: the seam allowance at the dot turned out of the way and pinned"
	}
	tip := f.at(end.x, end.y)
	p.arrow("chalkline", dot, tip)
	along := pt{1, 0}
	if own == calc.Sides {
		along = pt{0, -1}
	}
	p.arc(dot, along, tip.minus(dot), min(70, end.long()*k*0.6))
	// The point square across from the dot, and from there along the raw outer edge.
	across, point := f.at(0, top), q.Sheet.Corner.OutAlongTopBottom
	if own == calc.Sides {
		across, point = f.at(sides, 0), q.Sheet.Corner.OutAlongSides
	}
	p.line("ghost", dot, across)
	p.dim(across, tip)
	p.dot(dot)
	p.text("ts", pt{34, 396}, after, "wrong side up")
	number, at := point.Shown(), degrees(q.angle(own))
	p.text("tn", pt{width / 2, 464}, amid, number+" along, "+at)
	return fmt.Sprintf(", wrong side up: on the %s strip the line runs from the dot to the outer edge, which it meets %s along from the point square across, at %s to the seam",
		map[calc.Edges]string{calc.Sides: "side", calc.TopBottom: "top or bottom"}[own], number, at)
}
