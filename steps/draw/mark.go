package draw

import (
	"fmt"
	"math"
	"strings"
)

// loupe is the radius of the round window that enlarges a detail.
const loupe = 112.0

// marks are drawn once, in the Defs, pointing along x from the origin.
const marks = `<clipPath id="loupe"><circle r="112"/></clipPath>` +
	`<g id="dot"><circle class="rim" r="12"/><circle class="dot" r="9"/></g>` +
	`<g id="pin"><path class="pinrim" d="M-26 0H24"/><path class="pin" d="M-26 0H24"/><circle class="pinhead" cx="-26" r="7"/></g>` +
	`<g id="needle"><path class="needle" d="M0 0L-5 -16V-84H5V-16Z"/><path class="eye" d="M0 -20V-30"/></g>` +
	`<g id="iron"><path class="iron" d="M0 0C26 -40 66 -46 104 -46H152Q160 0 152 46H104C66 46 26 40 0 0Z"/><path class="grip" d="M62 0H134"/></g>` +
	`<g id="ironprint"><path class="stitchrim" d="M0 0C26 -40 66 -46 104 -46H152Q160 0 152 46H104C66 46 26 40 0 0Z"/><path class="ghost" d="M0 0C26 -40 66 -46 104 -46H152Q160 0 152 46H104C66 46 26 40 0 0Z"/></g>` +
	`<g id="miss"><circle class="verdict" r="17"/><path class="missmark" d="M-8 -8L8 8M8 -8L-8 8"/></g>` +
	`<g id="meet"><circle class="verdict" r="17"/><path class="meetmark" d="M-8 1L-2 8L9 -7"/></g>` +
	`<g id="blade"><circle class="blade" r="24"/><circle class="hub" r="6"/><path class="handle" d="M-9 8L-58 46"/></g>`

// dim is a measured distance: a chalk line between two end bars.
func (p *pen) dim(a, b pt) {
	if b.minus(a).long() < 1 {
		return
	}
	n := facing(b.minus(a)).at(0, 11)
	p.lines("dim", a, b, a.plus(n), a.minus(n), b.plus(n), b.minus(n))
}

// tape is a tape measure laid from raw edge to raw edge.
func (p *pen) tape(a, b pt) {
	d := b.minus(a)
	n := facing(d).at(0, 1)
	p.line("taperim", a, b)
	p.line("tape", a, b)
	p.line("tapetick", a, b)
	p.lines("chalk", a.minus(n.times(18)), a.plus(n.times(18)), b.minus(n.times(18)), b.plus(n.times(18)))
}

// arrow points from a to b.
func (p *pen) arrow(class string, a, b pt) {
	if b.minus(a).long() < 2 {
		return
	}
	f := move(b.x, b.y).of(facing(b.minus(a)))
	if p.rims {
		p.shape("tiprim", b, f.at(-24, 11), f.at(-24, -11))
	}
	p.line(class, a, f.at(-12, 0))
	p.shape("tip "+class, b, f.at(-24, 11), f.at(-24, -11))
}

// ruler lies with its edge from a to b, its body wide on the left of that way.
// every is the distance of its lines.
func (p *pen) ruler(a, b pt, wide, every float64) {
	f := move(a.x, a.y).of(facing(b.minus(a)))
	long := b.minus(a).long()
	p.shape("ruler", a, b, f.at(long, -wide), f.at(0, -wide))
	for every < 9 {
		every *= 2
	}
	var ticks []pt
	for i := 1; float64(i)*every < long-2; i++ {
		deep := 0.2
		if i%4 == 0 {
			deep = 0.34
		}
		x := float64(i) * every
		ticks = append(ticks, f.at(x, 0), f.at(x, -wide*deep))
	}
	p.lines("rulertick", ticks...)
}

// torn ends what goes on beyond the drawing: it wipes away all beyond the line
// from a to b, on the left of that way.
func (p *pen) torn(a, b pt) {
	a, b = p.on.at(a.x, a.y), p.on.at(b.x, b.y)
	if p.on.a*p.on.d < 0 {
		a, b = b, a
	}
	d := b.minus(a)
	if d.long() < 4 {
		return
	}
	n := max(1, math.Round(d.long()/44))
	step := d.times(1 / n)
	deep := facing(d).at(0, -13)
	out := facing(d).at(0, -16)
	var s strings.Builder
	fmt.Fprintf(&s, "M%s %s", num(a.x, 1), num(a.y, 1))
	mid := step.times(0.5).plus(deep)
	fmt.Fprintf(&s, "q%s %s %s %s", num(mid.x, 1), num(mid.y, 1), num(step.x, 1), num(step.y, 1))
	for i := 1.0; i < n; i++ {
		fmt.Fprintf(&s, "t%s %s", num(step.x, 1), num(step.y, 1))
	}
	fmt.Fprintf(&s, "l%s %sL%s %sZ", num(out.x, 1), num(out.y, 1), num(a.x+out.x, 1), num(a.y+out.y, 1))
	fmt.Fprintf(&p.b, `<path class="torn" d="%s"/>`, s.String())
}

func (p *pen) dot(at pt) { p.use("dot", move(at.x, at.y)) }

// pin lies across, its point along d.
func (p *pen) pin(at, d pt) { p.use("pin", move(at.x, at.y).of(facing(d))) }

// iron stands with its tip at a point, its body away along d.
func (p *pen) iron(tip, d pt, k float64) {
	p.use("iron", move(tip.x, tip.y).of(facing(d)).of(scale(k)))
}

// blade cuts from a to b, given as for a right hand: the cut line, and the wheel on it.
func (p *pen) blade(a, b pt) {
	a, b = p.away(a, b)
	p.line("cutline", a, b)
	p.wheel(a.to(b, 0.62), b.minus(a))
}

// wheel is the blade at a place, its handle on the side of the hand.
func (p *pen) wheel(at, way pt) {
	f := move(at.x, at.y).of(facing(way))
	if p.turned {
		f = f.of(frame{1, 0, 0, -1, 0, 0})
	}
	p.use("blade", f)
}

// arc is a chalk arc around at from one way to another, the short way round.
func (p *pen) arc(at, from, to pt, r float64) {
	a, b := math.Atan2(from.y, from.x), math.Atan2(to.y, to.x)
	for b-a > math.Pi {
		b -= 2 * math.Pi
	}
	for a-b > math.Pi {
		b += 2 * math.Pi
	}
	var points []pt
	for i := 0.0; i <= 8; i++ {
		t := a + (b-a)*i/8
		points = append(points, at.plus(pt{math.Cos(t), math.Sin(t)}.times(r)))
	}
	p.line("dim", points...)
}

// torn2 is an edge cut away in the drawing, so that what lies beneath is seen.
func (p *pen) torn2(a, b pt) {
	d := b.minus(a)
	if d.long() < 4 {
		return
	}
	n := max(1, math.Round(d.long()/30))
	across := facing(d).at(0, 5)
	points := []pt{a}
	for i := 1.0; i < n; i++ {
		way := 1.0
		if int(i)%2 == 0 {
			way = -1
		}
		points = append(points, a.to(b, i/n).plus(across.times(way)))
	}
	p.line("cutaway", append(points, b)...)
}

// arrowAlong is an arrow along points, its head at the last of them.
func (p *pen) arrowAlong(points []pt) {
	n := len(points)
	tip := points[n-1]
	f := move(tip.x, tip.y).of(facing(tip.minus(points[n-2])))
	p.line("arrow", append(points[:n-1:n-1], f.at(-12, 0))...)
	p.shape("tip arrow", tip, f.at(-24, 11), f.at(-24, -11))
}

// finger reaches to a place from out of the picture's way.
func (p *pen) finger(tip, from pt) {
	f := move(tip.x, tip.y).of(facing(from))
	outline := []pt{f.at(58, -15), f.at(15, -14), f.at(5, -11), f.at(0, 0), f.at(5, 11), f.at(15, 14), f.at(58, 15)}
	p.shape("finger", outline...)
	p.line("nail", f.at(7, -6), f.at(20, -7), f.at(20, 7), f.at(7, 6))
}
