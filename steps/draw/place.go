package draw

import (
	"fmt"

	"cornerwise/calc"
)

// wholeFlat is the same for a strip that lies on the table.
func wholeFlat(up bool, long, wide float64) (f frame, eye, words pt) {
	if up {
		k := min(420/long, 120/wide)
		return frame{k, 0, 0, k, width - 64 - wide*k, height / 2}, pt{150, 350}, pt{24, 120}
	}
	k := min(520/long, 120/wide)
	return frame{k, 0, 0, k, width / 2, 76}, pt{440, 360}, pt{24, 350}
}

// stripPlaced is a strip laid on its print before it is cut: its middle on a motif or on a
// gap, half its length measured from there each way; or that middle marked.
func (q Quilt) stripPlaced(p *pen, s Scene, strip cutStrip) string {
	c := closeUp{up: q.liesUpright(s), long: in(strip.long.Length), wide: in(strip.wide.Length)}
	flat, end, joins := q.flat(s.Edge, c.up), c.long/2, q.joinsOf(s)
	f, eye, words := wholeFlat(c.up, c.long, c.wide)
	inner, inward := 0.0, 1.0 // where the inner edge lies on the table, and the way into the strip
	if q.headsDown(s, c.up) {
		flat, inner, inward = halfTurned(flat, c.wide), c.wide, -1
	}
	k := f.scale()
	over := min(12/k, c.wide)
	beside := over // of the fabric; a joined strip is cut off it already
	if len(joins) > 0 {
		beside = 0
	}
	strip.lie(flat, f, onTable(c.up, -end-over, end+over, -beside, c.wide+beside))
	p.seamsOf(joins, f, -end)
	p.shape(thinChalk(c.wide*k)+" open", f.all(onTable(c.up, -end, end, 0, c.wide).corners())...)
	half := strip.long
	half.Length, half.Rounding = half.Length.Half(), calc.Nearest
	on := "motif"
	if q.onGap(s.Border-1, edgesOf(s.Edge)) {
		on = "gap"
	}
	deep := c.wide
	if s.Act == "print-middle" {
		deep = q.seam()
	}
	mark := func(g frame) {
		p.lines("chalkrim", c.placed(g, 0, inner), c.placed(g, 0, inner+inward*deep))
		p.lines("chalk", c.placed(g, 0, inner), c.placed(g, 0, inner+inward*deep))
	}
	mark(f)
	if s.Act == "place" {
		y := c.wide + 20/k
		p.dim(c.placed(f, 0, y), c.placed(f, -end, y))
		p.dim(c.placed(f, 0, y), c.placed(f, end, y))
	}
	p.line("leader", c.placed(f, 0, c.wide/2), eye)
	p.into(eye, func() {
		reach := max(min(in(q.Plan.Borders[s.Border-1].Motif), 1.6*c.wide), 3*q.seam())
		kd := 180 / reach
		at := inner + inward*min(c.wide/2, reach/2)
		g := scale(kd).of(move(0, -at))
		if c.up {
			g = scale(kd).of(move(-at, 0))
		}
		strip.lie(flat, g, onTable(c.up, -reach, reach, 0, c.wide))
		p.lines("raw", c.placed(g, -reach, 0), c.placed(g, reach, 0), c.placed(g, -reach, c.wide), c.placed(g, reach, c.wide))
		mark(g)
	})
	name := word{"t", s.Edge + " strip"}
	if s.Act == "print-middle" {
		p.words(words, after, name, word{"t", "the middle,"}, word{"t", "inner edge"})
		return fmt.Sprintf("The %s %s still on its fabric%s: a mark in the seam allowance of its inner edge, on the middle of a %s", s.Edge, strip.name, c.lies(s), on)
	}
	p.words(words, after, name, word{"tn", half.Shown()}, word{"t", "each way"})
	return fmt.Sprintf("The %s %s on its fabric%s: the middle of a %s is its middle, and %s are measured from there each way", s.Edge, strip.name, c.lies(s), on, half.Shown())
}

// stripChecked is a strip as it was cut, or was joined, the tape along it and across it in three
// places. A joined one that is to be cut has a mark where its length ends.
func (q Quilt) stripChecked(p *pen, s Scene, strip cutStrip) string {
	c := closeUp{up: q.liesUpright(s), long: in(strip.long.Length), wide: in(strip.wide.Length)}
	end := c.long / 2
	f, _, words := wholeFlat(c.up, c.long, c.wide)
	k := f.scale()
	over, how := 0.0, "as it was cut"
	if s.Act == "measure" {
		over, how = 18/k, "joined from its parts, a mark where its length ends"
	}
	outline := onTable(c.up, -end, end+over, 0, c.wide)
	strip.lie(q.flat(s.Edge, c.up), f, outline)
	p.shape("raw", f.all(outline.corners())...)
	p.seamsOf(q.joinsOf(s), f, -end)
	if over > 0 {
		p.lines("chalk", c.placed(f, end, -8/k), c.placed(f, end, c.wide+8/k))
	}
	y := c.wide + 30/k
	p.tape(c.placed(f, -end, y), c.placed(f, end, y))
	for _, x := range []float64{-0.42, 0.04, 0.42} {
		p.dim(c.placed(f, x*c.long, 0), c.placed(f, x*c.long, c.wide))
	}
	p.words(words, after, word{"t", s.Edge + " strip"}, word{"tn", strip.long.Shown() + " long"}, word{"tn", strip.wide.Shown() + " wide"})
	return fmt.Sprintf("The %s %s %s%s: measured along, %s, and across in three places, %s", s.Edge, strip.name, how, c.lies(s), strip.long.Shown(), strip.wide.Shown())
}

// middleFound is the whole band on an edge, the middle that was marked on its print carried
// to the inner edge.
func (q Quilt) middleFound(p *pen, s Scene, f frame) string {
	e, seam, k := edgesOf(s.Edge), q.seam(), f.scale()
	// The mark lies in the inner allowance of the innermost print: carried on from its seam.
	to := 0.0
	for i, b := range q.Plan.Borders {
		if b.Motif.Sign() > 0 {
			to = q.seams(e)[i]
			break
		}
	}
	to = max(to, 8/k-seam)
	p.lines("chalkrim", f.at(0, -seam), f.at(0, to))
	p.lines("chalk", f.at(0, -seam), f.at(0, to))
	p.arrow("arrow", f.at(0, -seam-70/k), f.at(0, -seam-22/k))
	if upright(s.Edge) {
		p.words(f.at(0, -seam-84/k), before, word{"t", "the marked"}, word{"t", "middle"})
	} else {
		p.text("t", f.at(0, -seam-110/k), amid, "the marked middle")
	}
	return fmt.Sprintf("The %s band: the middle that was marked on its print, at the inner edge", s.Edge)
}
