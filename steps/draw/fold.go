package draw

import (
	"fmt"

	"cornerwise/calc"
)

// folded is the corner folded on its miter, tails right sides together: the top
// (or bottom) strip right side up below, the side strip wrong side up on it.
func (q Quilt) folded(p *pen, s Scene) string {
	seam := q.seam()
	miter := pt{q.band(calc.Sides), q.band(calc.TopBottom)}
	sides, top := miter.x+seam, miter.y+seam
	// Where the line leaves the side strip, the top strip, and both.
	onSide, onTop := miter.times(sides/miter.x), miter.times(top/miter.y)
	far := onSide
	if onTop.x > far.x {
		far = onTop
	}
	tail := q.tail(calc.TopBottom)

	k := min(300/far.x, 196/far.y, 60/seam)
	dotX := clamp(566-tail*k, 262, 330)
	dotX = min(dotX, 566-far.x*k*1.04)
	f := frame{k, 0, 0, -k, dotX, max(78+far.y*k, 230)}
	room := box{24, 20, 572, 480}
	left, right := (room.left-f.e)/k, min(tail, (room.right-f.e)/k)
	bottom := -(room.bottom - f.f) / k
	inch := box{left, bottom, (room.right - f.e) / k, (f.f - room.top) / k}

	w := q.along(calc.TopBottom)
	// The side strip, laid over: x along its tail, y outward.
	over := mirror(miter).of(frame{0, 1, 1, 0, 0, 0})

	// Below, right side up.
	d := miter.unit()
	n := pt{d.y, -d.x} // toward the tails
	lower := []pt{{left, 0}, {0, 0}, {seam, -seam}, {right, -seam}, {right, top}, {left, top}}
	if s.Act == "trim" {
		p.shape("ghostfill", f.all(lower)...)
		lower = side(lower, n.x, n.y, seam)
	}
	q.bandFabric(p, calc.TopBottom, f.of(move(-w, 0)), move(w, 0).all(lower))
	if s.Act == "trim" {
		p.line("raw", f.at(onTop.x, top), f.at(left, top))
	} else {
		p.line("raw", f.at(0, 0), f.at(seam, -seam), f.at(right, -seam))
		p.line("raw", f.at(right, top), f.at(left, top))
		if right == tail {
			p.line("raw", f.at(right, -seam), f.at(right, top))
		}
	}

	// The center, folded: wrong side up between the seam and the fold.
	fold := d.times(-1e3 / k)
	seamWay := over.at(-1e3/k, 0)
	center := inch.in([]pt{{0, 0}, fold, fold.plus(seamWay), seamWay})
	p.shape("wrongcenter", f.all(center)...)

	// Above it the side strip, cut away so that what lies beneath is seen.
	ownEnd := inverse(over).at(onSide.x, onSide.y)
	sideTail := q.tail(calc.Sides)
	away := ownEnd.x + max(10/k, min(0.45*(sideTail-ownEnd.x), 60/k))
	long := min(sideTail, away)
	upper := over.all([]pt{{-1e3 / k, 0}, {0, 0}, {seam, -seam}, {long, -seam}, {long, sides}, {-1e3 / k, sides}})
	upper = inch.in(upper)
	kept := upper
	if s.Act == "trim" {
		kept = side(upper, n.x, n.y, seam)
	}
	p.shape("wrong", f.all(kept)...)
	edges := [][2]pt{{{-1e3 / k, sides}, {long, sides}}, {{0, 0}, {seam, -seam}}, {{seam, -seam}, {long, -seam}}}
	if s.Act == "trim" {
		edges = [][2]pt{{{-1e3 / k, sides}, {ownEnd.x, sides}}}
	}
	var rims []pt
	for _, ab := range edges {
		a, b := over.at(ab[0].x, ab[0].y), over.at(ab[1].x, ab[1].y)
		if a, b, ok := inch.line(a, b); ok {
			rims = append(rims, f.at(a.x, a.y), f.at(b.x, b.y))
		}
	}
	p.lines("raw", rims...)
	if a, b, ok := inch.line(over.at(long, -seam), over.at(long, sides)); ok && s.Act != "trim" {
		a, b := f.at(a.x, a.y), f.at(b.x, b.y)
		p.torn2(a, b)
	}
	q.bandSeams(p, len(q.Plan.Borders), calc.Sides, f.of(over), inverse(over).all(kept))

	q.allowance(p, s, f, over, inch)
	if a, b, ok := inch.line(over.at(-1e3/k, 0), pt{0, 0}); ok {
		p.line("stitch", f.at(a.x, a.y), f.at(b.x, b.y))
	}
	if a, b, ok := inch.line(pt{0, 0}, fold); ok {
		p.line("foldedge", f.at(a.x, a.y), f.at(b.x, b.y))
	}
	p.torn(pt{room.left + 8, room.bottom}, pt{room.left + 8, room.top + 36})
	if right < tail {
		p.torn(f.at(right, top).plus(pt{-8, -12}), f.at(right, -seam).plus(pt{-8, 12}))
	}
	return q.onFold(p, s, f, onSide, onTop)
}

// allowance is the center's and the strip's, on the wrong side: on the border as
// it was pressed, or turned back toward the center and pinned.
func (q Quilt) allowance(p *pen, s Scene, f, over frame, inch box) {
	seam := q.seam()
	k := f.scale()
	bent := s.Act != "fold" && s.Act != "match"
	x := 0.0
	if bent {
		x = -max(2.2*seam, 40/k)
		flap := over.all([]pt{{x, 0}, {0, 0}, {-seam * 0.4, -seam}, {x + seam*0.3, -seam}})
		p.shape("allow", f.all(flap)...)
		p.lines("rawthin", f.at(flap[2].x, flap[2].y), f.at(flap[3].x, flap[3].y))
	}
	ribbon := inch.in(over.all([]pt{{-1e3 / k, 0}, {x, 0}, {x, seam}, {-1e3 / k, seam}}))
	if !bent {
		ribbon = inch.in(over.all([]pt{{-1e3 / k, 0}, {0, 0}, {seam, seam}, {-1e3 / k, seam}}))
	}
	p.shape("allow", f.all(ribbon)...)
	end := over.at(x, seam)
	if a, b, ok := inch.line(over.at(-1e3/k, seam), end); ok {
		p.lines("rawthin", f.at(a.x, a.y), f.at(b.x, b.y))
	}
}

// onFold is what is done at the folded corner, and its words.
func (q Quilt) onFold(p *pen, s Scene, f frame, onSide, onTop pt) string {
	seam := q.seam()
	dot, k := f.at(0, 0), f.scale()
	own := calc.Sides
	end := onSide
	if q.drawn(calc.TopBottom).Length.Less(q.drawn(calc.Sides).Length) {
		own, end = calc.TopBottom, onTop
	}
	tip := f.at(end.x, end.y)
	last := onSide
	if onTop.x > last.x {
		last = onTop
	}
	sewn := f.at(last.x, last.y)
	way := tip.minus(dot).unit()
	right := facing(way).at(0, 1) // toward the tails
	number := q.drawn(own).Shown()
	words := pt{dot.x + 56, 410}

	over := f.of(mirror(onTop).of(frame{0, 1, 1, 0, 0, 0}))
	if s.Act != "trim" && s.Act != "sew" { // which need the room for their words
		p.text("ts", over.at(-(dot.x-138)/k, onSide.x/2), amid, "wrong side")
	}
	switch s.Act {
	case "fold":
		p.dot(dot)
		strip := f.all(box{0, -(480 - f.f) / k, onSide.x, -seam - 14/k}.corners())
		p.line("ghost", strip[3], strip[0])
		p.line("ghost", strip[2], strip[1])
		p.swing(pt{dot.x + onSide.x*k*0.5, 440}, pt{dot.x + onTop.x*k*0.5, dot.y - onTop.y*k*0.4})
		p.arc(dot, pt{-1, 0}, dot.minus(tip), 92)
		p.text("tn", dot.minus(pt{150, -52}), amid, degrees(q.angle(own)))
		return fmt.Sprintf(", folded on the diagonal, tails right sides together: the fold runs into the dot at %s", degrees(q.angle(calc.TopBottom)))
	case "turn":
		p.dot(dot)
		q.turnClose(p, dot, pt{454, 378}, false)
		return ", folded: the seam allowance at the dot turned out of the way and pinned"
	case "line":
		wide := 62.0
		p.ruler(dot.minus(way.times(54)), tip.plus(way.times(14)), wide, q.rulerStep(k))
		// The ruler's own line at this angle lies on the stitching.
		p.line("rulerline", dot, dot.minus(pt{wide * 1.35, 0}))
		p.arrow("chalkline", dot, tip)
		p.dot(dot)
		p.words(words, after, word{"tn", number}, word{"t", "to outer edge"})
		return fmt.Sprintf(", folded: the line runs %s from the dot to the outer edge, at %s", number, degrees(q.angle(own)))
	case "match":
		p.line("chalk", dot, sewn)
		p.pin(dot.to(tip, 0.5), right)
		p.dot(dot)
		p.text("t", words, after, "line on line")
		return ", folded until the line on one tail lies on the line of the other, tails right sides together"
	case "pin":
		p.line("chalk", dot, tip)
		for _, t := range []float64{0.12, 0.34, 0.56, 0.78, 0.96} {
			p.pin(dot.to(tip, t), right)
		}
		p.dot(dot)
		p.text("t", words, after, "pins across")
		return fmt.Sprintf(", folded: pins across the line, all %s of it", number)
	case "sew":
		p.line("dim", dot, tip)
		p.line("stitch", dot, sewn)
		off := right.times(26)
		p.arrow("arrow", dot.to(tip, 0.16).plus(off), dot.to(tip, 0.7).plus(off))
		p.dot(dot)
		p.use("needle", move(dot.x, dot.y))
		p.words(words, after, word{"t", "from the dot"}, word{"t", "outward"})
		return fmt.Sprintf(", folded: sewn from the dot outward to the edge, %s", number)
	}
	off := right.times(seam * k)
	p.line("stitch", dot, sewn)
	p.blade(dot.plus(off).minus(way.times(6)), sewn.plus(off).plus(way.times(10)))
	p.dot(dot)
	p.words(words, after, word{"tn", q.Sheet.Seam.Exactly()}, word{"t", "beyond seam"})
	return fmt.Sprintf(", folded: both tails cut off %s beyond the stitching", q.Sheet.Seam.Exactly())
}

// turnClose is the dot close by: the allowance bent toward the center, a pin
// through it, the way of the miter clear.
func (q Quilt) turnClose(p *pen, from, eye pt, flat bool) {
	p.line("leader", from, eye)
	p.into(eye, func() {
		const r, s = 130.0, 46.0
		if flat {
			p.shape("wrong", box{-r, -r, r, r}.corners()...)
			p.shape("wrongcenter", box{-r, 0, 0, r}.corners()...)
			p.shape("allow", pt{0, r}, pt{0, 0}, pt{-s, s * 0.5}, pt{-s, r})
			p.lines("rawthin", pt{0, 0}, pt{-s, s * 0.5}, pt{-s, s * 0.5}, pt{-s, r})
			p.shape("allow", pt{-r, 0}, pt{0, 0}, pt{-s * 0.5, s}, pt{-r, s})
			p.lines("rawthin", pt{0, 0}, pt{-s * 0.5, s}, pt{-s * 0.5, s}, pt{-r, s})
			p.lines("stitch", pt{-r, 0}, pt{0, 0}, pt{0, 0}, pt{0, r})
			p.pin(pt{-s * 1.3, s * 0.5}, pt{1, 0.1})
			p.dot(pt{0, 0})
			return
		}
		p.shape("wrong", box{-r, -r, r, r}.corners()...)
		p.shape("ground", pt{0, 0}, pt{s, s}, pt{r, s}, pt{r, r}, pt{-r, r})
		p.shape("wrong", pt{0, 0}, pt{-r, r}, pt{-r, 0})
		p.line("foldedge", pt{0, 0}, pt{-r, r})
		p.line("raw", pt{0, 0}, pt{s, s}, pt{r, s})
		p.shape("allow", pt{-r, 0}, pt{0, 0}, pt{-s * 0.5, s}, pt{-r, s})
		p.line("raw", pt{-r, s}, pt{-s * 0.5, s}, pt{0, 0})
		p.line("stitch", pt{-r, 0}, pt{0, 0})
		p.pin(pt{-s * 0.9, s * 0.5}, pt{1, 0.12})
		p.line("ghost", pt{0, 0}, pt{r, -r})
		p.dot(pt{0, 0})
	})
}
