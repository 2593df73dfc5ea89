package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

// A corner is drawn as corner 2 lies, top right, and mirrored for the others.
// Its frame counts in inches from the dot: x outward past the side, y outward
// past the top (or bottom).
func (q Quilt) corner(p *pen, s Scene) string {
	x, y := cornerPlace(s.Corner)
	p.mirrored(x < 0, y > 0)
	over := func() { p.mirrored(x > 0, y > 0) } // wrong side up: turned like a page
	equal := q.Sheet.Corner.Equal()
	words := fmt.Sprintf("Corner %d, %s", s.Corner, cornerWords[s.Corner])
	switch s.Act {
	case "fold", "match", "line", "pin", "sew", "trim":
		return words + q.folded(p, s)
	case "turn":
		if equal {
			return words + q.folded(p, s)
		}
		over()
		return words + q.spread(p, s)
	case "line-sides", "line-topBottom":
		over()
		return words + q.spread(p, s)
	case "open", "behind":
		over()
		return words + q.behind(p, s)
	}
	if s.Act == "square" {
		return words + q.outerSquared(p, s)
	}
	return words + q.opened(p, s)
}

// degrees shows an angle: 45°, 33.7°.
func degrees(d float64) string {
	if math.Abs(d-math.Round(d)) < 0.0005 {
		return fmt.Sprintf("%.0f°", d)
	}
	return fmt.Sprintf("%.1f°", d)
}

// angle is the sheet's angle between a strip's seam and its miter.
func (q Quilt) angle(e calc.Edges) float64 {
	if e == calc.TopBottom {
		return float64(q.Sheet.Corner.AngleTopBottom)
	}
	return float64(q.Sheet.Corner.AngleSides)
}

// drawn is the sheet's line from the dot to a strip's raw outer edge.
func (q Quilt) drawn(e calc.Edges) calc.Figure {
	if e == calc.TopBottom {
		return q.Sheet.Corner.DrawnLineTopBottom
	}
	return q.Sheet.Corner.DrawnLineSides
}

// tail is how far the strips on e hang beyond the dot.
func (q Quilt) tail(e calc.Edges) float64 { return q.half(e) - q.along(e) }

// opened is the corner right side up, the strips meeting in the miter.
func (q Quilt) opened(p *pen, s Scene) string {
	seam := q.seam()
	sides, top := q.band(calc.Sides)+seam, q.band(calc.TopBottom)+seam
	room := box{24, 30, 560, 424}
	k := min(310/sides, 250/top)
	k = max(k, min(360/max(sides, top), 3/seam))
	f := frame{k, 0, 0, -k, room.right - max(sides*k, 110), room.top + max(top*k, 90)}
	left, bottom := (room.left-f.e)/k, -(room.bottom-f.f)/k
	// The center as it lies, seen from the middle of the quilt.
	w, l := q.along(calc.TopBottom), q.along(calc.Sides)
	quilt := f.of(frame{1, 0, 0, -1, -w, -l})
	center := box{max(left, -2*w) + w, -l, w, min(-bottom, 2*l) - l}.corners()
	q.patch(p, quilt, center)

	miter := pt{q.band(calc.Sides), q.band(calc.TopBottom)}
	end := miter.times(max(sides/miter.x, top/miter.y))
	edge := box{left, bottom, sides, top}
	onTop := edge.in([]pt{{left, 0}, {0, 0}, end, {left, end.y}})
	onSide := edge.in([]pt{{0, 0}, {0, bottom}, {end.x, bottom}, end})
	q.bandFabric(p, calc.TopBottom, f.of(move(-w, 0)), move(w, 0).all(onTop))
	// Along the side the strip runs up: x up, y out.
	up := frame{0, 1, 1, 0, 0, 0}
	q.bandFabric(p, calc.Sides, f.of(up).of(move(-l, 0)), move(l, 0).all(up.all(onSide)))
	p.lines("seam", f.at(left, 0), f.at(0, 0), f.at(0, 0), f.at(0, bottom))
	a, b, _ := edge.line(pt{0, 0}, end)
	p.line("seam", f.at(a.x, a.y), f.at(b.x, b.y))
	p.line("raw", f.at(left, top), f.at(sides, top), f.at(sides, bottom))
	p.torn(f.at(left, bottom).plus(pt{8, 0}), f.at(left, top).plus(pt{8, -14}))
	p.torn(f.at(sides, bottom).plus(pt{14, -8}), f.at(left, bottom).plus(pt{0, -8}))
	if s.Act == "front" {
		m := f.at(0, 0).to(f.at(miter.x, miter.y), 0.2)
		d := f.at(0, 0).minus(f.at(miter.x, miter.y))
		p.iron(m, d, 1)
		p.text("t", pt{width / 2, 466}, amid, "set down, lift")
		if !q.Sheet.Corner.Equal() {
			return ", finished, right side up, pressed from the front; the bands differ, so lines along them meet at the miter only by chance"
		}
		if !q.turns() {
			return ", finished, right side up, pressed from the front"
		}
		return ", finished, right side up, pressed from the front: the stripes turn at the miter"
	}
	p.circle("loupe", f.at(0, 0), 34)
	p.text("t", pt{width / 2, 466}, amid, "no pucker, no gap, flat")
	if !q.Sheet.Corner.Equal() {
		return ", opened, right side up, before any trim: the dot lies flat; the bands differ, so lines along them meet at the miter only by chance"
	}
	if !q.turns() {
		return ", opened, right side up, before any trim: the dot lies flat"
	}
	return ", opened, right side up, before any trim: the stripes meet in the miter, the dot lies flat"
}

// turns tells whether a stripe or a print turns the corner.
func (q Quilt) turns() bool {
	for _, b := range q.Plan.Borders {
		if b.Stripe.Sign() > 0 || b.Motif.Sign() > 0 {
			return true
		}
	}
	return false
}

// outerSquared is the bordered top's outer corner close by, a square ruler on it.
func (q Quilt) outerSquared(p *pen, s Scene) string {
	seam := q.seam()
	sides, top := q.band(calc.Sides)+seam, q.band(calc.TopBottom)+seam
	show := max(min(1.5*max(sides, top), 14), 4*seam)
	k := 380 / show
	tip := pt{480, 84}
	f := frame{k, 0, 0, -k, tip.x - sides*k, tip.y + top*k} // from the dot
	w, l := q.along(calc.TopBottom), q.along(calc.Sides)
	left, bottom := sides-show, top-show
	miter := pt{q.band(calc.Sides), q.band(calc.TopBottom)}
	end := miter.times(max(sides/miter.x, top/miter.y))
	edge := box{left, bottom, sides, top}
	quilt := f.of(frame{1, 0, 0, -1, -w, -l})
	q.patch(p, quilt, box{max(left, -2*w) + w, -l, w, min(-bottom, 2*l) - l}.corners())
	q.bandFabric(p, calc.TopBottom, f.of(move(-w, 0)), move(w, 0).all(edge.in([]pt{{-100, 0}, {0, 0}, end, {-100, end.y}})))
	up := frame{0, 1, 1, 0, 0, 0}
	q.bandFabric(p, calc.Sides, f.of(up).of(move(-l, 0)), move(l, 0).all(up.all(edge.in([]pt{{0, 0}, {0, -100}, {end.x, -100}, end}))))
	if a, b, ok := edge.line(pt{}, end); ok {
		p.line("seam", f.at(a.x, a.y), f.at(b.x, b.y))
	}
	p.line("raw", f.at(left, top), f.at(sides, top), f.at(sides, bottom))
	long := show * 0.86
	a, b, c := f.at(sides-long, top), f.at(sides, top), f.at(sides, top-long)
	p.ruler(c, b, 40, q.rulerStep(k))
	p.ruler(b, a, 40, q.rulerStep(k))
	p.torn(pt{tip.x - show*k + 8, tip.y + show*k}, pt{tip.x - show*k + 8, tip.y - 12})
	p.torn(pt{tip.x + 20, tip.y + show*k - 8}, pt{tip.x - show*k, tip.y + show*k - 8})
	p.text("ts", b.plus(pt{24, -34}), after, fmt.Sprint(s.Corner))
	p.text("t", pt{width / 2, 480}, amid, "only what sticks out")
	return ", right side up: a square ruler on the outer corner, its edges along the border's raw edges"
}

// behind is the corner wrong side up, the miter's allowances spread open.
func (q Quilt) behind(p *pen, s Scene) string {
	seam := q.seam()
	sides, top := q.band(calc.Sides)+seam, q.band(calc.TopBottom)+seam
	room := box{24, 30, 560, 424}
	k := min(310/sides, 250/top)
	k = max(k, min(360/max(sides, top), 3/seam))
	f := frame{k, 0, 0, -k, room.right - max(sides*k, 110), room.top + max(top*k, 90)}
	left, bottom := (room.left-f.e)/k, -(room.bottom-f.f)/k
	edge := box{left, bottom, sides, top}
	p.shape("wrong", f.all(edge.corners())...)
	p.shape("wrongcenter", f.all(box{left, bottom, 0, 0}.corners())...)
	w, l := q.along(calc.TopBottom), q.along(calc.Sides)
	quilt := f.of(frame{1, 0, 0, -1, -w, -l})
	q.copingBehind(p, quilt, box{max(left, -2*w) + w, -l, w, min(-bottom, 2*l) - l}.corners())
	for _, e := range []calc.Edges{calc.TopBottom, calc.Sides} {
		q.wrongSeams(p, f, e, edge)
	}
	// The seams of the edges, their allowances lying on the border.
	p.shape("allow", f.all([]pt{{left, 0}, {0, 0}, {seam, seam}, {left, seam}})...)
	p.shape("allow", f.all([]pt{{0, bottom}, {0, 0}, {seam, seam}, {seam, bottom}})...)
	p.lines("rawthin", f.at(left, seam), f.at(seam, seam), f.at(seam, seam), f.at(seam, bottom))

	miter := pt{q.band(calc.Sides), q.band(calc.TopBottom)}
	d := miter.unit()
	n := pt{-d.y, d.x}.times(seam)
	end := d.times(max(sides/d.x, top/d.y))
	start := d.times(seam * 0.4)
	var flaps []pt
	for _, way := range []float64{-1, 1} {
		flap := edge.in([]pt{start, end, end.plus(n.times(way)), start.plus(d.times(seam)).plus(n.times(way))})
		p.shape("allow", f.all(flap)...)
		a, b, ok := edge.line(start.plus(d.times(seam)).plus(n.times(way)), end.plus(n.times(way)))
		if ok {
			flaps = append(flaps, f.at(a.x, a.y), f.at(b.x, b.y))
		}
	}
	p.lines("rawthin", flaps...)
	_, b, _ := edge.line(pt{}, end)
	p.line("stitch", f.at(0, 0), f.at(b.x, b.y))
	p.lines("stitch", f.at(left, 0), f.at(0, 0), f.at(0, 0), f.at(0, bottom))
	p.line("raw", f.at(left, top), f.at(sides, top), f.at(sides, bottom))
	p.torn(f.at(left, bottom).plus(pt{8, 0}), f.at(left, top).plus(pt{8, -14}))
	p.torn(f.at(sides, bottom).plus(pt{14, -8}), f.at(left, bottom).plus(pt{0, -8}))
	p.dot(f.at(0, 0))
	p.text("ts", pt{width / 2, 466}, amid, "wrong side up")
	mid := f.at(miter.x*0.55, miter.y*0.55)
	if s.Act == "behind" {
		p.iron(f.at(0, 0).to(f.at(miter.x, miter.y), 0.3), f.at(0, 0).minus(f.at(miter.x, miter.y)), 1)
		return ", wrong side up: the iron's tip on the open miter seam"
	}
	across := f.at(n.x, n.y).minus(f.at(0, 0)).unit()
	for _, way := range []float64{-1, 1} {
		p.arrow("arrow", mid.plus(across.times(way*8)), mid.plus(across.times(way*66)))
	}
	return fmt.Sprintf(", wrong side up: the miter's two allowances, %s each, spread open", q.Sheet.Seam.Exactly())
}

// wrongSeams are the seams between the borders of one band up to the miter, seen
// from behind.
func (q Quilt) wrongSeams(p *pen, f frame, e calc.Edges, edge box) {
	at, next := q.seams(e), q.seams(e.Neighbor())
	own, other := at[len(at)-1], next[len(next)-1]
	var ends []pt
	for _, y := range at[1 : len(at)-1] {
		x := y * other / own
		if e == calc.TopBottom {
			ends = append(ends, f.at(edge.left, y), f.at(x, y))
		} else {
			ends = append(ends, f.at(y, edge.top), f.at(y, x))
		}
	}
	p.lines("seam", ends...)
}
