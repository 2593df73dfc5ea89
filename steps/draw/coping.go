package draw

import (
	"fmt"

	"cornerwise/calc"
)

// pieced is the quilt as its center is pieced, before the coping strips.
func (q Quilt) pieced() Quilt {
	if q.Plan.Coping != nil {
		q.Plan.Center, q.Plan.Coping = q.Plan.Pieced, nil
	}
	return q
}

// between is what lies between the seams of the coping strips: out to the raw edge,
// and beyond, where there are none.
func (q Quilt) between() box {
	pieced := q.pieced()
	w, l := pieced.along(calc.TopBottom), pieced.along(calc.Sides)
	if q.Plan.Coping.Edges == calc.Sides {
		return box{-w, -q.length(), w, q.length()}
	}
	return box{-q.width(), -l, q.width(), l}
}

// copingSeams are the ends of the two seams, so far as they lie in an outline.
func (q Quilt) copingSeams(outline []pt) []pt {
	if q.Plan.Coping == nil {
		return nil
	}
	at := q.between()
	flat := frame{1, 0, 0, 1, 0, 0}
	ys := []float64{at.top, at.bottom}
	if q.Plan.Coping.Edges == calc.Sides {
		flat, ys = frame{0, 1, 1, 0, 0, 0}, []float64{at.left, at.right}
	}
	turned := flat.all(outline) // x and y exchanged: its own inverse
	var ends []pt
	for _, y := range ys {
		if left, right := across(turned, y); left < right {
			ends = append(ends, flat.at(left, y), flat.at(right, y))
		}
	}
	return ends
}

// copingBehind are the seams of the coping strips seen from the wrong side; the
// frame counts from the middle of the center.
func (q Quilt) copingBehind(p *pen, f frame, outline []pt) {
	p.lines("seam", f.all(q.copingSeams(outline))...)
}

// copingAsBorder is the quilt with its coping strips as its only border.
func (q Quilt) copingAsBorder() Quilt {
	q.Plan, q.Sheet = q.Sheet.Coping.AsBorder(q.Plan, q.Sheet)
	return q
}

// CopingPage is how the coping strips lie on their fabric, to fill a page; "" where they do
// not fit.
func (q Quilt) CopingPage() string {
	q = q.copingAsBorder()
	picked := q.Sheet.Fabric[0].Picked()
	if picked == nil {
		return ""
	}
	l := newLayout(q, picked, picked == q.Sheet.Fabric[0].Lengthwise)
	l.coping = true
	return l.page()
}

// copingStrip is one of the two, as it is cut: as long as the pieced center's side.
func (q Quilt) copingStrip(p *pen) cutStrip {
	long := q.Plan.Pieced.Length
	if q.Plan.Coping.Edges == calc.TopBottom {
		long = q.Plan.Pieced.Width
	}
	return cutStrip{
		name:   "coping strip",
		long:   calc.Figure{Length: long, Unit: q.Plan.Unit, Rounding: calc.CutUp},
		wide:   calc.Figure{Length: q.Plan.Coping.Cut, Unit: q.Plan.Unit},
		fabric: func(f frame, outline []pt) { p.shape("coping", f.all(outline)...) },
	}
}

// coping is the work on the two coping strips; a plan without them has none.
func (q Quilt) coping(p *pen, s Scene) string {
	if q.Plan.Coping == nil {
		return ""
	}
	if s.Edge == "" {
		s.Edge = map[calc.Edges]string{calc.Sides: "left", calc.TopBottom: "top"}[q.Plan.Coping.Edges]
	}
	switch s.Act {
	case "ready", "square":
		s.Border = 1
		return q.copingAsBorder().fabricLaid(p, s)
	case "parts", "parts-cut":
		s.Border = 1
		return q.copingAsBorder().stripParts(p, s)
	case "join", "join-press":
		s.Border = 1
		return q.copingAsBorder().stripJoined(p, s)
	case "measure", "cut":
		p.onEdge(s.Edge)
		return q.stripCut(p, s, q.copingStrip(p))
	case "press":
		p.onEdge(s.Edge)
		return q.copingPressed(p, s)
	case "size":
		return q.copingSize(p)
	}
	p.onEdge(s.Edge)
	return q.copingSewn(p, s)
}

// copingRoom is the frame of the pieced center's edge, and how far into the center
// the drawing goes.
func (q Quilt) copingRoom(s Scene, out float64) (f frame, low float64) {
	half := q.pieced().along(edgesOf(s.Edge)) + q.seam()
	const rim = 28.0
	above, deep := 56.0, 190.0 // over the edge, for the iron; and into the center
	k := min((width/2-rim)/half, 150/out)
	f = lay(s.Edge, width/2, above+out*k, k)
	if upright(s.Edge) {
		k = min((height/2-rim)/half, 170/out)
		f = lay(s.Edge, height/2, width-above-out*k, k)
		deep = 230
	}
	if s.Act == "press" {
		deep += 80
	}
	far := 2*q.pieced().along(edgesOf(s.Edge).Neighbor()) + q.seam()
	return f, -min(far, deep/k)
}

// copingEdge draws the pieced center, right side up, behind the edge's raw line.
func (q Quilt) copingEdge(p *pen, s Scene, f frame, low, upTo float64) {
	pieced := q.pieced()
	e := edgesOf(s.Edge)
	half := pieced.along(e) + q.seam()
	center := box{-half, low, half, upTo}
	lies := pieced.on(s.Edge)
	pieced.patch(p, f.of(inverse(lies)), lies.all(center.corners()))
	p.line("raw", f.at(-half, upTo), f.at(-half, low))
	p.line("raw", f.at(half, upTo), f.at(half, low))
	if far := -2*pieced.along(e.Neighbor()) - q.seam(); low <= far+1e-9 {
		p.line("raw", f.at(-half, low), f.at(half, low))
		return
	}
	k := f.scale()
	p.torn(f.at(half+12/k, low+8/k), f.at(-half-12/k, low+8/k))
}

// copingSewn is the strip wrong side up on the edge, right sides together, from one
// end to the other: no dots, for the border's come later.
func (q Quilt) copingSewn(p *pen, s Scene) string {
	seam := q.seam()
	wide := in(q.Plan.Coping.Cut)
	f, low := q.copingRoom(s, seam)
	k := f.scale()
	half := q.pieced().along(edgesOf(s.Edge)) + seam
	q.copingEdge(p, s, f, low, seam)
	strip := box{-half, max(low, seam-wide), half, seam}
	p.shape("wrong", f.all(strip.corners())...)
	p.shape("raw", f.all(strip.corners())...)
	if strip.top == low { // it goes on where the center does
		p.torn(f.at(half+12/k, low+8/k), f.at(-half-12/k, low+8/k))
	}
	p.lines("chalk", f.at(0, seam+14/k), f.at(0, seam-14/k))
	across := f.at(0, 0).minus(f.at(0, 1))
	words := []word{{"t", "whole length"}, {"tn", q.Sheet.Seam.Exactly() + " seam"}}
	say := fmt.Sprintf("sewn from end to end, %s in from the raw edges", q.Sheet.Seam.Exactly())
	if s.Act == "pin" {
		words = []word{{"t", "middles, ends,"}, {"t", "then between"}}
		say = "pinned across: middles, ends, then between"
		for _, t := range halved(8) {
			p.pin(f.at(t*(half-10/k), seam-24/k), across)
		}
	} else {
		p.line("stitch", f.at(-half, 0), f.at(half, 0))
		way := min(70/k, half*0.6)
		deep := -max(30/k, 0)
		p.arrow("arrow", f.at(-way, deep), f.at(way, deep))
	}
	q.copingClose(p, s, f.at(-half, 0))
	if upright(s.Edge) {
		p.words(pt{20, 90}, after, words...)
	} else {
		p.words(pt{290, 380}, after, words...)
	}
	return fmt.Sprintf("%s edge of the pieced center, right side up, a coping strip wrong side up on it, right sides together: %s", s.Edge, say)
}

// copingClose is the end of the seam close by: it runs off the raw edge.
func (q Quilt) copingClose(p *pen, s Scene, from pt) {
	eye := pt{138, 374}
	if upright(s.Edge) {
		eye = pt{140, 346}
	}
	seam, wide := q.seam(), in(q.Plan.Coping.Cut)
	p.line("leader", from, eye)
	p.into(eye, func() {
		k := 50 / seam
		c := frame{k, 0, 0, -k, -52, 0} // x along the edge from its end, y out of the center
		if upright(s.Edge) {
			c = frame{0, k, k, 0, 0, -52}
		}
		r := 4 * seam
		p.shape("center", c.all(box{0, -r, r, seam}.corners())...)
		strip := box{0, seam - wide, r, seam}
		p.shape("wrong", c.all(strip.corners())...)
		p.line("raw", c.at(0, -r), c.at(0, seam), c.at(r, seam))
		p.line("raw", c.at(0, seam-wide), c.at(r, seam-wide))
		if s.Act == "pin" {
			at := c.at(0.4*seam, 0.1*seam)
			p.use("pin", move(at.x, at.y).of(facing(c.at(0, 0).minus(c.at(0, 1)))).of(scale(1.8)))
			return
		}
		p.line("stitch", c.at(0, 0), c.at(r, 0))
		at := c.at(0, 0)
		p.use("needle", move(at.x, at.y))
	})
}

// copingPressed is the strip opened, the seam toward it.
func (q Quilt) copingPressed(p *pen, s Scene) string {
	seam := q.seam()
	out := in(q.Plan.Coping.Cut) - seam
	f, low := q.copingRoom(s, out)
	k := f.scale()
	half := q.pieced().along(edgesOf(s.Edge)) + seam
	q.copingEdge(p, s, f, low, 0)
	strip := box{-half, 0, half, out}
	p.shape("coping", f.all(strip.corners())...)
	p.shape("raw", f.all(strip.corners())...)
	p.line("stitch", f.at(-half, 0), f.at(half, 0))
	way := f.at(0, 1).minus(f.at(0, 0)).unit()
	along := f.at(1, 0).minus(f.at(0, 0)).unit()
	on := f.at(0, 0).minus(along.times(20))
	p.iron(on, along, 0.9)
	from := on.minus(along.times(min(60, half*k-30)))
	p.arrow("arrow", from.minus(way.times(40)), from.plus(way.times(min(48, out*k*0.8))))
	if upright(s.Edge) {
		p.words(pt{20, 60}, after, word{"t", "toward"}, word{"t", "the strip"})
	} else {
		p.text("t", pt{width / 2, 468}, amid, "toward the strip")
	}
	return fmt.Sprintf("%s edge of the center with its coping strip opened, right side up: the seam pressed toward the strip", s.Edge)
}

// copingSize is the center with both strips on, the tape across them.
func (q Quilt) copingSize(p *pen) string {
	f := q.wholeCenter(p, box{60, 30, 540, 420})
	w, l := q.width()/2, q.length()/2
	across, words := calc.Figure{Length: q.Plan.Center.Width, Unit: q.Plan.Unit}, "wide"
	a, b := pt{-w, 0}, pt{w, 0}
	if q.Plan.Coping.Edges == calc.TopBottom {
		across, words = calc.Figure{Length: q.Plan.Center.Length, Unit: q.Plan.Unit}, "long"
		a, b = pt{0, -l}, pt{0, l}
	}
	p.tape(f.at(a.x, a.y), f.at(b.x, b.y))
	p.text("tn", pt{width / 2, 464}, amid, across.Shown()+" "+words)
	return fmt.Sprintf("The center with both coping strips on, the tape across them from raw edge to raw edge: it should be %s %s", across.Shown(), words)
}
