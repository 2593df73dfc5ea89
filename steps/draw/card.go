package draw

import (
	"fmt"
	"html"

	"cornerwise/calc"
)

// A Card is one corner of the plan at true size, for paper, and how much of it there is room for.
type Card struct {
	SVG      string
	Whole    bool        // all of the corner out to its raw edges
	Shown    calc.Figure // of the miter line, from the dot
	Mirrored bool        // the corners beside this one are it turned over: the bands are unequal
}

// The card is drawn in tenths of a millimeter. It fits what any printer prints of A4 and of
// Letter: 170 mm across leave 20 mm on either side of A4, the narrower one.
const (
	cardUnit = 254.0 // in an inch
	cardWide = 1700.0
	cardHigh = 1580.0 // at the most
	cardLow  = 900.0  // at the least
	cardRim  = 50.0   // beyond the raw edges
	cardIn   = 300.0  // of the center
	ruleHigh = 150.0  // of the lines to check by
)

// Card is corner 1 of the plan at true size, as it lies right side up, with two lines to lay a
// ruler on: an SVG that says its own size, which nothing may scale.
func (q Quilt) Card() Card {
	v := q.cornerAtTable(Scene{Kind: CornerScene, Corner: 1})
	over, under := v.ends()
	end := over // the farther one: both strips are cut there at the least
	if under.long() > over.long() {
		end = under
	}
	left := min(-end.x*cardUnit+cardRim, cardWide-cardIn)
	above := min(-end.y*cardUnit+cardRim, cardHigh-cardIn)
	p := newPen()
	p.w, p.h = cardWide, max(cardLow, above+cardIn)
	dot := pt{left, above}
	v.room = box{0, 0, p.w, p.h}
	v.f = move(dot.x, dot.y).of(scale(cardUnit))

	v.cardEdges(p)
	_, last, _ := v.room.line(dot, v.to(end))
	p.line("cardmiter", dot, last)
	v.cardAngles(p, dot, last)
	p.circle("dot", dot, 15)
	v.cardNames(p, dot)
	p.line("frame", append(v.room.corners(), v.room.corners()[0])...)

	shown := last.minus(dot).long() / cardUnit
	whole := shown > end.long()-1e-6
	p.h += ruleHigh
	p.rule("rule-inch", pt{40, p.h - 50}, cardUnit, "1 in")
	p.rule("rule-cm", pt{600, p.h - 50}, cardUnit*5/2.54, "5 cm")
	label := "corner 1 at true size: its seams, the dot and the miter line"
	return Card{Whole: whole, Mirrored: !q.Sheet.Corner.Equal(),
		Shown: calc.Figure{Length: calc.Of(int64(shown*16), 16, calc.Inch), Unit: q.Plan.Unit},
		SVG: fmt.Sprintf(`<svg class="truesize" width="%smm" height="%smm" viewBox="0 0 %s %s" `+
			`role="img" aria-label="%s">%s</svg>`, num(p.w/10, 2), num(p.h/10, 2),
			num(p.w, 1), num(p.h, 1), html.EscapeString(capital(label)), p.b.String())}
}

// cardEdges are the lines of the strips flat, each as far as the miter: the seams that hold them
// to the center and to each other, and their outer raw edges.
func (v cornerView) cardEdges(p *pen) {
	s := v.seam()
	sides, topBottom := v.seams(edgesOf(v.over)), v.seams(edgesOf(v.under))
	for i := 1; i+1 < len(sides); i++ {
		x, y := -sides[i], -topBottom[i]
		v.line(p, "cardseam", still, pt{x, x * v.deep / v.wide}, pt{x, far})
		v.line(p, "cardseam", still, pt{y * v.wide / v.deep, y}, pt{far, y})
	}
	over, under := v.ends()
	out := pt{-v.wide - s, -v.deep - s}
	v.line(p, "rawthin", still, over, pt{out.x, far})
	v.line(p, "rawthin", still, under, pt{far, out.y})
	// The seams end at the dot; beyond it the inner edges of the tails are free.
	v.line(p, "ghost", still, pt{}, pt{out.x, 0})
	v.line(p, "ghost", still, pt{}, pt{0, out.y})
	v.line(p, "cardstitch", still, pt{}, pt{far, 0})
	v.line(p, "cardstitch", still, pt{}, pt{0, far})
}

// cardAngles are the two between the seams, drawn on beyond the dot, and the miter line.
func (v cornerView) cardAngles(p *pen, dot, last pt) {
	c := v.Sheet.Corner
	way := last.minus(dot)
	most := 0.6 * way.long()
	for _, a := range []struct {
		along   pt // the seam goes on
		r       float64
		degrees calc.Degrees
		words   pt // from the end of the arc on the seam
		stand   int
	}{
		{pt{0, -1}, min(260, most, dot.y-cardRim), c.AngleSides, pt{22, 0}, after},
		{pt{-1, 0}, min(340, most, dot.x-cardRim), c.AngleTopBottom, pt{0, 34}, amid},
	} {
		p.arc(dot, a.along, way, a.r)
		at := dot.plus(a.along.times(a.r)).plus(a.words)
		p.text("tn", at, a.stand, num(float64(a.degrees), 1)+"°")
	}
}

// cardNames say what is what.
func (v cornerView) cardNames(p *pen, dot pt) {
	p.text("t", dot.plus(pt{24, 40}), after, "dot")
	p.text("ts", pt{p.w - 20, dot.y + 36}, before, "seam")
	p.text("ts", pt{p.w - 20, p.h - 40}, before, "center")
	wide, deep := v.wide*cardUnit, v.deep*cardUnit
	top := pt{(dot.x + p.w) / 2, max(dot.y-deep/2, 40)}
	p.label("tl", top, 0, min(1, deep/textSize)*textSize/labelSize, v.name(v.under))
	left := pt{max(dot.x-wide/2, 40), (dot.y + p.h) / 2}
	p.label("tl", left, 90, min(1, wide/textSize)*textSize/labelSize, v.name(v.over))
}

// rule is a line to lay a ruler on, its ends marked, with its length in words after it.
func (p *pen) rule(class string, from pt, long float64, words string) {
	to := from.plus(pt{long, 0})
	p.line(class, from, to)
	bar := pt{0, 28}
	p.lines("rulebar", from.plus(bar), from.minus(bar), to.plus(bar), to.minus(bar))
	p.text("tn", to.plus(pt{24, 0}), after, words)
}
