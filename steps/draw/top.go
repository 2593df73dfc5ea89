package draw

import (
	"fmt"

	"cornerwise/calc"
)

// top is the bordered top with its tapes, raw edge to raw edge.
func (q Quilt) top(p *pen, s Scene) string {
	extra := q.seam()
	w := q.width() + 2*q.band(calc.Sides)
	l := q.length() + 2*q.band(calc.TopBottom)
	f := box{40, 24, width - 40, height - 24}.fit(w, l)
	if s.Act == "diagonals" { // room for the numbers of the corners
		f = box{64, 40, width - 64, height - 40}.fit(w, l)
	}
	q.bordered(p, f, extra)
	x, y := w/2, l/2
	switch s.Act {
	case "widths":
		for _, at := range []float64{-0.82, 0, 0.82} {
			p.tape(f.at(-x, at*y), f.at(x, at*y))
		}
		return fmt.Sprintf("The bordered top: three widths, raw edge to raw edge; each should be %s", q.Sheet.Raw.Width.Shown())
	case "lengths":
		for _, at := range []float64{-0.82, 0, 0.82} {
			p.tape(f.at(at*x, -y), f.at(at*x, y))
		}
		return fmt.Sprintf("The bordered top: three lengths, raw edge to raw edge; each should be %s", q.Sheet.Raw.Length.Shown())
	}
	p.tape(f.at(-x, -y), f.at(x, y))
	p.tape(f.at(x, -y), f.at(-x, y))
	for corner := 1; corner <= 4; corner++ {
		sx, sy := cornerPlace(corner)
		p.text("ts", f.at(sx*x, sy*y).plus(pt{sx * 20, sy * 8}), int(sx), fmt.Sprint(corner))
	}
	return "The bordered top: two diagonals, from corner 1 to 3 and from corner 2 to 4; they should be equal"
}
