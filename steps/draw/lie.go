package draw

// At the machine a seam runs toward the person, who sits at the foot of the picture: the quilt
// lies left of the needle, the raw edges right of it. The fabric is turned for that, never
// mirrored.

var turns = map[string]frame{ // that bring what lies outward of an edge to the right
	"right": {1, 0, 0, 1, 0, 0}, "left": {-1, 0, 0, -1, 0, 0}, "top": {0, 1, -1, 0, 0, 0}, "bottom": {0, -1, 1, 0, 0, 0},
}

var opposite = map[string]string{"left": "right", "right": "left", "top": "bottom", "bottom": "top"}

// lying turns the quilt so that what lies outward of one edge lies to the right, k units an inch,
// with a place of an edge's own at a point of the drawing: x along the edge, y outward.
func (q Quilt) lying(toward string, k float64, edge string, place, at pt) frame {
	f := scale(k).of(turns[toward])
	from := f.of(q.on(edge)).at(place.x, place.y)
	return move(at.x-from.x, at.y-from.y).of(f)
}

// upperEnd is the end of an edge that lies at the top of the picture when the edge is turned to
// the right: -1 or 1, as its x runs, and its name on the table.
func upperEnd(edge string) (way float64, name string) {
	switch edge {
	case "left":
		return 1, "bottom"
	case "bottom":
		return 1, "right"
	case "top":
		return -1, "left"
	}
	return -1, "top"
}

// lain is what of an outline in the quilt's places shows in a box of the drawing.
func (f frame) lain(outline []pt, room box) []pt {
	return inverse(f).all(room.in(f.all(outline)))
}

// rimIn draws the raw edges of an outline so far as they lie in a room.
func (p *pen) rimIn(room box, outline []pt) {
	for i, b := range outline {
		p.lineIn("raw", room, outline[(i+len(outline)-1)%len(outline)], b)
	}
}

// beneathIn draws an edge that lies beneath, so far as it lies in a room.
func (p *pen) beneathIn(room box, a, b pt) {
	if p.rims {
		p.lineIn("stitchrim", room, a, b)
	}
	p.lineIn("ghost", room, a, b)
}

// tornIn tears off each side of a room beyond which fabric goes on.
func (p *pen) tornIn(room box, outlines ...[]pt) {
	const in, beyond = 8.0, 12.0
	var all []pt
	past := map[string]bool{}
	for _, outline := range outlines {
		for _, at := range outline {
			past["left"] = past["left"] || at.x < room.left-1
			past["right"] = past["right"] || at.x > room.right+1
			past["top"] = past["top"] || at.y < room.top-1
			past["bottom"] = past["bottom"] || at.y > room.bottom+1
		}
		all = append(all, room.in(outline)...)
	}
	if len(all) == 0 {
		return
	}
	b := box{all[0].x, all[0].y, all[0].x, all[0].y}
	for _, at := range all {
		b = box{min(b.left, at.x), min(b.top, at.y), max(b.right, at.x), max(b.bottom, at.y)}
	}
	for _, side := range edgeNames {
		if past[side] {
			p.tear(side, b, in, beyond)
		}
	}
}

// tear tears off one side of a box, some way in, and somewhat beyond it at both ends.
func (p *pen) tear(side string, b box, in, beyond float64) {
	switch side {
	case "left":
		p.torn(pt{b.left + in, b.bottom + beyond}, pt{b.left + in, b.top - beyond})
	case "right":
		p.torn(pt{b.right - in, b.top - beyond}, pt{b.right - in, b.bottom + beyond})
	case "top":
		p.torn(pt{b.left - beyond, b.top + in}, pt{b.right + beyond, b.top + in})
	case "bottom":
		p.torn(pt{b.right + beyond, b.bottom - in}, pt{b.left - beyond, b.bottom - in})
	}
}

// middleMark is the chalk mark in the middle of a raw edge at the right.
func (p *pen) middleMark(at pt) {
	a, b := at.minus(pt{16, 0}), at.plus(pt{16, 0})
	p.lines("chalkrim", a, b)
	p.lines("chalk", a, b)
	p.text("ts", at.plus(pt{28, 0}), after, "middle")
}
