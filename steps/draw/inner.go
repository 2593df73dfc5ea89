package draw

import "fmt"

// innerMarked is a strip turned over like a page, wrong side up: chalk along the edge that goes
// to the center, and one end of that edge turned back, so that one sees which edge it is.
func (q Quilt) innerMarked(p *pen, s Scene, strip cutStrip) string {
	c := newCloseUp(q.liesUpright(s), strip)
	turned := strip.turned(q.flat(s.Edge, c.up), c.up)
	headsDown := q.headsDown(s, c.up)
	if c.up { // with room for words at the right, or at the left
		k := min(c.close.scale(), 160/c.wide)
		c.far = min(c.far*c.close.scale()/k, c.long)
		c.close = frame{k, 0, 0, k, c.whole.at(c.wide, 0).x + 66, 400 - k*c.long/2}
		if headsDown {
			c.close.e, c.close.f = width-40-c.wide*k, c.close.f-16
		}
	}
	end := c.long / 2
	inner, in := 0.0, 1.0 // where the inner edge lies on the table, and the way into the strip
	switch {
	case headsDown:
		turned = halfTurned(turned, c.wide)
	case c.up:
		inner, in = c.wide, -1
	}
	rim := onTable(c.up, -end, end, 0, c.wide)
	strip.lie(turned, c.whole, rim)
	p.shape("raw", c.whole.all(rim.corners())...)
	line := func(class string, f frame, off, from, to float64) {
		p.line(class, c.placed(f, from, inner+in*off/f.scale()), c.placed(f, to, inner+in*off/f.scale()))
	}
	line("dim", c.whole, min(5, c.wide*c.whole.scale()/3), -end, end)
	c.leaders(p)

	// The corner at the end of the inner edge is turned back along a fold.
	f := c.close
	k := f.scale()
	back := min(0.62*c.wide, 84/k)
	corner := []pt{c.onto(end, inner), c.onto(end-back, inner), c.onto(end, inner+in*back)}
	n := corner[0].times(2).minus(corner[1]).minus(corner[2]) // across the fold, to the corner
	kept := side(onTable(c.up, end-c.far, end, 0, c.wide).corners(), n.x, n.y, product(n, corner[1]))
	strip.fabric(f.of(turned), inverse(turned).all(kept))
	p.line("raw", f.at(corner[1].x, corner[1].y), c.placed(f, end-c.far, inner))
	p.line("raw", f.at(corner[2].x, corner[2].y), c.placed(f, end, c.wide-inner), c.placed(f, end-c.far, c.wide-inner))
	thick := 10.0
	class := "chalkwide"
	if c.wide*k < 60 {
		thick, class = 7, "chalk"
	}
	line(class, f, thick/2+3, end-c.far, end-back-thick/k)
	over := f.of(turnedOver(corner[1], corner[2].minus(corner[1])))
	strip.fabric(over.of(turned), inverse(turned).all(corner))
	p.line("raw", f.at(corner[1].x, corner[1].y), over.at(corner[0].x, corner[0].y), f.at(corner[2].x, corner[2].y))
	if b := q.Plan.Borders[s.Border-1]; len(b.Lines) > 0 && firstLine(b) < 0.7*back { // as the cutting page marks it
		y, g := firstLine(b), over.of(turned)
		at := inverse(turned).at(corner[0].x, corner[0].y) // the strip's end
		way := 1.0
		if at.x < 0 {
			way = -1
		}
		if y > 0 {
			p.line("firstline", g.at(at.x, y), g.at(at.x-way*(back-y), y))
		}
		p.flag(g.of(move(at.x, y)).of(scale(1/k)), -way)
	}
	p.line("foldedge", f.at(corner[1].x, corner[1].y), f.at(corner[2].x, corner[2].y))
	c.torn(p, 12/k)

	at := 0.55
	if headsDown { // over the line that leads to the whole strip
		at = 0.92
	}
	from := c.placed(f, end-c.far*at, inner)
	where := ", at the top"
	switch {
	case headsDown:
		p.text("t", pt{c.whole.at(c.wide, 0).x + 30, 36}, after, s.Edge+" strip")
		p.arrow("arrow", from.plus(pt{-10, 0}), from.plus(pt{-52, 0}))
		p.words(from.plus(pt{-62, 0}), before, word{"t", "to the"}, word{"t", "center"})
		p.words(pt{width - 24, 442}, before, word{"ts", "turned over,"}, word{"ts", "wrong side up"})
		where = ", now left with the heads up"
	case c.up:
		p.text("t", pt{c.whole.at(c.wide, 0).x + 30, 36}, after, s.Edge+" strip")
		p.arrow("arrow", from.plus(pt{10, 0}), from.plus(pt{52, 0}))
		p.words(from.plus(pt{62, 0}), after, word{"t", "to the"}, word{"t", "center"})
		p.words(pt{width - 24, 442}, before, word{"ts", "turned over,"}, word{"ts", "wrong side up"})
		where = ", now right"
	default:
		p.text("t", pt{24, 28}, after, s.Edge+" strip")
		p.arrow("arrow", from.plus(pt{0, -6}), from.plus(pt{0, -38}))
		p.text("t", from.plus(pt{22, -23}), after, "to the center")
		p.text("ts", pt{24, 466}, after, "turned over, wrong side up")
	}
	return fmt.Sprintf("The %s %s turned over like a page, wrong side up, chalk along the edge that goes to the center%s", s.Edge, strip.name, where)
}

// onto is a place of the table, so far along from the strip's middle and so far across.
func (c closeUp) onto(along, across float64) pt {
	if c.up {
		return pt{across, along}
	}
	return pt{along, across}
}

func product(a, b pt) float64 { return a.x*b.x + a.y*b.y }
