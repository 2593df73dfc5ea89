package draw

import (
	"fmt"
	"math"
)

// stripJoined is the first join of a strip, close by: right sides together, then opened.
func (q Quilt) stripJoined(p *pen, s Scene) string {
	name := fmt.Sprintf("Two parts of the %s strip of %s, ", s.Edge, q.Plan.Borders[s.Border-1].Name)
	j := q.joinOf(s.Border-1, s.Edge)
	if joins := q.joinsOf(s); len(joins) > 0 {
		j = joins[0]
	}
	j.coped = s.Kind == CopingScene
	switch {
	case s.Act == "joined":
		return name + j.opened(p)
	case s.Act == "join-press":
		return name + j.pressed(p)
	case s.Act == "join-trim" && j.diagonal:
		return name + j.trimmed(p)
	case j.diagonal:
		return name + j.crossed(p, s.Act)
	}
	return name + j.endOnEnd(p)
}

// A join is of two parts of a strip of border i, which is so wide. Its places count from the
// middle of its seam at the strip's inner edge as the strip lies level, right side up.
type join struct {
	Quilt
	i        int
	edge     string
	wide     float64
	at       float64 // how far right of the strip's middle it lies
	diagonal bool
}

// lie draws what of the strip lies in an outline.
func (j join) lie(p *pen, f frame, outline []pt) {
	flat := move(-j.at, 0).of(j.flat(j.edge, false))
	j.layStrip(p, j.i+1, j.edge, f.of(flat), inverse(flat).all(outline))
}

// ends are where its seam starts and ends, and its way.
func (j join) ends() (a, b, way pt) {
	a, b = pt{-j.lean(), 0}, pt{j.lean(), j.wide}
	return a, b, b.minus(a)
}

// over is the frame that turns what is right of the seam over onto what is left of it: right
// sides together, as it is sewn.
func (j join) over() frame {
	a, _, way := j.ends()
	return turnedOver(a, way)
}

// allowed is what of an outline reaches no farther beyond the seam, to the right or to the left
// of it, than a seam allowance.
func (j join) allowed(outline []pt, right bool) []pt {
	a, _, way := j.ends()
	n := pt{way.y, -way.x}.unit() // to the right
	if !right {
		n = n.times(-1)
	}
	return side(outline, n.x, n.y, product(n, a)+j.seam())
}

// crossed are the parts at right angles, one right side up going left, one wrong
// side up on it going down: sewn from corner to corner they open to one strip.
func (j join) crossed(p *pen, act string) string {
	wide, lean := j.wide, j.lean()
	k := 200 / wide
	f := frame{k, 0, 0, k, 330 + lean*k, 90} // the corner where the seam starts is at 330, 90
	left, low := -(330-24)/k-lean, (470-90)/k-lean
	under, over := box{left, 0, lean, wide}.corners(), box{-lean, 0, low, wide}.corners()
	on := f.of(j.over())
	j.lie(p, f, under)
	p.line("raw", f.at(left, 0), f.at(lean, 0), f.at(lean, wide))
	p.line("raw", f.at(left, wide), f.at(-lean, wide))
	j.lie(p, on, over)
	p.line("raw", on.at(low, 0), on.at(-lean, 0), on.at(-lean, wide), on.at(low, wide))
	p.line("ghost", f.at(-lean, wide), f.at(lean, wide))
	p.torn(f.at(left, wide).plus(pt{8, 14}), f.at(left, 0).plus(pt{8, -14}))
	p.torn(on.at(low, wide).plus(pt{14, -8}), on.at(low, 0).plus(pt{-14, -8}))
	start, end, _ := j.ends()
	a, c := f.at(start.x, start.y), f.at(end.x, end.y)
	p.text("ts", pt{24, 44}, after, "upper wrong side up")
	if act == "join-line" {
		p.arrow("chalkline", a, c)
		p.words(pt{24, 372}, after, word{"t", "corner to"}, word{"t", "corner"})
		return "right sides together, crossed at right angles with their ends level, the upper one wrong side up: a line drawn from corner to corner"
	}
	p.line("stitch", a, c)
	way := c.minus(a).unit()
	for _, t := range []float64{0.25, 0.5, 0.75} {
		p.pin(a.to(c, t), pt{-way.y, way.x})
	}
	p.words(pt{24, 372}, after, word{"t", "on the"}, word{"t", "line"})
	return "right sides together, crossed at right angles with their ends level, the upper one wrong side up: the seam runs on the diagonal from corner to corner"
}

// trimmed are the crossed parts, turned so that the cut runs upward: the corner comes off at
// the right, a seam allowance beyond the seam.
func (j join) trimmed(p *pen) string {
	p.forHand(j.Quilt)
	const x, y, half = 236.0, 250.0, 124.0 // the middle of the seam, and half its length
	wide, lean, seam := j.wide, j.lean(), j.seam()
	k := half * math.Sqrt2 / wide
	c := math.Sqrt2 / 2
	turn := frame{c, c, -c, c, 0, 0}.of(move(0, -wide/2)) // the seam upright, its middle in the middle
	f := move(x, y).of(scale(k)).of(turn)
	on := f.of(j.over())
	arm := 130 / k
	under := j.allowed(box{-lean - arm, 0, lean, wide}.corners(), true)
	upper := j.allowed(box{-lean, 0, lean + arm, wide}.corners(), false)
	p.shape("ghostfill", f.all([]pt{{-lean, 0}, {lean, 0}, {lean, wide}})...)
	j.lie(p, f, under)
	p.shape("raw", f.all(under)...)
	j.lie(p, on, upper)
	p.shape("raw", on.all(upper)...)
	in, over := 8/k, 14/k
	p.torn(f.at(in-lean-arm, wide+over), f.at(in-lean-arm, -over))
	p.torn(on.at(lean+arm-in, wide+over), on.at(lean+arm-in, -over))
	p.line("stitch", pt{x, y + half}, pt{x, y - half})
	edge := x + seam*k
	p.cutUp(edge, y+half+40, y-half-40, 96, j.rulerStep(k))

	eye := pt{474, 366}
	p.line("leader", pt{edge, y + half*0.7}, eye)
	p.into(eye, func() {
		g := move(-32, 0).of(scale(64 / seam)).of(turn)
		near := box{-120, -120, 120, 120}
		top := g.of(j.over())
		p.shape("ghostfill", pt{32, -120}, pt{120, -120}, pt{120, 120}, pt{32, 120})
		j.lie(p, top, inverse(top).all(near.in(top.all(upper))))
		p.line("raw", pt{32, -120}, pt{32, 120})
		p.ruler(pt{32, 116}, pt{32, -116}, 130, j.rulerStep(64/seam))
		p.line("stitch", pt{-32, 116}, pt{-32, -116})
		p.lines("rulerline", pt{-32, 116}, pt{-32, -116})
		p.dim(pt{-32, 40}, pt{32, 40})
	})
	p.words(pt{340, 70}, after, word{"tn", j.Sheet.Seam.Exactly()}, word{"t", "beyond seam"})
	return fmt.Sprintf("crossed and sewn, turned so that the seam is upright: the ruler on the parts, the blade away from you %s beyond the seam, the corner comes off", j.Sheet.Seam.Exactly())
}

// endOnEnd are the parts lying on each other, their ends level.
func (j join) endOnEnd(p *pen) string {
	const end, most = 520.0, 180.0
	wide, seam := j.wide, j.seam()
	k := max(most/wide, 16/seam)
	high := min(wide*k, most)
	f := frame{k, 0, 0, k, end - seam*k, 90} // from the seam
	left := -(end-24)/k + seam
	on := f.of(j.over())
	j.lie(p, f, box{left, 0, seam, high / k}.corners())
	over := box{-seam, 0, -left * 0.72, high / k}
	j.lie(p, on, over.corners())
	p.line("raw", f.at(left, 0), f.at(seam, 0), f.at(seam, high/k))
	if wide*k > most+1 {
		p.torn(pt{end + 12, 90 + high - 8}, pt{12, 90 + high - 8})
	} else {
		p.line("raw", f.at(seam, wide), f.at(left, wide))
	}
	p.torn2(on.at(over.right, 0), on.at(over.right, high/k))
	p.torn(f.at(left, high/k).plus(pt{8, 14}), f.at(left, 0).plus(pt{8, -14}))
	p.line("stitch", f.at(0, 0), f.at(0, high/k))
	for _, t := range []float64{0.2, 0.5, 0.8} {
		p.pin(pt{f.e - 26, 90 + high*t}, pt{1, 0})
	}
	p.dim(pt{f.e, 90 + high + 22}, pt{end, 90 + high + 22})
	p.text("tn", pt{end, 90 + high + 58}, before, j.Sheet.Seam.Exactly()+" seam")
	p.text("ts", pt{24, 44}, after, "upper wrong side up")
	j.goesOn(p, box{24, 376, 576, 480})
	return fmt.Sprintf("right sides together, end on end, the upper one wrong side up: the seam lies %s in from the raw ends; below, opened, right side up", j.Sheet.Seam.Exactly())
}

// goesOn is the strip opened in a room, right side up: it goes on over the join.
func (j join) goesOn(p *pen, room box) {
	k := (room.bottom - room.top) / j.wide
	f := frame{k, 0, 0, k, room.middle().x, room.top}
	half := (room.right - room.left) / 2 / k
	j.lie(p, f, box{-half, 0, half, j.wide}.corners())
	p.lines("raw", f.at(-half, 0), f.at(half, 0), f.at(-half, j.wide), f.at(half, j.wide))
	p.line("seam", f.at(0, 0), f.at(0, j.wide))
	p.torn(pt{room.left + 8, room.bottom + 8}, pt{room.left + 8, room.top - 8})
	p.torn(pt{room.right - 8, room.top - 8}, pt{room.right - 8, room.bottom + 8})
}

// lying is the frame of the joined strip across the drawing, and how much of it is seen to
// either side of the join.
func (j join) lying() (f frame, half float64) {
	k := 220 / j.wide
	return frame{k, 0, 0, k, width / 2, 120}, (width/2 - 24) / k
}

func (j join) tornEnds(p *pen, f frame) {
	top, bottom := f.f-12, f.f+220+12
	p.torn(pt{32, bottom}, pt{32, top})
	p.torn(pt{width - 32, top}, pt{width - 32, bottom})
}

// opened is the strip right side up, to be looked at: both its edges run straight on.
func (j join) opened(p *pen) string {
	f, half := j.lying()
	j.lie(p, f, box{-half, 0, half, j.wide}.corners())
	p.lines("raw", f.at(-half, 0), f.at(half, 0), f.at(-half, j.wide), f.at(half, j.wide))
	start, end, _ := j.ends()
	a, b := f.at(start.x, start.y), f.at(end.x, end.y)
	p.line("seam", a, b)
	j.tornEnds(p, f)
	p.circle("loupe", a, 34)
	p.circle("loupe", b, 34)
	p.text("t", pt{width / 2, 450}, amid, "edges run straight on")
	return "joined and opened, right side up: both edges of the strip run straight on over the join"
}

// pressed is the strip turned over like a page, wrong side up, the join's allowances spread
// open: each is folded back onto its own part, and shows its right side.
func (j join) pressed(p *pen) string {
	f, half := j.lying()
	f = f.of(likePage)
	j.lie(p, f, box{-half, 0, half, j.wide}.corners())
	p.lines("raw", f.at(-half, 0), f.at(half, 0), f.at(-half, j.wide), f.at(half, j.wide))
	lean, seam := j.lean(), j.seam()
	back := f.of(j.over())
	reach, room := lean+2*seam, box{24, 8, width - 24, height - 80}
	for _, right := range []bool{true, false} { // beyond the seam: the left part's allowance, and the right one's
		beyond := j.beyond(box{-reach, 0, reach, j.wide}.corners(), right)
		flap := room.in(back.all(j.allowed(beyond, right)))
		j.lie(p, back, inverse(back).all(flap))
		p.shape("rawthin open", flap...)
	}
	start, end, _ := j.ends()
	a, b := f.at(start.x, start.y), f.at(end.x, end.y)
	p.line("seam", a, b)
	j.tornEnds(p, f)
	p.iron(a.to(b, 0.42), a.minus(b), 0.8)
	p.text("ts", pt{24, 40}, after, "wrong side up")
	p.text("t", pt{width / 2, 450}, amid, "open, set down, lift")
	return "joined, turned over like a page, wrong side up: the two allowances of the join pressed open"
}

// beyond is what of an outline lies right of the seam, or left of it.
func (j join) beyond(outline []pt, right bool) []pt {
	a, _, way := j.ends()
	n := pt{-way.y, way.x} // to the left
	if !right {
		n = n.times(-1)
	}
	return side(outline, n.x, n.y, product(n, a))
}
