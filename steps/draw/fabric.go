package draw

import (
	"fmt"
	"slices"

	"cornerwise/calc"
)

// fabricLaid is the fabric of one border across its usable width; it goes on below.
func (q Quilt) fabricLaid(p *pen, s Scene) string {
	q.coped = s.Kind == CopingScene
	i := s.Border - 1
	b := q.Plan.Borders[i]
	if s.Act == "square" {
		return q.fabricSquared(p, s)
	}
	up := q.liesUpright(s) // strips cut lengthwise run down the selvage, and so does their stripe
	wide := max(in(b.Fabric.UsableWidth), q.cutOn(i, calc.Sides), q.cutOn(i, calc.TopBottom))
	room := box{40, 44, 560, 432}
	k := (room.right - room.left) / wide
	high := (room.bottom - room.top) / k
	f, outline := frame{0, k, k, 0, room.left, room.top}, box{0, 0, high, wide}.corners()
	if !up {
		f, outline = frame{k, 0, 0, k, room.left, room.top}, box{0, 0, wide, high}.corners()
	}
	starts := q.starts(s, i, up)
	phase := 0.0
	if len(starts) > 0 {
		phase = starts[0].from
	}
	q.fabric(p, i, calc.Sides, f.of(move(0, phase)), move(0, -phase).all(outline))
	p.torn(pt{room.right, room.bottom - 8}, pt{room.left, room.bottom - 8})
	p.line("raw", pt{room.left, room.top}, pt{room.right, room.top})
	sides := "selvage"
	if s.Act == "line" || q.Plan.FirstOfFabric(i) != i { // they are cut off by then
		sides = "raw"
	}
	p.lines(sides, pt{room.left, room.top}, pt{room.left, room.bottom - 12}, pt{room.right, room.top}, pt{room.right, room.bottom - 12})

	if s.Act == "line" {
		return q.lineChosen(p, i, f, starts, up, wide, high)
	}
	p.arrow("arrow", pt{room.left + 44, 320}, pt{room.left + 44, 120})
	p.iron(pt{300, 252}, pt{1, 0}, 1)
	p.text("ts", pt{room.left + 64, 120}, after, "straight grain")
	if sides == "raw" {
		p.text("ts", pt{room.left, 468}, after, "its edges are cut")
		return fmt.Sprintf("The fabric of %s, from which a border was cut before, pressed flat, an arrow along the straight grain", b.Name)
	}
	p.text("ts", pt{room.left, 468}, after, "selvage")
	p.text("ts", pt{room.right, 468}, before, "selvage")
	return fmt.Sprintf("The fabric of %s pressed flat, selvages left and right, an arrow along the straight grain", b.Name)
}

// fabricSquared are the two cuts that fabric begins with, each with what comes off at the right:
// a selvage, the fabric upright; then its end, the fabric turned by a quarter.
func (q Quilt) fabricSquared(p *pen, s Scene) string {
	const top, bottom, edge, off, k = 60.0, 400.0, 205.0, 22.0, 12.0
	p.forHand(q)
	left, then := 30.0, 322.0
	if p.turned { // the first stays left
		left, then = then, left
	}
	i := s.Border - 1
	b := q.Plan.Borders[i]
	along := q.liesUpright(s) // whether the stripe runs along the selvage
	fabric := func(f frame, turned bool, at box) {
		flat := still // from the stripe's places to the fabric's, turned clockwise the second time
		switch {
		case along && !turned:
			flat = frame{0, 1, 1, 0, 0, 0}
		case !along && turned:
			flat = frame{0, 1, -1, 0, 0, 0}
		}
		q.fabric(p, i, calc.Sides, f.of(flat), inverse(flat).all(at.corners()))
	}
	panel := func(x float64, turned bool) frame {
		f := frame{k, 0, 0, k, x, top}
		fabric(f, turned, box{0, 0, (edge + off) / k, (bottom - top) / k})
		p.shape("ghostfill", box{x + edge, top, x + edge + off, bottom}.corners()...)
		return f
	}

	panel(left, false)
	p.lines("selvage", pt{left, top + 4}, pt{left, bottom - 4}, pt{left + edge + off, top + 4}, pt{left + edge + off, bottom - 4})
	p.torn(pt{left - 10, top + 8}, pt{left + edge + off + 10, top + 8})
	p.torn(pt{left + edge + off + 10, bottom - 8}, pt{left - 10, bottom - 8})
	p.cutUp(left+edge, bottom+14, top-14, 84, q.rulerStep(k))
	p.caption(24, 448, after, "both selvages,")

	panel(then, true)
	p.lines("raw", pt{then, top}, pt{then + edge + off, top}, pt{then, bottom}, pt{then + edge + off, bottom}, pt{then + edge + off, top}, pt{then + edge + off, bottom})
	p.torn(pt{then + 8, bottom + 12}, pt{then + 8, top - 12})
	p.cutUp(then+edge, bottom+14, top-14, 84, q.rulerStep(k))
	p.line("chalk", pt{then + edge - 26, bottom}, pt{then + edge - 26, bottom - 26}, pt{then + edge, bottom - 26})
	p.lines("rulerline", pt{then + edge - 84, bottom}, pt{then + edge, bottom})
	p.caption(width-24, 448, before, "then the end")
	return fmt.Sprintf("The fabric of %s twice, the ruler on what is kept, the blade away from you: a selvage comes off along the straight grain; then, the fabric turned by a quarter, its end, square to the cut edge", b.Name)
}

// A start is where a strip lies across its stripe, as its fabric is laid out, from its edge.
type start struct {
	from, to float64
	own      bool // of the border in question; else of another that shares its fabric
}

// starts are the strips of border i on its fabric, from the left edge or from the end, and
// those that lie among them.
func (q Quilt) starts(s Scene, i int, up bool) []start {
	if s.Act != "line" {
		return nil
	}
	way, _ := q.wayOf(i)
	if way == nil {
		return []start{{0, q.cutOn(i, calc.Sides), true}}
	}
	var own, others []start
	for _, piece := range way.Layout {
		at, wide := in(piece.Y.Length), in(piece.Length.Length)
		if up {
			at, wide = in(piece.X.Length), in(piece.Width.Length)
		}
		one := start{at, at + wide, piece.Border == i+1}
		list := &others
		if one.own {
			list = &own
		}
		if !slices.Contains(*list, one) {
			*list = append(*list, one)
		}
	}
	return append(own, others...)
}

// lineChosen shows where each strip of a border starts on its fabric: on the same line of the
// stripe, whole repeats apart.
func (q Quilt) lineChosen(p *pen, i int, f frame, starts []start, up bool, wide, high float64) string {
	b := q.Plan.Borders[i]
	room, long := wide, high
	if !up {
		room, long = high, wide
	}
	for _, s := range starts {
		switch {
		case s.from >= room:
		case s.own:
			p.lines("chalkrim", f.at(0, s.from), f.at(long, s.from))
			p.lines("chalk", f.at(0, s.from), f.at(long, s.from))
		default: // another border's
			p.shape("ghostfill", f.all(box{0, s.from, long, min(s.to, room)}.corners())...)
		}
	}
	p.text("t", pt{width / 2, 468}, amid, "each strip on the same line")
	return fmt.Sprintf("The fabric of %s as it is laid out: each of its strips starts on the same line of the stripe, %s repeat", b.Name,
		calc.Figure{Length: b.Stripe, Unit: q.Plan.Unit}.Shown())
}
