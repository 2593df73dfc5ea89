package draw

import (
	"fmt"

	"cornerwise/calc"
)

// fabricLaid is the fabric of one border across its usable width, selvage to
// selvage; it goes on below.
func (q Quilt) fabricLaid(p *pen, s Scene) string {
	q.coped = s.Kind == CopingScene
	i := s.Border - 1
	b := q.Plan.Borders[i]
	if s.Act == "square" {
		return q.fabricSquared(p, i)
	}
	cut := max(q.cutOn(i, calc.Sides), q.cutOn(i, calc.TopBottom))
	wide := max(in(b.Fabric.UsableWidth), cut)
	room := box{40, 44, 560, 432}
	k := (room.right - room.left) / wide
	high := (room.bottom - room.top) / k

	// Strips cut lengthwise run down the selvage, and so does their stripe.
	f, outline := frame{0, k, k, 0, room.left, room.top}, box{0, 0, high, wide}.corners()
	crosswise := b.Fabric.Runs == "crosswise"
	if crosswise {
		f, outline = frame{k, 0, 0, k, room.left, room.top}, box{0, 0, wide, high}.corners()
	}
	q.fabric(p, i, calc.Sides, f, outline)
	p.torn(pt{room.right, room.bottom - 8}, pt{room.left, room.bottom - 8})
	p.line("raw", pt{room.left, room.top}, pt{room.right, room.top})
	p.lines("selvage", pt{room.left, room.top}, pt{room.left, room.bottom - 12}, pt{room.right, room.top}, pt{room.right, room.bottom - 12})

	if s.Act == "line" {
		return q.lineChosen(p, i, cut, f, wide, high, crosswise)
	}
	p.arrow("arrow", pt{room.left + 44, 320}, pt{room.left + 44, 120})
	p.iron(pt{250, 232}, pt{1, 0}, 1)
	p.text("ts", pt{room.left, 468}, after, "selvage")
	p.text("t", pt{room.right, 468}, before, "straight grain")
	return fmt.Sprintf("The fabric of %s pressed flat, selvages left and right, an arrow along the straight grain", b.Name)
}

// fabricSquared are the two cuts that fabric begins with, each with what comes off at the right:
// a selvage, the fabric upright; then its end, the fabric turned by a quarter.
func (q Quilt) fabricSquared(p *pen, i int) string {
	const top, bottom, edge, off, k = 60.0, 400.0, 205.0, 22.0, 12.0
	b := q.Plan.Borders[i]
	along := b.Fabric.Runs != "crosswise" // whether the stripe runs along the selvage
	fabric := func(f frame, turned bool, at box) {
		flat := frame{1, 0, 0, 1, 0, 0}
		if along != turned {
			flat = frame{0, 1, 1, 0, 0, 0}
		}
		q.fabric(p, i, calc.Sides, f.of(flat), flat.all(at.corners()))
	}
	panel := func(x float64, turned bool) frame {
		f := frame{k, 0, 0, k, x, top}
		fabric(f, turned, box{0, 0, (edge + off) / k, (bottom - top) / k})
		p.shape("ghostfill", box{x + edge, top, x + edge + off, bottom}.corners()...)
		return f
	}

	panel(30, false)
	p.lines("selvage", pt{30, top + 4}, pt{30, bottom - 4}, pt{30 + edge + off, top + 4}, pt{30 + edge + off, bottom - 4})
	p.torn(pt{20, top + 8}, pt{30 + edge + off + 10, top + 8})
	p.torn(pt{30 + edge + off + 10, bottom - 8}, pt{20, bottom - 8})
	p.cutUp(30+edge, bottom+14, top-14, 84, q.rulerStep(k))
	p.words(pt{24, 448}, after, word{"t", "both selvages,"})

	const left = 322.0
	panel(left, true)
	p.lines("raw", pt{left, top}, pt{left + edge + off, top}, pt{left, bottom}, pt{left + edge + off, bottom}, pt{left + edge + off, top}, pt{left + edge + off, bottom})
	p.torn(pt{left + 8, bottom + 12}, pt{left + 8, top - 12})
	p.cutUp(left+edge, bottom+14, top-14, 84, q.rulerStep(k))
	p.line("chalk", pt{left + edge - 26, bottom}, pt{left + edge - 26, bottom - 26}, pt{left + edge, bottom - 26})
	p.lines("rulerline", pt{left + edge - 84, bottom}, pt{left + edge, bottom})
	p.text("t", pt{width - 24, 448}, before, "then the end")
	return fmt.Sprintf("The fabric of %s twice, the ruler on what is kept, the blade away from you: a selvage comes off along the straight grain; then, the fabric turned by a quarter, its end, square to the cut edge", b.Name)
}

// lineChosen shows where each strip that finds room starts: on the same line of
// the stripe, whole repeats apart.
func (q Quilt) lineChosen(p *pen, i int, cut float64, f frame, wide, high float64, crosswise bool) string {
	b := q.Plan.Borders[i]
	repeat, room, long := in(b.Stripe), wide, high
	if crosswise {
		room, long = high, wide
	}
	start, apart := 0.0, repeat*ceil(cut/repeat)
	if room >= cut+repeat {
		start = repeat
	}
	for n := 0; n < 4 && start+cut <= room+1e-9; n++ {
		p.lines("ghost", f.at(0, start+cut), f.at(long, start+cut))
		p.lines("chalkrim", f.at(0, start), f.at(long, start))
		p.lines("chalk", f.at(0, start), f.at(long, start))
		start += apart
	}
	p.text("t", pt{width / 2, 468}, amid, "each strip on the same line")
	return fmt.Sprintf("The fabric of %s: each strip starts on the same line of the stripe, %s repeat", b.Name,
		calc.Figure{Length: b.Stripe, Unit: q.Plan.Unit}.Shown())
}
