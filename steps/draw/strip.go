package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

func ceil(x float64) float64 { return math.Ceil(x - 1e-9) }

// upright tells whether an edge runs up and down on the table.
func upright(edge string) bool { return edge == "left" || edge == "right" }

// lay is the frame of a strip drawn as the top one lies, or as the right one:
// x along it, y outward from the point at base.
func lay(edge string, middle, base, k float64) frame {
	if upright(edge) {
		return frame{0, k, k, 0, base, middle}
	}
	return frame{k, 0, 0, -k, middle, base}
}

// onEdge mirrors what is drawn as the top or the right one for its edge.
func (p *pen) onEdge(edge string) { p.mirrored(edge == "left", edge == "bottom") }

func (q Quilt) stripLaid(p *pen, s Scene) string {
	switch s.Act { // on the table, before the strip belongs to its edge
	case "parts", "parts-cut":
		return q.stripParts(p, s)
	case "join-line", "join", "join-trim", "joined", "join-press":
		return q.stripJoined(p, s)
	}
	p.onEdge(s.Edge)
	if s.Act == "middle" || s.Act == "middle-found" || s.Act == "ends" {
		return q.bandMarked(p, s)
	}
	e, i := edgesOf(s.Edge), s.Border-1
	strip := q.strip(i, e)
	switch s.Act {
	case "place", "print-middle":
		return q.stripPlaced(p, s, strip)
	case "checked":
		return q.stripChecked(p, s, strip)
	}
	cut := cutStrip{
		name: "strip of " + strip.Name, long: strip.CutLength, wide: strip.CutWidth,
		fabric: func(f frame, outline []pt) { q.fabric(p, i, e, f, outline) },
	}
	if s.Piece != nil {
		cut.long, cut.wide, cut.off = s.Piece.Long, s.Piece.Wide, s.Piece.Off
		if s.Act == "cut" {
			cut.name = "strip's piece of " + strip.Name
		}
	}
	return q.stripCut(p, s, cut)
}

// A cutStrip is a strip as it is cut; fabric fills an outline with its right side,
// in a frame that counts x from its middle and y from its inner raw edge.
type cutStrip struct {
	name       string
	long, wide calc.Figure
	off        calc.Figure // that an end is shortened by; of no length where it is cut to long
	fabric     func(f frame, outline []pt)
}

// stripCut is one strip, whole and to scale, and its end close by.
func (q Quilt) stripCut(p *pen, s Scene, strip cutStrip) string {
	long, wide := in(strip.long.Length), in(strip.wide.Length)

	// The whole strip, and beside it the room for its end.
	const margin = 26.0
	var whole, close frame
	var textLong, textWide pt
	var far float64 // how far the end's picture reaches along the strip
	if upright(s.Edge) {
		k := min(440/long, 110/wide)
		whole = lay(s.Edge, height/2, width-40-wide*k, k)
		room := width - 40 - wide*k - 70
		kd := min(210/wide, (room-70)/wide)
		close = lay(s.Edge, 372, room/2+10-wide*kd/2, kd)
		far = 256 / kd
		textLong, textWide = pt{room/2 + 10, 36}, pt{room/2 + 10, 458}
		if s.Act != "inner" && strip.off.Length.Sign() == 0 {
			p.dim(whole.at(-long/2, wide).plus(pt{18, 0}), whole.at(long/2, wide).plus(pt{18, 0}))
		}
	} else {
		k := min(540/long, 120/wide)
		whole = lay(s.Edge, width/2, 84+wide*k, k)
		top := 84 + wide*k + 52
		kd := (height - top - 90) / wide
		kd = min(kd, 210/wide)
		close = lay(s.Edge, 540, top+wide*kd+(height-top-90-wide*kd)/2, kd)
		far = 500 / kd
		textLong = pt{width / 2, 30}
		textWide = pt{300, close.f + 54}
		if s.Act != "inner" && strip.off.Length.Sign() == 0 {
			p.dim(whole.at(-long/2, wide).plus(pt{0, -22}), whole.at(long/2, wide).plus(pt{0, -22}))
		}
	}
	if s.Act == "end" {
		return q.stripEnd(p, s, strip, whole, close, far, textLong)
	}
	ends := box{-long / 2, 0, long / 2, wide}
	p.shape("leader", whole.at(long/2, wide), close.at(0, wide), close.at(0, 0), whole.at(long/2, 0))

	m := margin / close.scale()
	detail := box{-far, 0, 0, wide}
	rim := func(f frame, b box, class string) {
		p.lines(class, f.at(b.left, 0), f.at(b.right, 0), f.at(b.right, 0), f.at(b.right, wide), f.at(b.right, wide), f.at(b.left, wide))
	}
	say := ""
	switch s.Act {
	case "measure":
		w := min(12/whole.scale(), wide)
		strip.fabric(whole, box{ends.left - w, -w, ends.right + w, wide + w}.corners())
		strip.fabric(close, box{-far, -m, m, wide + m}.corners())
		p.shape("chalk open", whole.all(ends.corners())...)
		rim(close, detail, "chalk")
		say = "measured and chalked on its fabric"
	case "cut":
		strip.fabric(whole, ends.corners())
		p.shape("raw", whole.all(ends.corners())...)
		strip.fabric(close, detail.corners())
		rim(close, detail, "raw")
		a, b := close.at(-far+10/close.scale(), wide), close.at(0, wide)
		if upright(s.Edge) {
			p.ruler(b.plus(pt{0, 14}), a, min(84, wide*close.scale()*0.7), q.rulerStep(close.scale()))
		} else {
			p.ruler(b.plus(pt{14, 0}), a, min(84, wide*close.scale()*0.7), q.rulerStep(close.scale()))
		}
		p.blade(close.at(m*0.6, wide), close.at(-far+20/close.scale(), wide))
		say = "the ruler on its edge, the blade along it"
	case "inner":
		p.shape("wrong", whole.all(ends.corners())...)
		p.shape("raw", whole.all(ends.corners())...)
		p.shape("wrong", close.all(detail.corners())...)
		rim(close, detail, "raw")
		c := 12 / close.scale()
		p.line("chalkwide", whole.at(-long/2, 5/whole.scale()), whole.at(long/2, 5/whole.scale()))
		p.line("chalkwide", close.at(-far, c), close.at(0, c))
		say = "wrong side up, chalk along the edge that goes to the center"
	}
	tornAcross(p, close, far, wide, m)
	if s.Act == "inner" {
		q.toCenter(p, s.Edge, close, far)
		return fmt.Sprintf("The %s %s, %s", s.Edge, strip.name, say)
	}
	p.text("tn", textLong, amid, strip.long.Shown()+" long")
	if upright(s.Edge) {
		y := close.f + 22
		p.dim(pt{close.at(0, 0).x, y + margin}, pt{close.at(0, wide).x, y + margin})
		p.text("tn", textWide, amid, strip.wide.Shown()+" wide")
	} else {
		p.dim(close.at(m+10/close.scale(), 0), close.at(m+10/close.scale(), wide))
		p.text("tn", textWide, amid, strip.wide.Shown()+" wide")
	}
	return fmt.Sprintf("The %s %s, %s long and %s wide, %s", s.Edge, strip.name, strip.long.Shown(), strip.wide.Shown(), say)
}

// tornAcross ends the picture of a strip's end, which goes on along the strip.
func tornAcross(p *pen, close frame, far, wide, beyond float64) {
	inward := close.at(1, 0).minus(close.at(0, 0)).unit().times(8)
	p.torn(close.at(-far, -beyond).plus(inward), close.at(-far, wide+beyond).plus(inward))
}

// stripEnd is a strip with what is beyond its new end, the ruler and the blade across.
func (q Quilt) stripEnd(p *pen, s Scene, strip cutStrip, whole, close frame, far float64, text pt) string {
	long, wide := in(strip.long.Length), in(strip.wide.Length)
	said, beyond := strip.long.Shown()+" long", wide/3
	if strip.off.Length.Sign() > 0 {
		said, beyond = strip.off.Shown()+" off", in(strip.off.Length)
	}
	for _, at := range []struct {
		f          frame
		left, zero float64
		over       float64
	}{
		{whole, -long / 2, long / 2, min(beyond, 16/whole.scale())},
		{close, -far, 0, min(beyond, 44/close.scale())},
	} {
		strip.fabric(at.f, box{at.left, 0, at.zero + at.over, wide}.corners())
		p.shape("ghostfill", at.f.all(box{at.zero, 0, at.zero + at.over, wide}.corners())...)
		p.line("raw", at.f.at(at.left, 0), at.f.at(at.zero+at.over, 0), at.f.at(at.zero+at.over, wide), at.f.at(at.left, wide))
	}
	p.line("raw", whole.at(-long/2, 0), whole.at(-long/2, wide))
	m := 26 / close.scale()
	from, to := close.at(0, -m), close.at(0, wide+m) // the ruler lies on the strip
	p.ruler(from, to, 84, q.rulerStep(close.scale()))
	p.blade(from, to)
	tornAcross(p, close, far, wide, m)
	p.text("tn", text, amid, said)
	return fmt.Sprintf("The %s %s, cut across its end: %s", s.Edge, strip.name, said)
}

// toCenter points from the inner edge to where the center will be.
func (q Quilt) toCenter(p *pen, edge string, close frame, far float64) {
	from := close.at(-far/2, 0)
	if upright(edge) {
		p.arrow("arrow", from.plus(pt{-8, 0}), from.plus(pt{-50, 0}))
		p.text("t", pt{close.e, 36}, amid, "to the center")
		p.text("ts", pt{close.e, 466}, amid, "wrong side up")
		return
	}
	p.arrow("arrow", from.plus(pt{0, 8}), from.plus(pt{0, 48}))
	p.text("t", from.plus(pt{26, 30}), after, "to the center")
	p.text("ts", pt{width / 2, 36}, amid, "wrong side up")
}

// bandMarked is the whole band on an edge with its marks.
func (q Quilt) bandMarked(p *pen, s Scene) string {
	e, seam := edgesOf(s.Edge), q.seam()
	half, wide := q.half(e), q.band(e)+2*seam
	marks := q.Sheet.Marks.On(e)
	end := in(marks.ToEnd.Length)

	var f frame
	if upright(s.Edge) {
		k := min(228/half, 110/wide)
		right := width - 36.0
		if s.Act == "middle" {
			right -= 96
		}
		f = lay(s.Edge, height/2, right-(wide-seam)*k, k)
	} else {
		k := min(282/half, 130/wide)
		top := 30.0
		if s.Act == "middle" {
			top = 150
		}
		f = lay(s.Edge, width/2, top+(wide-seam)*k, k)
	}
	k := f.scale()
	outline := box{-half, -seam, half, wide - seam}.corners()
	q.bandFabric(p, e, f, outline)
	p.shape("raw", f.all(outline)...)
	below := -seam - 34/k // where the chalk line of the distances lies
	tick := func(x, deep float64) {
		p.lines("chalk", f.at(x, -seam-18/k), f.at(x, -seam+deep/k))
	}
	deep := min(30, wide*k*0.6)
	tick(0, deep)

	if s.Act == "middle-found" {
		return q.middleFound(p, s, f)
	}
	if s.Act == "middle" {
		p.lines("fold", f.at(0, -seam), f.at(0, wide-seam))
		p.dim(f.at(-half, below), f.at(0, below))
		p.dim(f.at(0, below), f.at(half, below))
		var arch []pt
		for i := 0.0; i <= 12; i++ {
			a := math.Pi * i / 12
			arch = append(arch, f.at(math.Cos(a)*half*0.94, wide-seam+(14+math.Sin(a)*66)/k))
		}
		p.line("ghost", arch...)
		p.arrow("arrow", arch[10], arch[12])
		number := q.halfStrip(s.Edge)
		at := f.at(0, below)
		if upright(s.Edge) {
			p.words(at.plus(pt{-24, 0}), before, word{"tn", number}, word{"t", "each way"})
		} else {
			p.text("tn", at.plus(pt{0, 40}), amid, number+" each way")
		}
		return fmt.Sprintf("The %s band folded end to end, its middle marked on the inner edge, about %s from each end", s.Edge, number)
	}

	for _, way := range []float64{-1, 1} {
		tick(way*end, deep)
		p.dim(f.at(0, below), f.at(way*end, below))
	}
	at, eye := f.at(0, below), pt{462, 374}
	if upright(s.Edge) {
		eye = pt{150, 374}
	}
	p.line("leader", f.at(end, 0), eye)
	if upright(s.Edge) {
		p.words(at.plus(pt{-24, 0}), before, word{"tn", marks.ToEnd.Shown()}, word{"t", "each way"})
	} else {
		p.text("tn", at.plus(pt{0, 40}), amid, marks.ToEnd.Shown()+" each way")
	}
	p.into(eye, func() {
		kd := 58 / seam
		c := frame{kd, 0, 0, -kd, -kd * end, 20}
		if upright(s.Edge) {
			c = frame{0, kd, kd, 0, -20, -kd * end}
		}
		r := 3 * seam
		q.bandFabric(p, e, c, box{end - r, -seam, end + r, r}.corners())
		p.line("raw", c.at(end-r, -seam), c.at(end+r, -seam))
		p.lines("chalkrim", c.at(end, -seam), c.at(end, seam*0.6))
		p.lines("chalk", c.at(end, -seam), c.at(end, seam*0.6))
	})
	return fmt.Sprintf("The %s band: from its middle %s each way to where the center ends; beyond hang the tails", s.Edge, marks.ToEnd.Shown())
}

// halfStrip is half the cut length of the band's strips, as a ruler shows it.
func (q Quilt) halfStrip(edge string) string {
	f := q.strip(0, edgesOf(edge)).CutLength
	f.Length, f.Rounding = f.Length.Half(), 0
	return f.Shown()
}
