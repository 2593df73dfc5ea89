package draw

import (
	"fmt"
	"math"

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
	flat := still
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

// copingBehind are the seams of the coping strips seen from the wrong side, their allowances on
// the strips; the frame counts from the middle of the center.
func (q Quilt) copingBehind(p *pen, f frame, outline []pt) {
	if q.Plan.Coping == nil {
		return
	}
	at, flat, ys := q.between(), still, []float64{0, 0}
	if ys[0], ys[1] = at.top, at.bottom; q.Plan.Coping.Edges == calc.Sides {
		flat, ys = frame{0, 1, 1, 0, 0, 0}, []float64{at.left, at.right}
	}
	for i, y := range ys {
		q.seamBehind(p, f.of(flat), flat.all(outline), y, y+float64(2*i-1)*q.seam())
	}
}

// copingAsBorder is the quilt with its coping strips as its only border.
func (q Quilt) copingAsBorder() Quilt {
	q.Plan, q.Sheet = q.Sheet.Coping.AsBorder(q.Plan, q.Sheet)
	return q
}

// CopingPage is how the coping strips lie on their fabric, for paper; without a picture where
// they do not fit.
func (q Quilt) CopingPage() FabricPage {
	q = q.copingAsBorder()
	picked := q.Sheet.Fabric[0].Picked()
	if picked == nil {
		return FabricPage{}
	}
	l := newLayout(q, picked, picked == q.Sheet.Fabric[0].Lengthwise)
	l.coping = true
	return l.page(true)
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

// copingOutline is the coping strip on an edge, raw edge to raw edge, in the quilt's places.
func (q Quilt) copingOutline(edge string) []pt {
	pieced := q.pieced()
	half := pieced.along(edgesOf(edge)) + q.seam()
	return pieced.on(edge).all(box{-half, -q.seam(), half, in(q.Plan.Coping.Cut) - q.seam()}.corners())
}

// layCoping draws a coping strip as a layer of its own.
func (q Quilt) layCoping(p *pen, at frame, outline []pt) {
	if len(outline) < 3 {
		return
	}
	l := layer{part: "coping", at: p.on.of(at), outline: outline, loupe: p.loupe}
	p.layers = append(p.layers, l)
	p.shape(map[bool]string{true: "wrong", false: "coping"}[l.wrong()], at.all(outline)...)
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
	case "pin":
		return q.copingPinned(p, s)
	case "sew":
		return q.copingSewn(p, s)
	case "press":
		return q.copingPressed(p, s)
	}
	return q.copingSize(p)
}

// copingLaid draws the pieced center right side up, its edge to the right, and the coping strip
// wrong side up on it, raw edges together, so far as a room shows them.
func (q Quilt) copingLaid(p *pen, edge string, f frame, room box) {
	pieced := q.pieced()
	seam := f.of(pieced.on(edge)).at(0, 0)
	center, strip := f.lain(pieced.centerOutline(), room), q.copingOutline(edge)
	pieced.lay(p, "center", f, center)
	over := turnedOver(seam, pt{0, 1}).of(f)
	strip = over.lain(strip, room)
	q.layCoping(p, over, strip)
	p.rimIn(room, f.all(pieced.centerOutline()))
	p.rimIn(room, over.all(q.copingOutline(edge)))
}

// copingLabel says where and how a coping strip is sewn.
func (q Quilt) copingLabel(s Scene, say string) string {
	return fmt.Sprintf("The pieced center right side up, turned so that its %s edge lies to the right, a coping strip wrong side up on it, right sides together: %s", s.Edge, say)
}

// copingPinned is the whole edge as it will lie at the machine, pinned by halves.
func (q Quilt) copingPinned(p *pen, s Scene) string {
	const right, deep = 276.0, 260.0
	pieced, seam := q.pieced(), q.seam()
	half := pieced.along(edgesOf(s.Edge)) + seam
	k := min(220/half, 24/seam)
	f := pieced.lying(s.Edge, k, s.Edge, pt{0, seam}, pt{right, height / 2})
	room := box{right - deep, 8, right, height - 8}
	q.copingLaid(p, s.Edge, f, room)
	p.tornIn(room, f.all(pieced.centerOutline()))
	end := half * k
	for _, t := range halved(8) {
		y := height/2 + t*(end-10)
		if t == 0 {
			y += 16 // beside the middle mark
		}
		p.pin(pt{right - 16, y}, pt{-1, 0})
	}
	p.middleMark(pt{right, height / 2})
	eye := pt{476, 124}
	p.line("leader", pt{right, height/2 - end + 6}, eye)
	p.into(eye, func() {
		way, _ := upperEnd(s.Edge)
		c := pieced.lying(s.Edge, 52/seam, s.Edge, pt{way * half, seam}, pt{44, -52})
		view := box{-120, -120, 120, 120}
		q.copingLaid(p, s.Edge, c, view)
		p.use("pin", move(14, -28).of(facing(pt{-1, 0})).of(scale(1.8)))
	})
	p.words(pt{448, 384}, amid, word{"t", s.Edge + " edge,"}, word{"ts", "wrong side up"})
	return q.copingLabel(s, "pinned across: middles, ends, then between")
}

// copingSewn is the start of the seam close by, as it runs at the machine: from one end of the
// strip to the other, without dots, for the border's come later.
func (q Quilt) copingSewn(p *pen, s Scene) string {
	pieced, seam, wide := q.pieced(), q.seam(), in(q.Plan.Coping.Cut)
	half := pieced.along(edgesOf(s.Edge)) + seam
	room := box{20, 24, 290, 476}
	k := clamp(230/wide, 20/seam, 46/seam)
	k = max(k, 20/seam)
	way, _ := upperEnd(s.Edge)
	start := 64.0
	f := pieced.lying(s.Edge, k, s.Edge, pt{way * half, seam}, pt{room.right, start})
	q.copingLaid(p, s.Edge, f, room)
	p.tornIn(room, f.all(pieced.centerOutline()))
	end := min(room.bottom, start+2*half*k)
	p.sewing(pt{room.right - seam*k, start}, end, seam*k)
	q.copingWhole(p, s, box{342, 20, 582, 270})
	p.words(pt{450, 376}, amid, word{"tn", q.Sheet.Seam.Exactly()}, word{"t", s.Edge + " edge,"}, word{"ts", "wrong side up"})
	return q.copingLabel(s, fmt.Sprintf("sewn from end to end, %s in from the raw edges", q.Sheet.Seam.Exactly()))
}

// copingWhole is the whole of it, small: how the center lies, left of the seam.
func (q Quilt) copingWhole(p *pen, s Scene, at box) {
	pieced, seam := q.pieced(), q.seam()
	turned := turns[s.Edge].all(pieced.centerOutline())
	w, l := turned[0].minus(turned[2]).x, turned[0].minus(turned[2]).y
	k := at.fit(math.Abs(w), math.Abs(l)).scale()
	f := pieced.lying(s.Edge, k, s.Edge, pt{0, seam}, pt{(at.left+at.right)/2 + math.Abs(w)*k/2, (at.top + at.bottom) / 2})
	p.loupes++ // its fabric lies in a picture of its own
	p.loupe = p.loupes
	q.copingLaid(p, s.Edge, f, at)
	p.loupe = 0
}

// copingPressed is the strip opened, its edge still to the right, the seam toward it.
func (q Quilt) copingPressed(p *pen, s Scene) string {
	pieced, seam := q.pieced(), q.seam()
	out := in(q.Plan.Coping.Cut) - seam
	const middle = 320.0
	room := box{24, 24, 576, 330}
	half := pieced.along(edgesOf(s.Edge)) + seam
	k := clamp(190/out, 14/seam, 60/seam)
	f := pieced.lying(s.Edge, k, s.Edge, pt{0, 0}, pt{middle, (room.top + room.bottom) / 2})
	on := f.of(pieced.on(s.Edge))
	center := pieced.on(s.Edge).all(box{-half, -2*pieced.along(edgesOf(s.Edge).Neighbor()) - seam, half, 0}.corners())
	strip := pieced.on(s.Edge).all(box{-half, 0, half, out}.corners())
	pieced.lay(p, "center", f, f.lain(center, room))
	q.layCoping(p, f, f.lain(strip, room))
	whole := pieced.on(s.Edge).all(box{-half, -2*pieced.along(edgesOf(s.Edge).Neighbor()) - seam, half, out}.corners())
	p.rimIn(room, f.all(whole))
	p.lineIn("seam", room, on.at(-half, 0), on.at(half, 0))
	p.beneathIn(room, on.at(-half, seam), on.at(half, seam)) // the allowances
	p.tornIn(room, f.all(whole))
	p.ironSet(pt{middle, 190}, pt{0, 1}, 0.8, pt{0, -150}, 1)
	p.text("t", pt{300, 366}, amid, s.Edge+" edge: toward the strip")
	p.sections(pt{140, 426}, pt{460, 426}, p.filled("center"), p.filled("coping"), 1)
	return fmt.Sprintf("The coping strip opened on the center's %s edge, turned to the right, right side up: the seam pressed toward the strip; from the side, both allowances standing, then both lying beneath the strip", s.Edge)
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
