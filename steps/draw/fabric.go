package draw

import (
	"fmt"

	"cornerwise/calc"
)

// fabricLaid is the fabric of one border across its usable width, selvage to
// selvage; it goes on below.
func (q Quilt) fabricLaid(p *pen, s Scene) string {
	i := s.Border - 1
	b := q.Plan.Borders[i]
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

	switch s.Act {
	case "line":
		return q.lineChosen(p, i, cut, f, wide, high, crosswise)
	case "square":
		return q.fabricSquared(p, b.Name, room, k)
	}
	p.arrow("arrow", pt{room.left + 44, 320}, pt{room.left + 44, 120})
	p.iron(pt{250, 232}, pt{1, 0}, 1)
	p.text("ts", pt{room.left, 468}, after, "selvage")
	p.text("t", pt{room.right, 468}, before, "straight grain")
	return fmt.Sprintf("The fabric of %s pressed flat, selvages left and right, an arrow along the straight grain", b.Name)
}

// fabricSquared is the fabric with both selvages beyond the cuts, and the ruler and the
// blade across its end.
func (q Quilt) fabricSquared(p *pen, name string, room box, k float64) string {
	const strip, end = 18.0, 40.0
	for _, x := range []float64{room.left, room.right - strip} {
		p.shape("ghostfill", box{x, room.top, x + strip, room.bottom - 12}.corners()...)
	}
	p.shape("ghostfill", box{room.left + strip, room.top, room.right - strip, room.top + end}.corners()...)
	a, b := pt{room.left + strip, room.bottom - 12}, pt{room.left + strip, room.top}
	p.line("cutline", a, b)
	p.line("cutline", pt{room.right - strip, room.bottom - 12}, pt{room.right - strip, room.top})
	from, to := pt{room.left - 8, room.top + end}, pt{room.right + 8, room.top + end}
	p.ruler(to, from, 84, q.rulerStep(k))
	p.blade(from, to)
	corner := 22.0
	p.line("chalk", a.plus(pt{0, 0}).to(b, 0).plus(pt{corner, room.top + end - a.y}), pt{room.left + strip + corner, room.top + end + corner}, pt{room.left + strip, room.top + end + corner})
	p.text("t", pt{width / 2, 468}, amid, "selvages off, end square")
	return fmt.Sprintf("The fabric of %s: both selvages cut off along the straight grain, ruler and blade square across its end", name)
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
