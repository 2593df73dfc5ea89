package draw

import "cornerwise/calc"

// OnPrint shows where the strips of border i, counted from 0, lie on their print, as its photo
// shows that: the inner raw edge above, seams dashed, and what lies on the middle of the side
// strips. "" where there is no picture of the print.
func (q Quilt) OnPrint(i int) string {
	t := q.tile(i)
	if t.Along == 0 {
		return ""
	}
	p := newPen()
	deep := max(in(q.Plan.Borders[i].Cut), in(q.Plan.Borders[i].CutTopBottom))
	around := min(max(t.Across/2, deep/6), deep)
	const room = 440.0
	p.h = min(height, max(220, room*(deep+2*around)/(2*deep)))
	k := p.h / (deep + 2*around)
	half := room / 2 / k
	f := move(room/2, around*k).of(scale(k))
	q.fabric(p, i, calc.Sides, f, box{-half, -around, half, deep + around}.corners())
	p.shape("beside", f.all(box{-half, -around, half, 0}.corners())...)
	p.shape("beside", f.all(box{-half, deep, half, deep + around}.corners())...)
	for _, y := range []float64{0, deep} {
		p.line("raw", f.at(-half, y), f.at(half, y))
	}
	for _, y := range []float64{q.seam(), deep - q.seam()} {
		p.line("stitch", f.at(-half, y), f.at(half, y))
	}
	p.line("chalkline", f.at(0, -around/2), f.at(0, deep+around/2))
	p.text("tl", f.at(half, 0).plus(pt{16, 0}), after, "inner edge")
	p.text("tl", f.at(half, deep).plus(pt{16, 0}), after, "outer edge")
	p.text("tl", f.at(half, deep/2).plus(pt{16, 0}), after, "middle")
	return p.svg("A strip of " + q.Plan.Borders[i].Name + " on its print: its inner and outer raw edge, its seams, and its middle")
}
