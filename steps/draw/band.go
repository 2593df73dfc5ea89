package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

// A bandSeam is the seam between two borders of one band as it lies at the machine: the inner
// strips, sewn together before, and the next strip on them, right sides together. Every second
// seam is sewn from the other end: then the two lie turned over, and the next strip beneath.
type bandSeam struct {
	Quilt
	edge   string
	border int     // the inner of the two
	at     float64 // the seam, outward from the center's
	toward string  // the way on the table that is turned to the right
}

func (q Quilt) bandSeam(s Scene) bandSeam {
	b := bandSeam{q, s.Edge, s.Border, q.seams(edgesOf(s.Edge))[s.Border], s.Edge}
	if b.turnedOver() {
		b.toward = opposite[s.Edge]
	}
	return b
}

func (b bandSeam) turnedOver() bool { return b.border%2 == 0 }

// onTop and beneath are the names of the two borders.
func (b bandSeam) onTop() string {
	return b.Plan.Borders[map[bool]int{true: b.border - 1, false: b.border}[b.turnedOver()]].Name
}
func (b bandSeam) beneath() string {
	return b.Plan.Borders[map[bool]int{true: b.border, false: b.border - 1}[b.turnedOver()]].Name
}

// shorter is half the length of the shorter of the two strips.
func (b bandSeam) shorter() float64 {
	e := edgesOf(b.edge)
	return min(in(b.strip(b.border-1, e).CutLength.Length), in(b.strip(b.border, e).CutLength.Length)) / 2
}

// frames are where the inner strips lie and where the next strip does, when a place of the seam
// lies at a point of the drawing. One of them is turned over onto the other.
func (b bandSeam) frames(k, along float64, at pt) (inner, next frame) {
	below := b.lying(b.toward, k, b.edge, pt{along, b.at}, at)
	above := turnedOver(at, pt{0, 1}).of(below)
	if b.turnedOver() {
		return above, below
	}
	return below, above
}

// laid draws both so far as a room shows them, the upper one down to where it is cut away in the
// drawing, so that the right side beneath is seen.
func (b bandSeam) laid(p *pen, inner, next frame, room box) {
	const cut = 372.0
	upper := box{room.left, room.top, room.right, cut}
	var beneath, above [][]pt
	if b.turnedOver() {
		beneath = b.strips(p, b.border+1, b.border+1, next, room)
		above = b.strips(p, 1, b.border, inner, upper)
	} else {
		beneath = b.strips(p, 1, b.border, inner, room)
		above = b.strips(p, b.border+1, b.border+1, next, upper)
	}
	p.torn2(pt{b.leftOf(room, inner, next), cut}, pt{room.right, cut})
	p.tornIn(room, append(beneath, above...)...)
}

// leftOf is how far left the upper one reaches.
func (b bandSeam) leftOf(room box, inner, next frame) float64 {
	if b.turnedOver() {
		return max(room.left, inner.of(b.on(b.edge)).at(0, -b.seam()).x)
	}
	return max(room.left, next.of(b.on(b.edge)).at(0, b.at-b.seam()+b.cutOn(b.border, edgesOf(b.edge))).x)
}

// strips are the strips from one border to another, sewn together: with their seams, and raw
// edges round the whole.
func (b bandSeam) strips(p *pen, first, last int, f frame, room box) (outlines [][]pt) {
	e := edgesOf(b.edge)
	at, on := b.seams(e), f.of(b.on(b.edge))
	for i := first; i <= last; i++ {
		half := in(b.strip(i-1, e).CutLength.Length) / 2
		own := box{-half, at[i-1], half, at[i]}
		if i == first {
			own.top -= b.seam()
		}
		if i == last {
			own.bottom += b.seam()
		}
		outline := on.all(own.corners())
		outlines = append(outlines, outline)
		b.layOne(p, layer{part: b.edge, border: i, at: f, outline: inverse(f).all(room.in(outline))})
		p.lineIn("raw", room, on.at(-half, own.top), on.at(-half, own.bottom))
		p.lineIn("raw", room, on.at(half, own.top), on.at(half, own.bottom))
		if i > first {
			p.lineIn("seam", room, on.at(-half, own.top), on.at(half, own.top))
		} else {
			p.lineIn("raw", room, on.at(-half, own.top), on.at(half, own.top))
		}
		if i == last {
			p.lineIn("raw", room, on.at(-half, own.bottom), on.at(half, own.bottom))
		}
	}
	return outlines
}

func (q Quilt) bandSewn(p *pen, s Scene) string {
	b := q.bandSeam(s)
	switch s.Act {
	case "press":
		return b.pressed(p)
	case "check":
		return q.bandChecked(p, s)
	case "pin":
		return b.pinned(p)
	}
	return b.sewn(p)
}

// scaleIn shows the wider strip whole, but where its seam could not be seen.
func (b bandSeam) scaleIn(wide float64) float64 {
	e, seam := edgesOf(b.edge), b.seam()
	return clamp(wide/max(b.cutOn(b.border-1, e), b.cutOn(b.border, e)), 18/seam, 56/seam)
}

// sewn is the start of the seam as it runs at the machine.
func (b bandSeam) sewn(p *pen) string {
	seam := b.seam()
	room := box{20, 24, 284, 476}
	k := b.scaleIn(256)
	way, start := upperEnd(b.toward)
	from := pt{room.right - seam*k, 68}
	inner, next := b.frames(k, way*b.shorter(), from)
	b.laid(p, inner, next, room)
	p.sewing(from, min(room.bottom, from.y+2*b.shorter()*k), seam*k)
	p.words(pt{312, 76}, after, word{"t", "start:"}, word{"t", start + " end"})
	p.words(pt{312, 366}, after, word{"tn", b.Sheet.Seam.Exactly()}, word{"t", b.edge + " band,"}, word{"ts", "wrong side up"})
	return fmt.Sprintf("%s band: %s wrong side up on %s, right sides together, the seam %s in from the raw edges, sewn from the %s end",
		b.edge, b.onTop(), b.beneath(), b.Sheet.Seam.Exactly(), start)
}

// pinned is the middle of the seam, as it will lie at the machine.
func (b bandSeam) pinned(p *pen) string {
	seam := b.seam()
	room := box{20, 24, 284, 476}
	k := b.scaleIn(256)
	inner, next := b.frames(k, 0, pt{room.right - seam*k, height / 2})
	b.laid(p, inner, next, room)
	for _, y := range []float64{70, 160, 274, 340} {
		if math.Abs(y-height/2) < b.shorter()*k {
			p.pin(pt{room.right - 14, y}, pt{-1, 0})
		}
	}
	p.middleMark(pt{room.right, height / 2})
	p.words(pt{312, 400}, after, word{"t", b.edge + " band,"}, word{"ts", "wrong side up"})
	return fmt.Sprintf("%s band: %s wrong side up on %s, right sides together, middles matched, pins across the raw edges", b.edge, b.onTop(), b.beneath())
}

// pressed is the same seam opened, what lies outward of it to the right: on the sides its
// allowances lie outward, on top and bottom inward, so that they nest where the miter folds one
// on the other.
func (b bandSeam) pressed(p *pen) string {
	const middle = 300.0
	e, seam := edgesOf(b.edge), b.seam()
	room := box{24, 24, 576, 330}
	k := clamp(270/max(b.cutOn(b.border-1, e), b.cutOn(b.border, e)), 10/seam, 50/seam)
	mid := pt{middle, (room.top + room.bottom) / 2}
	outlines := b.strips(p, 1, b.border+1, b.lying(b.edge, k, b.edge, pt{0, b.at}, mid), room)
	toward, word, words := 1.0, "outward", "outward, away from the center"
	if e == calc.TopBottom {
		toward, word, words = -1, "inward", "inward, toward the center"
	}
	beneath := middle + toward*seam*k // where the allowances end
	p.beneathIn(room, pt{beneath, room.top}, pt{beneath, room.bottom})
	p.tornIn(room, outlines...)
	p.ironSet(pt{middle, 190}, pt{0, 1}, 0.8, pt{0, -150}, 1)
	p.text("t", pt{300, 366}, amid, b.edge+" band: "+word)
	p.sections(pt{140, 426}, pt{460, 426}, b.fills(p, b.border-1), b.fills(p, b.border), toward)
	return fmt.Sprintf("%s band opened, right side up, its outer side to the right: the seam from %s to %s pressed %s; from the side, both allowances standing, then both lying %s",
		b.edge, b.Plan.Borders[b.border-1].Name, b.Plan.Borders[b.border].Name, words, word)
}

// fills paints with the fabric of border i, counted from 0, without its print.
func (q Quilt) fills(p *pen, i int) fill {
	if lines := q.Plan.Borders[i].Lines; len(lines) > 0 {
		return func(outline ...pt) { p.tint(widest(lines), outline...) }
	}
	return p.filled(fmt.Sprintf("c%d", i%4+1))
}

// bandChecked is the whole band right side up as it lies on the table, measured across in three
// places.
func (q Quilt) bandChecked(p *pen, s Scene) string {
	e, seam := edgesOf(s.Edge), q.seam()
	half, wide := q.half(e), q.band(e)+2*seam
	k := min(430/(2*half), 150/wide)
	middle := map[string]pt{"left": {30 + wide*k/2, 250}, "right": {570 - wide*k/2, 250}, "top": {300, 40 + wide*k/2}, "bottom": {300, 460 - wide*k/2}}[s.Edge]
	if !upright(s.Edge) {
		k = min(530/(2*half), 150/wide)
		middle = map[string]pt{"top": {300, 44 + wide*k/2}, "bottom": {300, 456 - wide*k/2}}[s.Edge]
	}
	from := q.on(s.Edge).at(0, wide/2-seam)
	f := scale(k).of(move(-from.x, -from.y))
	f = move(middle.x, middle.y).of(f)
	q.lay(p, s.Edge, f, q.bandOutline(s.Edge))
	p.shape("raw", f.all(q.bandOutline(s.Edge))...)
	on := f.of(q.on(s.Edge))
	for _, x := range []float64{-0.84, 0, 0.84} {
		p.tape(on.at(x*half, -seam), on.at(x*half, wide-seam))
	}
	cut := q.Sheet.Bands.On(e).Cut.Shown()
	words := pt{300, 320}
	switch s.Edge {
	case "left":
		words = pt{400, 250}
	case "right":
		words = pt{200, 250}
	case "bottom":
		words = pt{300, 180}
	}
	p.words(words, amid, word{"tn", cut}, word{"t", "wide"})
	return fmt.Sprintf("The %s band, all its borders sewn together: measured across near both ends and in the middle, %s", s.Edge, cut)
}
