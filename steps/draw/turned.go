package draw

import "fmt"

// turnedInset shows in a box how the center was turned over like a page, left for right: the
// center right side up, an arrow across the axis that it turns about, and the center wrong side
// up, with the same mark on both. A mark of one place is ringed, one of two is a chalked line, both
// in the quilt's places; name, if any, is written beside it. It lies in the drawing's own places,
// whatever the pen's frame does to the fabric, and tells where the mark is after the turn.
func (q Quilt) turnedInset(p *pen, at box, mark []pt, name string) pt {
	const gap, arch = 44.0, 54.0 // between the two, and over them for the arrow
	on := p.on
	p.on = move(0, 0)
	p.loupes++ // its fabric lies in a picture of its own
	p.loupe = p.loupes
	defer func() { p.on, p.loupe = on, 0 }()

	half := (at.right - at.left - gap) / 2
	left := box{at.left, at.top + arch, at.left + half, at.bottom}.fit(q.width(), q.length())
	left = move(at.left+half-q.width()/2*left.scale()-left.e, 0).of(left) // as near the axis as the other
	axis := at.left + half + gap/2
	turn := turnedOver(pt{axis, 0}, pt{0, 1})
	for _, f := range []frame{left, turn.of(left)} {
		q.lay(p, "center", f, q.centerOutline())
		p.shape("raw", f.all(q.centerOutline())...)
		places := f.all(mark)
		mid := places[0]
		if len(places) > 1 {
			p.lines("chalkrim", places[:2]...)
			p.lines("chalk", places[:2]...)
			mid = places[0].to(places[1], 0.5)
		} else {
			p.circle("loupe", mid, 13)
		}
		if name != "" {
			inward := f.at(0, 0).minus(mid)
			w, l := q.width()*f.scale()/2, q.length()*f.scale()/2
			aside := min(max(24, textWidth("ts", name)/2+8), w)
			p.text("ts", mid.plus(pt{clamp(inward.x, -aside, aside), clamp(inward.y, -min(32, l), min(32, l))}), amid, name)
		}
	}
	top, bottom := left.at(0, -q.length()/2).y, left.at(0, q.length()/2).y
	p.lines("ghost", pt{axis, top - arch + 8}, pt{axis, bottom})
	out := min(half*0.6, 70)
	p.turnArrow(pt{axis - out, top - 8}, pt{axis + out, top - 8}, arch-16)
	end := turn.of(left).all(mark)
	if len(end) > 1 {
		return end[0].to(end[1], 0.5)
	}
	return end[0]
}

// cornerAt is where a corner of the center lies as its mark.
func (q Quilt) cornerAt(corner int) []pt {
	x, y := cornerPlace(corner)
	return []pt{{x * q.width() / 2, y * q.length() / 2}}
}

// edgeAt is an edge of the center from end to end.
func (q Quilt) edgeAt(edge string) []pt {
	a := q.along(edgesOf(edge)) + q.seam()
	return q.on(edge).all([]pt{{-a, q.seam()}, {a, q.seam()}})
}

// turnArrow is an arched arrow from a to b on the same height: it crosses the axis between them
// squarely, as a page does.
func (p *pen) turnArrow(a, b pt, high float64) {
	c := a.to(b, 0.5).minus(pt{0, 2 * high})
	f := move(b.x, b.y).of(facing(b.minus(c)))
	on := p.on.all([]pt{a, c, f.at(-12, 0)})
	p.stroke("arrow", fmt.Sprintf("M%s %sQ%s %s %s %s", num(on[0].x, 1), num(on[0].y, 1), num(on[1].x, 1), num(on[1].y, 1), num(on[2].x, 1), num(on[2].y, 1)))
	p.shape("tip arrow", b, f.at(-24, 11), f.at(-24, -11))
}
