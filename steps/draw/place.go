package draw

import (
	"fmt"

	"cornerwise/calc"
)

// wholeStrip is the frame of a strip drawn along the drawing, x from its middle, with room
// below or beside it for a round window, and where that window and its words stand.
func wholeStrip(s Scene, long, wide float64) (f frame, eye, words pt) {
	if upright(s.Edge) {
		k := min(420/long, 120/wide)
		return lay(s.Edge, height/2, width-64-wide*k, k), pt{150, 350}, pt{24, 120}
	}
	k := min(520/long, 120/wide)
	return lay(s.Edge, width/2, 76+wide*k, k), pt{440, 360}, pt{24, 372}
}

// stripPlaced is a strip laid on its print before it is cut: its middle on a motif or on a
// gap, half its length measured from there each way; or that middle marked.
func (q Quilt) stripPlaced(p *pen, s Scene, strip calc.Strip) string {
	i, e := s.Border-1, strip.Edges
	long, wide := in(strip.CutLength.Length), in(strip.CutWidth.Length)
	f, eye, words := wholeStrip(s, long, wide)
	k := f.scale()
	over := min(12/k, wide)
	q.fabric(p, i, e, f, box{-long/2 - over, -over, long/2 + over, wide + over}.corners())
	p.shape("chalk open", f.all(box{-long / 2, 0, long / 2, wide}.corners())...)
	half := strip.CutLength
	half.Length, half.Rounding = half.Length.Half(), calc.Nearest
	on := "motif"
	if q.onGap(i, e) {
		on = "gap"
	}
	deep := wide
	if s.Act == "print-middle" {
		deep = q.seam()
	}
	mark := func(g frame) {
		p.lines("chalkrim", g.at(0, 0), g.at(0, deep))
		p.lines("chalk", g.at(0, 0), g.at(0, deep))
	}
	mark(f)
	if s.Act == "place" {
		y := wide + 20/k
		p.dim(f.at(0, y), f.at(-long/2, y))
		p.dim(f.at(0, y), f.at(long/2, y))
	}
	p.line("leader", f.at(0, wide/2), eye)
	p.into(eye, func() {
		reach := max(min(in(q.Plan.Borders[i].Motif), 1.6*wide), 3*q.seam())
		kd := 180 / reach
		g := frame{kd, 0, 0, -kd, 0, kd * min(wide/2, reach/2)}
		if upright(s.Edge) {
			g = frame{0, kd, kd, 0, -kd * min(wide/2, reach/2), 0}
		}
		q.fabric(p, i, e, g, box{-reach, 0, reach, wide}.corners())
		p.lines("raw", g.at(-reach, 0), g.at(reach, 0), g.at(-reach, wide), g.at(reach, wide))
		mark(g)
	})
	if s.Act == "print-middle" {
		p.words(words, after, word{"t", "the middle,"}, word{"t", "inner edge"})
		return fmt.Sprintf("The %s strip of %s still on its fabric: a mark in the seam allowance of its inner edge, on the middle of a %s", s.Edge, strip.Name, on)
	}
	p.words(words, after, word{"tn", half.Shown()}, word{"t", "each way"})
	return fmt.Sprintf("The %s strip of %s on its fabric: the middle of a %s is its middle, and %s are measured from there each way", s.Edge, strip.Name, on, half.Shown())
}

// stripChecked is a strip as it was cut, the tape along it and across it in three places.
func (q Quilt) stripChecked(p *pen, s Scene, strip calc.Strip) string {
	long, wide := in(strip.CutLength.Length), in(strip.CutWidth.Length)
	f, _, words := wholeStrip(s, long, wide)
	k := f.scale()
	outline := box{-long / 2, 0, long / 2, wide}.corners()
	q.fabric(p, s.Border-1, strip.Edges, f, outline)
	p.shape("raw", f.all(outline)...)
	y := wide + 26/k
	p.tape(f.at(-long/2, y), f.at(long/2, y))
	for _, x := range []float64{-0.42, 0, 0.42} {
		p.dim(f.at(x*long, 0), f.at(x*long, wide))
	}
	p.words(words, after, word{"tn", strip.CutLength.Shown() + " long"}, word{"tn", strip.CutWidth.Shown() + " wide"})
	return fmt.Sprintf("The %s strip of %s as it was cut: measured along, %s, and across in three places, %s", s.Edge, strip.Name, strip.CutLength.Shown(), strip.CutWidth.Shown())
}

// middleFound is the whole band on an edge, the middle that was marked on its print carried
// to the inner edge.
func (q Quilt) middleFound(p *pen, s Scene, f frame) string {
	wide, seam, k := q.band(edgesOf(s.Edge))+2*q.seam(), q.seam(), f.scale()
	p.lines("chalkrim", f.at(0, -seam), f.at(0, wide-seam))
	p.lines("chalk", f.at(0, -seam), f.at(0, wide-seam))
	p.arrow("arrow", f.at(0, -seam-70/k), f.at(0, -seam-22/k))
	if upright(s.Edge) {
		p.words(pt{24, 250}, after, word{"t", "the marked"}, word{"t", "middle"})
	} else {
		p.text("t", f.at(0, -seam-110/k), amid, "the marked middle")
	}
	return fmt.Sprintf("The %s band: the middle that was marked on its print, at the inner edge", s.Edge)
}
