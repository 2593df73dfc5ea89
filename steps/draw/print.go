package draw

import (
	"fmt"
	"math"
	"strings"

	"cornerwise/calc"
)

// in is a length in inches, for drawing only.
func in(l calc.Length) float64 { return l.Float(calc.Inch) }

func (q Quilt) seam() float64   { return in(q.Plan.Seam) }
func (q Quilt) width() float64  { return in(q.Plan.Center.Width) }
func (q Quilt) length() float64 { return in(q.Plan.Center.Length) }

// along is half the center between the dots, along these edges.
func (q Quilt) along(e calc.Edges) float64 {
	if e == calc.TopBottom {
		return q.width()/2 - q.seam()
	}
	return q.length()/2 - q.seam()
}

// seams are the distances of the seams from the center's: 0, then the outer seam
// of each border.
func (q Quilt) seams(e calc.Edges) []float64 {
	at := make([]float64, len(q.Plan.Borders)+1)
	for i, b := range q.Plan.Borders {
		at[i+1] = at[i] + in(b.CutOn(e)) - 2*q.seam()
	}
	return at
}

// band is the finished width of all borders on these edges.
func (q Quilt) band(e calc.Edges) float64 { return q.seams(e)[len(q.Plan.Borders)] }

// strip is the sheet's strip of border i, counted from 0.
func (q Quilt) strip(i int, e calc.Edges) calc.Strip {
	for _, s := range q.Sheet.Strips {
		if s.Border == i+1 && s.Edges == e {
			return s
		}
	}
	return calc.Strip{}
}

// half is half the length of the longest strip on these edges.
func (q Quilt) half(e calc.Edges) float64 {
	var most float64
	for i := range q.Plan.Borders {
		most = max(most, in(q.strip(i, e).CutLength.Length))
	}
	return most / 2
}

func (q Quilt) cutOn(i int, e calc.Edges) float64 { return in(q.Plan.Borders[i].CutOn(e)) }

// onGap tells whether the gap between two motifs of border i lies on the middle of
// its strips on these edges, as the sheet centers them; else it is a motif.
func (q Quilt) onGap(i int, e calc.Edges) bool {
	for _, m := range q.Sheet.Match {
		if m.Border == i+1 && m.Possible {
			return m.Centering.On(e) == calc.OnGap
		}
	}
	return false
}

// pattern is the print of border i on these edges. Where a motif sits in the
// middle of strips of two widths, each has its own.
func (q Quilt) pattern(i int, e calc.Edges) string {
	b := q.Plan.Borders[i]
	widths := b.Stripe.Sign() == 0 && !b.Cut.Equal(b.CutTopBottom) && !q.photographed(i)
	if e == calc.TopBottom && widths {
		return fmt.Sprintf("stripe-%dt", i+1)
	}
	return fmt.Sprintf("stripe-%d", i+1)
}

// fabric fills an outline with the right side of border i. The frame counts x
// along the strip from its middle, y from its inner raw edge outward.
func (q Quilt) fabric(p *pen, i int, e calc.Edges, f frame, outline []pt) {
	motif := 0.0 // where one lies
	if q.onGap(i, e) {
		motif = in(q.Plan.Borders[i].Motif) / 2
	}
	q.fabricFrom(p, i, e, motif, f, outline)
}

// fabricFrom is fabric with a motif of its print so far along.
func (q Quilt) fabricFrom(p *pen, i int, e calc.Edges, motif float64, f frame, outline []pt) {
	const finest = 3 // drawing units a repeat must have to be seen as one
	b, k := q.Plan.Borders[i], f.scale()
	switch {
	case q.coped:
		p.shape("coping", f.all(outline)...)
	case q.photographed(i):
		lies := q.lies(i, e, p.on.of(f).mirrors())
		if q.Plan.Borders[i].Fabric.Heads != calc.Up {
			lies = move(motif, 0).of(lies)
		}
		p.print(q.pattern(i, e), f.of(lies), inverse(lies).all(outline))
	case b.Stripe.Sign() > 0 && in(b.Stripe)*k >= finest && (b.Motif.Sign() == 0 || in(b.Motif)*k >= finest),
		b.Stripe.Sign() == 0 && b.Motif.Sign() > 0 && in(b.Motif)*k >= finest:
		if motif != 0 { // the pattern has its motif in the middle
			f, outline = f.of(move(motif, 0)), move(-motif, 0).all(outline)
		}
		p.print(q.pattern(i, e), f, outline)
	case len(b.Lines) > 0:
		p.tint(widest(b.Lines), f.all(outline)...)
	default:
		p.shape(q.ground(i), f.all(outline)...)
	}
}

// bandFabric fills an outline with the right side of the whole band: the frame
// counts x from the middle, y outward from the center's seam.
func (q Quilt) bandFabric(p *pen, e calc.Edges, f frame, outline []pt) {
	q.bandUpTo(p, len(q.Plan.Borders), e, f, outline)
}

// bandUpTo is the band of the first n borders; the outermost of them goes as far
// as the outline does.
func (q Quilt) bandUpTo(p *pen, n int, e calc.Edges, f frame, outline []pt) {
	at := q.seams(e)
	for i := range n {
		part := outline
		if i > 0 {
			part = side(part, 0, -1, -at[i])
		}
		if i+1 < n {
			part = side(part, 0, 1, at[i+1])
		}
		up := at[i] - q.seam()
		q.fabric(p, i, e, f.of(move(0, up)), move(0, -up).all(part))
	}
	q.bandSeams(p, n, e, f, outline)
}

// bandSeams are the seams between the first n borders inside an outline.
func (q Quilt) bandSeams(p *pen, n int, e calc.Edges, f frame, outline []pt) {
	var ends []pt
	for _, y := range q.seams(e)[1:n] {
		left, right := across(outline, y)
		if left < right {
			ends = append(ends, f.at(left, y), f.at(right, y))
		}
	}
	p.lines("seam", ends...)
}

// across is where an outline begins and ends at a height.
func across(outline []pt, y float64) (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for i, b := range outline {
		a := outline[(i+len(outline)-1)%len(outline)]
		if (a.y-y)*(b.y-y) > 0 || a.y == b.y {
			continue
		}
		x := a.to(b, (y-a.y)/(b.y-a.y)).x
		left, right = min(left, x), max(right, x)
	}
	return left, right
}

// patch fills an outline with the center, right side up: its patchwork, and its
// coping strips where it has them; the frame counts from the middle of the center.
func (q Quilt) patch(p *pen, f frame, outline []pt) {
	if q.Plan.Coping != nil {
		p.shape("coping", f.all(outline)...)
		seams := q.copingSeams(outline)
		outline = q.between().in(outline)
		defer func() { p.lines("seam", f.all(seams)...) }()
	}
	p.shape("center", f.all(outline)...)
	if w, _ := q.block(); w*f.scale() > 10 {
		p.print("patch", f, outline)
	}
}

// block is the size of one block of the patchwork: a suggestion only, the plan
// does not know the center's own piecing.
func (q Quilt) block() (w, h float64) {
	q = q.pieced()
	w, h = q.width()-2*q.seam(), q.length()-2*q.seam()
	each := max(min(w, h)/4, max(w, h)/12)
	return w / max(1, math.Round(w/each)), h / max(1, math.Round(h/each))
}

func rect(x, y, w, h float64, class string) string {
	return fmt.Sprintf(`<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, class, num(x, 4), num(y, 4), num(w, 4), num(h, 4))
}

// pattern is a tile w wide and h high about x = 0, its first line at y.
func pattern(id string, y, w, h float64, inside string) string {
	at := ""
	if y != 0 {
		at = fmt.Sprintf(` y="%s"`, num(y, 4))
	}
	return fmt.Sprintf(`<pattern id="%s" patternUnits="userSpaceOnUse" x="%s"%s width="%s" height="%s"><g transform="translate(%s)">%s</g></pattern>`,
		id, num(-w/2, 4), at, num(w, 4), num(h, 4), num(w/2, 4), inside)
}

// printed is the pattern of border i: its stripe along the strip, its motif in
// the middle, both in inches.
func (q Quilt) printed(i int, e calc.Edges) string {
	b := q.Plan.Borders[i]
	ground := q.ground(i)
	high, wide := in(b.Stripe), in(b.Motif)
	var s strings.Builder
	if high > 0 {
		if wide == 0 {
			wide = high
		}
		if len(b.Lines) > 0 {
			s.WriteString(lined(b.Lines, wide, 0.03))
			if b.Motif.Sign() > 0 { // a light lozenge in a dark one: one of them is seen on any line
				r := min(wide*0.36, high*0.4)
				s.WriteString(motif(pt{0, high / 2}, r, "sb"))
				s.WriteString(motif(pt{0, high / 2}, r*0.72, "sc"))
				for _, x := range []float64{-wide / 2, wide / 2} {
					s.WriteString(motif(pt{x, high / 2}, r*0.4, "sb"))
				}
			}
			return pattern(q.pattern(i, e), -in(b.Start), wide, high, s.String())
		}
		s.WriteString(rect(-wide, 0, 2*wide, high, ground))
		s.WriteString(rect(-wide, high*0.12, 2*wide, high*0.3, "sa"))
		s.WriteString(rect(-wide, high*0.62, 2*wide, high*0.1, "sb"))
		if b.Motif.Sign() > 0 {
			s.WriteString(motif(pt{0, high * 0.27}, min(wide*0.3, high*0.13), "sc"))
			s.WriteString(motif(pt{-wide / 2, high * 0.86}, min(wide*0.15, high*0.07), "sb"))
			s.WriteString(motif(pt{wide / 2, high * 0.86}, min(wide*0.15, high*0.07), "sb"))
		}
		return pattern(q.pattern(i, e), 0, wide, high, s.String())
	}
	high = q.cutOn(i, e)
	s.WriteString(rect(-wide, 0, 2*wide, high, ground))
	r := min(wide*0.32, (q.narrowest(i)-2*q.seam())*0.36)
	s.WriteString(motif(pt{0, high / 2}, r, "sa"))
	s.WriteString(motif(pt{0, high / 2}, r*0.5, "sc"))
	for _, x := range []float64{-wide / 2, wide / 2} {
		s.WriteString(motif(pt{x, high / 2}, r*0.3, "sb"))
	}
	return pattern(q.pattern(i, e), 0, wide, high, s.String())
}

// ground is the class of the fabric that border i is cut from: borders that name one fabric
// share it.
func (q Quilt) ground(i int) string { return fmt.Sprintf("c%d", q.Plan.FirstOfFabric(i)%4+1) }

// narrowest is how wide the narrowest strip is that is cut from the fabric of border i.
func (q Quilt) narrowest(i int) float64 {
	least := math.Inf(1)
	for k := range q.Plan.Borders {
		if q.Plan.FirstOfFabric(k) == q.Plan.FirstOfFabric(i) {
			least = min(least, q.cutOn(k, calc.Sides), q.cutOn(k, calc.TopBottom))
		}
	}
	return least
}

// motif is a lozenge: alike from its middle to both sides.
func motif(at pt, r float64, class string) string {
	return fmt.Sprintf(`<path class="%s" d="%s"/>`, class,
		path([]pt{{at.x - r, at.y}, {at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}}, true, 4))
}

// patchwork is one block of the center: a lantern, a light square on its point.
func (q Quilt) patchwork() string {
	w, h := q.block()
	s := rect(0, 0, w, h, "p1")
	for _, part := range []struct {
		class string
		r     float64
	}{{"p2", 0.5}, {"p3", 0.2}} {
		m := pt{w / 2, h / 2}
		s += fmt.Sprintf(`<path class="%s" d="%s"/>`, part.class,
			path([]pt{{m.x - w*part.r, m.y}, {m.x, m.y - h*part.r}, {m.x + w*part.r, m.y}, {m.x, m.y + h*part.r}}, true, 4))
	}
	pieced := q.pieced()
	x, y := q.seam()-pieced.width()/2, q.seam()-pieced.length()/2
	return fmt.Sprintf(`<pattern id="patch" patternUnits="userSpaceOnUse" x="%s" y="%s" width="%s" height="%s">%s</pattern>`,
		num(x, 4), num(y, 4), num(w, 4), num(h, 4), s)
}

// Defs is the SVG element with the patterns that the drawings of this quilt
// share; a page holds it once, before the first drawing.
func (q Quilt) Defs() string {
	var b strings.Builder
	b.WriteString(`<svg class="drawing-defs" width="0" height="0" aria-hidden="true" focusable="false"><defs>`)
	b.WriteString(marks)
	b.WriteString(`<pattern id="hatch" patternUnits="userSpaceOnUse" width="16" height="16" patternTransform="rotate(45)">` +
		`<rect class="wrongground" width="16" height="16"/><path class="hatchline" d="M8 0V16"/></pattern>` +
		`<pattern id="hatch-center" patternUnits="userSpaceOnUse" width="16" height="16" patternTransform="rotate(-45)">` +
		`<rect class="wrongpatch" width="16" height="16"/><path class="hatchline" d="M8 0V16"/></pattern>` +
		`<pattern id="waste" patternUnits="userSpaceOnUse" width="14" height="14"><rect class="wasteground" width="14" height="14"/>` +
		`<circle class="wastedot" cx="3.5" cy="3.5" r="1.6"/><circle class="wastedot" cx="10.5" cy="10.5" r="1.6"/></pattern>`)
	b.WriteString(q.patchwork())
	for i, border := range q.Plan.Borders {
		switch {
		case q.tile(i).Along > 0:
			b.WriteString(q.tiled(i))
			continue
		case q.photographed(i) && border.Stripe.Sign() == 0 && border.Motif.Sign() == 0:
			b.WriteString(pattern(q.pattern(i, calc.Sides), 0, 1, 1, rect(-1, 0, 2, 1, q.ground(i))))
			continue
		case border.Stripe.Sign() == 0 && border.Motif.Sign() == 0:
			continue
		}
		b.WriteString(q.printed(i, calc.Sides))
		if q.pattern(i, calc.TopBottom) != q.pattern(i, calc.Sides) {
			b.WriteString(q.printed(i, calc.TopBottom))
		}
	}
	b.WriteString("</defs></svg>")
	return b.String()
}
