package draw

import "fmt"

// folded is the folded corner as it lies on the table while its line is drawn and pinned.
func (q Quilt) folded(p *pen, s Scene) string {
	v := q.cornerAtTable(s)
	aside := 92.0 // for the words
	if s.Corner%2 == 0 {
		aside = 156
	}
	room := box{aside, 24, width - 24, height - 24}
	if s.Corner > 2 {
		room = box{24, 24, width - aside, height - 24}
	}
	v = v.lies(room, v.shown(0.22, 0.8), false)
	v.room = box{12, 12, width - 12, height - 12}
	v.foldedLayers(p, true)
	dot, over := v.at(0, 0), edgesOf(v.over)
	end, _ := v.ends()
	tip, way := v.to(end), v.to(end).minus(dot).unit()
	number, angle := q.drawn(over).Shown(), degrees(q.angle(over))
	if s.Act == "line" {
		v.lineRuled(p, tip, way)
		v.words(p, word{"tn", number}, word{"t", "to outer edge"})
		return fmt.Sprintf(", folded, the %s wrong side up: the ruler's line at %s lies on the stitches, and the line runs %s from the dot along its edge to the outer edge", v.name(v.over), angle, number)
	}
	p.line("chalk", dot, tip)
	for _, t := range []float64{0.12, 0.34, 0.56, 0.78, 0.95} {
		v.pinAcross(p, dot.to(tip, t), way)
	}
	p.dot(dot)
	v.words(p, word{"t", "pins across"}, word{"ts", "wrong side up"})
	return fmt.Sprintf(", folded, the %s wrong side up: pins across its line, all %s of it, at %s to the seam", v.name(v.over), number, angle)
}

// lineRuled is the ruler on what will be kept, its own line at the corner's angle on the
// stitches, and the line drawn along its edge.
func (v cornerView) lineRuled(p *pen, tip, way pt) {
	const wide, before = 78.0, 84.0
	dot, seam := v.at(0, 0), v.at(1, 0).minus(v.at(0, 0)).unit()
	p.ruler(tip.plus(way.times(16)), dot.minus(way.times(before)), wide, v.rulerStep(v.k()))
	across := facing(way).at(0, 1) // toward the ruler
	long := wide / (seam.x*across.x + seam.y*across.y)
	on := dot.plus(seam.times(long))
	p.line("rulerdrawn", dot, on)
	p.line("stitch", on, v.at(far, 0).minus(v.at(0, 0)).unit().times(long+60).plus(dot))
	fold := way.times(-1)
	p.arc(dot, seam, fold, 58)
	p.text("tn", dot.plus(seam.plus(fold).unit().times(116)), amid, degrees(v.angle(edgesOf(v.over))))
	p.arrow("chalkline", dot, tip)
	p.dot(dot)
}

// pinAcross stands across the miter, its head on the tails.
func (v cornerView) pinAcross(p *pen, at, way pt) { p.pin(at, facing(way).at(0, 1)) }

// words stand where the table is bare beside the folded corner: below its tails, before its
// fold.
func (v cornerView) words(p *pen, lines ...word) {
	x, where := 20.0, after
	free := quarterTurns(v.s.Corner-1).at(-1, 1)
	if free.x > 0 {
		x, where = width-20, before
	}
	y := 58.0
	if free.y > 0 {
		y = height - 58
	}
	p.words(pt{x, y}, where, lines...)
}

// foldedLayers are the layers of the corner folded on its miter: the strip beneath right side
// up, the strip over wrong side up on it, its tail cut away in the drawing so that what lies
// beneath is seen, and the half of the center that was turned over. The allowance of that half
// lies on the strip as it was pressed, or is folded back onto the center at the dot.
func (v cornerView) foldedLayers(p *pen, back bool) {
	over, under := v.tails()
	v.place(p, "center", still, v.underHalf())
	v.place(p, v.under, still, v.underStrip(under))
	v.rawUnder(p, under)
	v.place(p, "center", v.folded(), v.overHalf())
	shown := v.cutAway()
	strip := v.overStrip(shown)
	v.place(p, v.over, v.folded(), strip)
	v.line(p, "raw", v.folded(), strip[:2]...)
	v.line(p, "raw", v.folded(), strip[2:5]...)
	f := v.f.of(v.folded())
	a, b, seen := v.room.line(f.at(strip[1].x, -shown), f.at(strip[2].x, -shown))
	switch {
	case seen && shown < over:
		p.torn2(a, b)
	case seen:
		p.line("raw", a, b)
	}
	if back {
		v.allowanceOnCenter(p)
	} else {
		v.allowanceOnBorder(p)
	}
	v.line(p, "stitch", v.folded(), pt{0, 0}, pt{0, far})
	v.line(p, "foldedge", still, pt{0, 0}, v.miter().times(-far))
}

// cutAway is how much of the tail over is drawn: beyond the miter's end, and short of the tail
// beneath.
func (v cornerView) cutAway() float64 {
	over, under := v.tails()
	end, _ := v.ends()
	if beneath := under + end.y; beneath > 0 {
		return min(over, -end.y+0.4*beneath)
	}
	return over
}

func (v cornerView) allowanceOnBorder(p *pen) {
	f, on := v.f.of(v.folded()), v.onBorder()
	p.shape("allow", v.room.in(f.all(on))...)
	p.lineIn("rawthin", v.room, f.all(on[:3])...)
}

// allowanceOnCenter is folded back near the dot; farther along it lies on the strip.
func (v cornerView) allowanceOnCenter(p *pen) {
	s, f := v.seam(), v.f.of(v.folded())
	turn := max(2.4*s, 46/v.k())
	on := []pt{{0, turn}, {-s, 1.4 * turn}, {-s, far}, {0, far}}
	back := []pt{{0, 0}, {s, -s * min(1, v.deep/v.wide)}, {s, 0.6 * turn}, {0, turn}}
	for _, outline := range [][]pt{on, back} {
		p.shape("allow", v.room.in(f.all(outline))...)
		p.lineIn("rawthin", v.room, f.all(outline[:3])...)
	}
	p.lineIn("rawthin", v.room, f.all(back[2:])...)
}
