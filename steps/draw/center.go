package draw

import (
	"fmt"

	"cornerwise/calc"
)

// center is the quilt center alone.
func (q Quilt) center(p *pen, s Scene) string {
	switch s.Act {
	case "settle", "middle", "dot":
	default:
		q = q.pieced() // the coping strips come after these
	}
	switch s.Act {
	case "press":
		f := q.wholeCenter(p, box{70, 24, 530, 424})
		p.ironSet(f.at(0, 0).plus(pt{-76, 62}), pt{1, 0}, 1, pt{0, -124}, 1)
		p.text("t", pt{width / 2, 462}, amid, "set down, lift")
		return "The center, right side up, with the iron set down on it and lifted, not slid"
	case "steady":
		return q.steadied(p)
	case "squared":
		return q.squared(p, s.Corner)
	case "trim":
		return q.trimmed(p)
	case "settle":
		return q.settled(p)
	case "middle":
		return q.middle(p, s.Edge)
	case "dot":
		return q.dotted(p, s.Corner)
	}
	return q.measured(p, s.Act)
}

func (q Quilt) wholeCenter(p *pen, room box) frame {
	f := room.fit(q.width(), q.length())
	q.lay(p, "center", f, q.centerOutline())
	p.shape("raw", f.all(q.centerOutline())...)
	return f
}

// numbered writes the corners' numbers beside them.
func (q Quilt) numbered(p *pen, f frame, only ...int) {
	for _, corner := range only {
		x, y := cornerPlace(corner)
		at := f.at(x*q.width()/2, y*q.length()/2)
		p.text("ts", at.plus(pt{x * 14, -y * 14}), int(x), fmt.Sprint(corner))
	}
}

// steadied is the center with a line of stitches just inside its raw edges, and a tug.
func (q Quilt) steadied(p *pen) string {
	f := q.wholeCenter(p, box{110, 40, 490, 400})
	w, l := q.width()/2, q.length()/2
	near := max(q.seam()/2, 7/f.scale()) // drawn no nearer to the edge than can be seen
	p.line("stitch", append(f.all(box{near - w, near - l, w - near, l - near}.corners()), f.at(near-w, near-l))...)
	for _, way := range []float64{-1, 1} {
		p.arrow("arrow", f.at(way*w*0.3, -l).plus(pt{way * 12, -18}), f.at(way*w*0.3, -l).plus(pt{way * 84, -18}))
		p.arrow("arrow", f.at(w, way*l*0.3).plus(pt{24, way * 12}), f.at(w, way*l*0.3).plus(pt{24, way * 84}))
	}
	p.text("t", pt{width / 2, 452}, amid, "tug: does it stretch?")
	return "The center, right side up: arrows tug along its edges, and a line of stitches inside each raw edge holds it"
}

func (q Quilt) measured(p *pen, act string) string {
	f := q.wholeCenter(p, box{60, 30, 540, 470})
	w, l := q.width()/2, q.length()/2
	near := in(calc.NearEdge(q.Plan).Length)
	hx, hy := w-near, l-near
	lay := map[string]struct {
		a, b  pt
		words string
	}{
		"width-top":     {pt{-w, -hy}, pt{w, -hy}, "width, measured near the top"},
		"width-middle":  {pt{-w, 0}, pt{w, 0}, "width, measured across the middle"},
		"width-bottom":  {pt{-w, hy}, pt{w, hy}, "width, measured near the bottom"},
		"length-left":   {pt{-hx, -l}, pt{-hx, l}, "length, measured near the left edge"},
		"length-middle": {pt{0, -l}, pt{0, l}, "length, measured down the middle"},
		"length-right":  {pt{hx, -l}, pt{hx, l}, "length, measured near the right edge"},
		"diagonal-1":    {pt{-w, -l}, pt{w, l}, "diagonal from corner 1, top left, to corner 3, bottom right"},
		"diagonal-2":    {pt{w, -l}, pt{-w, l}, "diagonal from corner 2, top right, to corner 4, bottom left"},
	}[act]
	p.tape(f.at(lay.a.x, lay.a.y), f.at(lay.b.x, lay.b.y))
	switch act {
	case "diagonal-1":
		q.numbered(p, f, 1, 3)
	case "diagonal-2":
		q.numbered(p, f, 2, 4)
	}
	return "The center with the tape from raw edge to raw edge: its " + lay.words
}

// squared is one corner close by as it lies on the table, a square ruler on it.
func (q Quilt) squared(p *pen, corner int) string {
	x, y := cornerPlace(corner)
	show := min(14, q.width(), q.length())
	k := 390 / show
	tip := pt{width/2 + x*170, height/2 + y*166} // the true corner
	w, l := x*q.width()/2, y*q.length()/2
	f := move(tip.x, tip.y).of(scale(k)).of(move(-w, -l))
	in := func(across, down float64) pt { return pt{w - x*across, l - y*down} } // from the corner
	out := 16 / k                                                               // what sticks out, drawn larger than it is
	fabric := []pt{in(show, 0), in(-out, -out*0.1), in(0, show), in(show, show)}
	q.lay(p, "center", f, fabric)
	p.line("raw", f.all(fabric[:3])...)
	edge := show * 0.86
	a, b, c := f.all([]pt{in(edge, 0)})[0], tip, f.all([]pt{in(0, edge)})[0]
	for _, side := range []struct {
		from, to pt
		wide     float64
	}{{b, c, edge * k}, {a, b, 40}} {
		if x*y < 0 { // so that the ruler lies on the fabric
			side.from, side.to = side.to, side.from
		}
		p.ruler(side.from, side.to, side.wide, q.rulerStep(k))
	}
	p.line("chalk", a, b, c)
	shown := box{min(tip.x, tip.x-x*show*k), min(tip.y, tip.y-y*show*k), max(tip.x, tip.x-x*show*k), max(tip.y, tip.y-y*show*k)}
	p.tear(map[float64]string{1: "left", -1: "right"}[x], shown, 8, 12)
	p.tear(map[float64]string{1: "top", -1: "bottom"}[y], shown, 8, 20)
	where := map[float64]int{1: after, -1: before}[x]
	p.text("ts", b.plus(pt{x * 24, y * 34}), where, fmt.Sprint(corner))
	p.text("t", tip.minus(pt{x * edge * k * 0.55, y * edge * k * 0.5}), amid, "square ruler")
	p.arrow("arrow", tip.plus(pt{x * 84, -y * 92}), tip.plus(pt{x * 17, -y * 34}))
	p.text("t", tip.plus(pt{x * 30, -y * 122}), where, "out")
	return fmt.Sprintf("Corner %d of the center, %s, close by: a square ruler on it, chalk along its two edges, beyond it what sticks out, drawn larger than it is", corner, cornerWords[corner])
}

// rulerStep is the distance of a ruler's lines at this scale: inches, or centimeters.
func (q Quilt) rulerStep(k float64) float64 {
	step := k / 4
	if q.Plan.Unit == "cm" {
		step = k / 2.54 / 2
	}
	return step
}

// trimmed is one edge of the center, turned to the right of the hand: the ruler lies on what is
// kept, its edge on the chalk; the blade runs along it away from the person; what sticks out,
// drawn larger than it is, lies right of the cut.
func (q Quilt) trimmed(p *pen) string {
	p.forHand(q)
	const cut, near, far = 336.0, 22.0, 62.0 // the cut, and how far beyond it the raw edge lies at its ends
	room := box{24, 64, 420, 436}
	k := (room.bottom - room.top) / q.length()
	f := move(cut, (room.top+room.bottom)/2).of(scale(k)).of(move(-q.width()/2, 0))
	left := max(room.left, cut-q.width()*k)
	raw := []pt{{left, room.bottom}, {left, room.top}, {cut + near, room.top}, {cut + far, room.bottom}}
	q.lay(p, "center", f, inverse(f).all(raw))
	p.shape("ghostfill", pt{cut, room.top}, raw[2], raw[3], pt{cut, room.bottom})
	p.line("raw", append(raw[1:4:4], raw[0])...)
	if left > room.left {
		p.line("raw", raw[0], raw[1])
	} else {
		p.tear("left", box{left, room.top, cut, room.bottom}, 8, 12)
	}
	low, high := pt{cut, room.bottom + 26}, pt{cut, room.top - 26}
	p.ruler(low, high, 84, max(q.rulerStep(k), 12))
	from, to := p.away(low, high)
	_, edge := p.away(pt{cut, room.bottom}, pt{cut, room.top})
	at := from.to(to, 0.6) // cut so far, chalked from there on
	p.line("chalk", at, edge)
	p.line("cutline", from, at)
	p.wheel(at, to.minus(from))
	p.words(pt{424, 112}, after, word{"t", "only what"}, word{"t", "sticks out"})
	return "One edge of the center, right side up, turned to the " + q.hand() + ": the ruler on what is kept, its edge on the chalk, the blade along it; only what sticks out, drawn larger than it is, comes off"
}

func (q Quilt) settled(p *pen) string {
	wide, long := q.Sheet.Center.Width.Shown(), q.Sheet.Center.Length.Shown()
	right := textWidth("tn", long) + 64
	room := box{16, 12, width - right, height - 78}
	f := q.wholeCenter(p, room)
	a, b := f.at(-q.width()/2, -q.length()/2), f.at(q.width()/2, q.length()/2)
	p.dim(pt{a.x, b.y + 22}, pt{b.x, b.y + 22})
	p.text("tn", pt{(a.x + b.x) / 2, b.y + 56}, amid, wide)
	p.dim(pt{b.x + 22, a.y}, pt{b.x + 22, b.y})
	p.text("tn", pt{b.x + 40, (a.y + b.y) / 2}, after, long)
	return fmt.Sprintf("The center to build on, %s wide and %s long, raw edge to raw edge", wide, long)
}

// middle is the mark in the middle of one edge, and half the edge each way.
func (q Quilt) middle(p *pen, edge string) string {
	half := q.Sheet.Marks.On(edgesOf(edge)).ToEnd.Shown()
	room := map[string]box{
		"left": {82 + textWidth("tn", half), 24, 576, 476}, "right": {24, 24, 518 - textWidth("tn", half), 476},
		"top": {70, 120, 530, 476}, "bottom": {70, 24, 530, 380},
	}[edge]
	f := q.wholeCenter(p, room)
	e := f.of(q.on(edge))
	s, k := q.seam(), f.scale()
	a := q.along(edgesOf(edge)) + s
	off := s + 28/k
	p.dim(e.at(-a, off), e.at(0, off))
	p.dim(e.at(0, off), e.at(a, off))
	p.lines("chalk", e.at(0, s+10/k), e.at(0, s-34/k))
	at := e.at(0, s+60/k)
	switch edge {
	case "left", "right":
		way := after
		if edge == "left" {
			way = before
		}
		p.words(at, way, word{"tn", half}, word{"t", "each way"})
	case "top":
		p.text("tn", at.plus(pt{0, -6}), amid, half+" each way")
	default:
		p.text("tn", at.plus(pt{0, 6}), amid, half+" each way")
	}
	return fmt.Sprintf("The center with the middle of its %s edge marked, %s from each end", edge, half)
}

// dotted is the center turned over like a page, and one corner enlarged, wrong side up: the dot
// a seam allowance in from both raw edges.
func (q Quilt) dotted(p *pen, corner int) string {
	x, y := cornerPlace(corner)
	seam := q.Sheet.Seam.Exactly()
	eye := pt{474, 204}
	at := q.turnedInset(p, box{24, 66, 336, 350}, q.cornerAt(corner), fmt.Sprint(corner))
	if from := at.to(eye, 18/eye.minus(at).long()); at.x < eye.x {
		p.line("leader", from, eye)
	}
	k := 74 / q.seam()
	corners := pt{x * q.width() / 2, y * q.length() / 2}
	c := likePage // the raw corner a little out from the middle of the window
	c = scale(k).of(c).of(move(-corners.x, -corners.y))
	c = move(-x*46, y*46).of(c)
	p.into(eye, func() {
		in := pt{corners.x - x*4*q.seam(), corners.y - y*4*q.seam()}
		q.lay(p, "center", c, []pt{corners, {in.x, corners.y}, in, {corners.x, in.y}})
		p.line("raw", c.all([]pt{{in.x, corners.y}, corners, {corners.x, in.y}})...)
		d := pt{corners.x - x*q.seam(), corners.y - y*q.seam()}
		p.dim(c.at(d.x, corners.y), c.at(d.x, d.y))
		p.dim(c.at(corners.x, d.y), c.at(d.x, d.y))
		p.dot(c.at(d.x, d.y))
	})
	p.words(pt{eye.x, eye.y + loupe + 58}, amid, word{"tn", seam}, word{"t", "from edges"})
	p.words(pt{24, 420}, after, word{"ts", "turned over,"}, word{"ts", "wrong side up"})
	return fmt.Sprintf("The center turned over like a page, wrong side up, corner %d enlarged: a dot %s in from both raw edges", corner, seam)
}
