package draw

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// A drawing is this large unless its pen says otherwise; the page scales it.
const (
	width  = 600.0
	height = 500.0
)

// What text takes, in drawing units: drawing.css sets the same sizes.
const (
	textSize   = 40.0
	numberSize = 44.0
	labelSize  = 24.0 // on a cutting layout, which is read close by
	leading    = 1.2
)

// A pen writes SVG. Every point passes through its frame on the way out, so a
// scene drawn for one corner comes out mirrored for the others; text is moved
// but stays upright.
type pen struct {
	b      strings.Builder
	on     frame
	turned bool // by a half turn, for a left hand
	rims   bool // thread and chalk lie on colors that the look does not know
	w, h   float64
	layers []layer // all that was laid, in its order
	loupe  int     // the round window that is drawn in, counted from 1; 0: none
	loupes int     // so many there are
}

func newPen() *pen { return &pen{on: move(0, 0), w: width, h: height} }

// mirrored draws what follows for another corner or edge: left for right, or
// bottom for top.
func (p *pen) mirrored(x, y bool) {
	p.on = move(0, 0)
	if x {
		p.on.a, p.on.e = -1, width
	}
	if y {
		p.on.d, p.on.f = -1, height
	}
}

// forHand has what is cut lie for the hand that cuts it: for a left hand all of the drawing is
// turned by a half, so that the ruler lies right of the line and what comes off left. A half
// turn shows the same side of the fabric. Words stay upright, and the blade goes away from the
// person all the same (away).
func (p *pen) forHand(q Quilt) {
	if q.LeftHand {
		p.turned = true
		p.on = frame{-1, 0, 0, -1, p.w, p.h}
	}
}

// hand is the side of the hand that cuts, where what comes off lies.
func (q Quilt) hand() string {
	if q.LeftHand {
		return "left"
	}
	return "right"
}

// away is the way of the blade: the two ends of a cut that are given for a right hand, in the
// order in which this hand cuts.
func (p *pen) away(from, to pt) (pt, pt) {
	if p.turned {
		return to, from
	}
	return from, to
}

// caption is a text that stands left or right as for a right hand, though it is turned with the
// rest.
func (p *pen) caption(x, y float64, where int, s string) {
	if p.turned {
		x, where = p.w-x, -where
	}
	p.text("t", pt{x, y}, where, s)
}

func (p *pen) svg(label string) string {
	return fmt.Sprintf(`<svg class="drawing" viewBox="0 0 %g %g" role="img" aria-label="%s">%s</svg>`,
		p.w, p.h, html.EscapeString(capital(label)), p.b.String())
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// num is a number to so many decimals, without what says nothing.
func num(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if decimals > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func path(points []pt, closed bool, decimals int) string {
	var b strings.Builder
	for i, at := range points {
		switch i {
		case 0:
			b.WriteByte('M')
		case 1:
			b.WriteByte('L')
		default:
			b.WriteByte(' ')
		}
		b.WriteString(num(at.x, decimals) + " " + num(at.y, decimals))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

// shape fills an outline.
func (p *pen) shape(class string, outline ...pt) {
	if len(outline) < 3 {
		return
	}
	// A style sheet of its own address can't name a pattern of the page.
	fill := map[string]string{"wrong": ` fill="url(#hatch)"`, "wrongcenter": ` fill="url(#hatch-center)"`, "waste": ` fill="url(#waste)"`}[class]
	fmt.Fprintf(&p.b, `<path class="%s"%s d="%s"/>`, class, fill, path(p.on.all(outline), true, 1))
}

// tint fills an outline with a color of the plan's.
func (p *pen) tint(color string, outline ...pt) {
	if len(outline) < 3 {
		return
	}
	fmt.Fprintf(&p.b, `<path fill="%s" d="%s"/>`, color, path(p.on.all(outline), true, 1))
}

// line joins points.
func (p *pen) line(class string, points ...pt) { p.stroke(class, path(p.on.all(points), false, 1)) }

// rimmed are the lines that may lie on fabric of the plan's colors, and the class of
// the rim that keeps each in sight there.
var rimmed = map[string]string{
	"stitch": "stitchrim", "chalk": "chalkrim", "chalkline": "chalkrim", "cutline": "stitchrim", "dim": "stitchrim", "missline": "stitchrim", "arrow": "stitchrim",
	"joinline": "stitchrim", "firstline": "firstrim",
}

func (p *pen) stroke(class, d string) {
	if rim := rimmed[class]; p.rims && rim != "" {
		fmt.Fprintf(&p.b, `<path class="%s" d="%s"/>`, rim, d)
	}
	fmt.Fprintf(&p.b, `<path class="%s" d="%s"/>`, class, d)
}

// lines are separate lines, two points each.
func (p *pen) lines(class string, ends ...pt) {
	if len(ends) == 0 {
		return
	}
	var d strings.Builder
	for i := 0; i+1 < len(ends); i += 2 {
		d.WriteString(path(p.on.all(ends[i:i+2]), false, 1))
	}
	p.stroke(class, d.String())
}

// print fills an outline, in inches, with a pattern of the Defs at this scale.
func (p *pen) print(pattern string, f frame, outline []pt) {
	if len(outline) < 3 {
		return
	}
	f = p.on.of(f)
	decimals := int(clamp(math.Ceil(math.Log10(f.scale()*20)), 0, 6))
	fmt.Fprintf(&p.b, `<path fill="url(#%s)" transform="%s" d="%s"/>`, pattern, f.matrix(), path(outline, true, decimals))
}

func (f frame) matrix() string {
	n := make([]string, 6)
	for i, x := range []float64{f.a, f.b, f.c, f.d, f.e, f.f} {
		n[i] = num(x, 4)
		if i > 3 {
			n[i] = num(x, 1)
		}
	}
	return "matrix(" + strings.Join(n, " ") + ")"
}

func (p *pen) circle(class string, at pt, r float64) {
	at = p.on.at(at.x, at.y)
	fmt.Fprintf(&p.b, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, num(at.x, 1), num(at.y, 1), num(r, 1))
}

// use sets a mark of the Defs.
func (p *pen) use(mark string, f frame) {
	f = p.on.of(f)
	if f.a == 1 && f.b == 0 && f.c == 0 && f.d == 1 {
		fmt.Fprintf(&p.b, `<use href="#%s" x="%s" y="%s"/>`, mark, num(f.e, 1), num(f.f, 1))
		return
	}
	fmt.Fprintf(&p.b, `<use href="#%s" transform="%s"/>`, mark, f.matrix())
}

// Where a text stands from its point, as in the drawing of corner 2.
const (
	before = -1
	amid   = 0
	after  = 1
)

// textWidth is about how wide a text is, rather more than less.
func textWidth(class, s string) float64 {
	var ems float64
	for _, c := range s {
		switch {
		case strings.ContainsRune(" .,:'°", c):
			ems += 0.3
		case strings.ContainsRune("fijlrt/1", c):
			ems += 0.41
		case strings.ContainsRune("mwMW", c):
			ems += 0.9
		default:
			ems += 0.62
		}
	}
	return ems * word{class: class}.size()
}

// A word is a line of text in its class.
type word struct{ class, text string }

func (w word) size() float64 {
	switch w.class {
	case "tn":
		return numberSize
	case "tl", "tf":
		return labelSize
	}
	return textSize
}

// text writes one line beside a point, at its height.
func (p *pen) text(class string, at pt, where int, s string) {
	p.words(at, where, word{class, s})
}

// words writes lines under each other, their middle at the height of the point,
// and keeps them within the drawing.
func (p *pen) words(at pt, where int, lines ...word) {
	at = p.on.at(at.x, at.y)
	if p.on.a < 0 {
		where = -where
	}
	var wide, high float64
	for _, l := range lines {
		wide = max(wide, textWidth(l.class, l.text))
		high += l.size() * leading
	}
	const rim = 8
	x := at.x
	switch where {
	case before:
		x = clamp(x, min(rim+wide, p.w-rim), p.w-rim)
	case amid:
		x = clamp(x, min(rim+wide/2, p.w/2), max(p.w-rim-wide/2, p.w/2))
	case after:
		x = clamp(x, rim, max(p.w-rim-wide, rim))
	}
	y := clamp(at.y-high/2, 0, p.h-high)
	for _, l := range lines {
		anchor := map[int]string{before: ` text-anchor="end"`, amid: ` text-anchor="middle"`}[where]
		fmt.Fprintf(&p.b, `<text class="%s" x="%s" y="%s"%s>%s</text>`, l.class, num(x, 1), num(y+l.size()*0.92, 1), anchor, html.EscapeString(l.text))
		y += l.size() * leading
	}
}

// into draws in a round window of radius loupe around a point; frames inside
// count from its middle.
func (p *pen) into(at pt, draw func()) {
	m := p.on.at(at.x, at.y)
	outer := p.on
	fmt.Fprintf(&p.b, `<g transform="%s" clip-path="url(#loupe)"><circle class="ground" r="%g"/>`, move(m.x, m.y).matrix(), loupe)
	p.on.e, p.on.f = 0, 0
	p.loupes++
	p.loupe = p.loupes
	draw()
	p.on, p.loupe = outer, 0
	p.b.WriteString("</g>")
	p.circle("loupe", at, loupe)
}
