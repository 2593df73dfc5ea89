package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

// stripJoined is the join of two parts of a strip, close by: right sides together,
// then opened.
func (q Quilt) stripJoined(p *pen, s Scene) string {
	i, e := s.Border-1, edgesOf(s.Edge)
	name := fmt.Sprintf("Two parts of the %s strip of %s, ", s.Edge, q.Plan.Borders[i].Name)
	j := q.joinOf(i, e)
	switch {
	case s.Act == "joined":
		return name + j.opened(p)
	case s.Act == "join-press":
		return name + j.pressed(p)
	case j.diagonal:
		return name + j.crossed(p, s.Act)
	}
	return name + j.endOnEnd(p)
}

// A join is of two parts of border i's strips on edges e, this wide.
type join struct {
	Quilt
	i        int
	e        calc.Edges
	wide     float64
	diagonal bool
}

// crossed are the parts at right angles, one right side up going left, one wrong
// side up on it going down: sewn from corner to corner they open to one strip.
func (j join) crossed(p *pen, act string) string {
	trim := act == "join-trim"
	wide := j.wide
	k := 200 / wide
	f := frame{k, 0, 0, k, 330, 90} // from the corner where the seam starts
	left, low := -(330-24)/k, (470-90)/k
	off := j.seam() * math.Sqrt2
	keep := func(outline []pt) []pt { return outline }
	if trim {
		p.shape("ghostfill", f.all(box{0, 0, wide, wide}.corners())...)
		keep = func(outline []pt) []pt { return side(outline, 1, -1, off) }
	}
	j.fabric(p, j.i, j.e, f, keep(box{left, 0, wide, wide}.corners()))
	p.shape("wrong", f.all(keep(box{0, 0, wide, low}.corners()))...)
	p.line("raw", f.at(left, wide), f.at(0, wide))
	p.line("raw", f.at(0, low), f.at(0, 0))
	if trim {
		p.line("raw", f.at(left, 0), f.at(min(off, wide), 0))
		p.line("raw", f.at(wide, max(wide-off, 0)), f.at(wide, low))
	} else {
		p.line("raw", f.at(left, 0), f.at(wide, 0), f.at(wide, low))
	}
	p.line("ghost", f.at(0, wide), f.at(wide, wide))
	p.torn(f.at(left, wide).plus(pt{8, 14}), f.at(left, 0).plus(pt{8, -14}))
	p.torn(f.at(wide, low).plus(pt{14, -8}), f.at(0, low).plus(pt{-14, -8}))
	a, c := f.at(0, 0), f.at(wide, wide)
	if act == "join-line" {
		p.arrow("chalkline", a, c)
		p.words(pt{24, 372}, after, word{"t", "corner to"}, word{"t", "corner"})
		p.text("ts", pt{a.x, 44}, amid, "raw edges level")
		return "right sides together, crossed at right angles with their ends level: a line drawn from corner to corner"
	}
	p.line("stitch", a, c)
	if trim {
		p.blade(f.at(wide, wide-off).plus(pt{10, 10}), f.at(off, 0).minus(pt{10, 10}))
		p.words(pt{24, 372}, after, word{"tn", j.Sheet.Seam.Exactly()}, word{"t", "beyond seam"})
		return fmt.Sprintf("crossed and sewn: the corner cut off %s beyond the seam", j.Sheet.Seam.Exactly())
	}
	way := c.minus(a).unit()
	for _, t := range []float64{0.25, 0.5, 0.75} {
		p.pin(a.to(c, t), pt{-way.y, way.x})
	}
	p.words(pt{24, 372}, after, word{"t", "on the"}, word{"t", "line"})
	return "right sides together, crossed at right angles with their ends level: the seam runs on the diagonal from corner to corner"
}

// endOnEnd are the parts lying on each other, their ends level.
func (j join) endOnEnd(p *pen) string {
	wide, seam := j.wide, j.seam()
	k := max(min(250/wide, 200/(3*seam)), 60/wide)
	high := min(wide*k, 270)
	f := frame{k, 0, 0, k, 520, 90} // from the raw ends
	left, low := -(520-24)/k, high/k
	j.fabric(p, j.i, j.e, f, box{left, 0, 0, low}.corners())
	over := box{left * 0.72, 0, 0, low}
	p.shape("wrong", f.all(over.corners())...)
	p.line("raw", f.at(left, 0), f.at(0, 0), f.at(0, low), f.at(left, low))
	p.torn2(f.at(over.left, 0), f.at(over.left, low))
	p.torn(f.at(left, low).plus(pt{8, 14}), f.at(left, 0).plus(pt{8, -14}))
	in := max(seam, 16/k) // drawn no narrower than can be seen
	p.line("stitch", f.at(-in, 0), f.at(-in, low))
	for _, t := range []float64{0.2, 0.5, 0.8} {
		p.pin(f.at(-2.2*in, low*t), pt{1, 0})
	}
	p.dim(f.at(-in, low).plus(pt{0, 24}), f.at(0, low).plus(pt{0, 24}))
	p.text("tn", pt{f.e, f.f + high + 66}, before, j.Sheet.Seam.Exactly()+" seam")
	p.text("t", pt{24, f.f + high + 66}, after, "end on end")
	return fmt.Sprintf("right sides together, end on end: the seam lies %s in from the raw ends", j.Sheet.Seam.Exactly())
}

// lying is the joined strip across the drawing, its frame counted from the middle
// of the join, and the join's ends in drawing units.
func (j join) lying(fabric func(f frame, outline []pt), p *pen) (f frame, a, b pt) {
	k := 220 / j.wide
	f = frame{k, 0, 0, k, width / 2, 120}
	half := (width/2 - 24) / k
	fabric(f, box{-half, 0, half, j.wide}.corners())
	p.lines("raw", f.at(-half, 0), f.at(half, 0), f.at(-half, j.wide), f.at(half, j.wide))
	lean := 0.0
	if j.diagonal {
		lean = j.wide / 2
	}
	return f, f.at(-lean, 0), f.at(lean, j.wide)
}

func (j join) tornEnds(p *pen, f frame) {
	top, bottom := f.f-12, f.f+220+12
	p.torn(pt{32, bottom}, pt{32, top})
	p.torn(pt{width - 32, top}, pt{width - 32, bottom})
}

// opened is the strip right side up, to be looked at: both its edges run straight on.
func (j join) opened(p *pen) string {
	f, a, b := j.lying(func(f frame, outline []pt) { j.fabric(p, j.i, j.e, f, outline) }, p)
	p.line("stitch", a, b)
	j.tornEnds(p, f)
	p.circle("loupe", a, 34)
	p.circle("loupe", b, 34)
	p.text("t", pt{width / 2, 450}, amid, "edges run straight on")
	return "joined and opened, right side up: both edges of the strip run straight on over the join"
}

// pressed is the strip wrong side up, the join's allowances spread open.
func (j join) pressed(p *pen) string {
	f, a, b := j.lying(func(f frame, outline []pt) { p.shape("wrong", f.all(outline)...) }, p)
	deep := max(j.seam()*f.scale(), 22)
	across := facing(b.minus(a)).at(0, deep)
	room := box{24, f.f, width - 24, f.f + 220}
	for _, way := range []float64{-1, 1} {
		n := across.times(way)
		// A diagonal's allowance ends level with the strip's edges: it is longer than its seam.
		over := b.minus(a)
		flap := room.in([]pt{a.minus(over), b.plus(over), b.plus(over).plus(n), a.minus(over).plus(n)})
		p.shape("allow", flap...)
		if c, d, ok := room.line(a.minus(over).plus(n), b.plus(over).plus(n)); ok {
			p.lines("rawthin", c, d)
		}
	}
	p.line("stitch", a, b)
	j.tornEnds(p, f)
	p.iron(a.to(b, 0.42), a.minus(b), 0.8)
	p.text("ts", pt{24, 40}, after, "wrong side up")
	p.text("t", pt{width / 2, 450}, amid, "open, set down, lift")
	return "joined, wrong side up: the two allowances of the join pressed open"
}
