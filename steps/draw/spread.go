package draw

import (
	"fmt"

	"cornerwise/calc"
)

// spread is the corner flat and wrong side up, the strip that is worked on lying over the
// other: unequal bands get their lines before they are folded.
func (q Quilt) spread(p *pen, s Scene) string {
	v := q.cornerAtTable(s)
	own := calc.TopBottom
	if s.Act == "line-sides" {
		own = calc.Sides
	}
	onOver := edgesOf(v.over) == own
	end, beneath := v.ends()
	if !onOver {
		end = beneath
	}
	// The point square across from the dot, and from there along the raw outer edge.
	across, along := pt{0, end.y}, pt{-1, 0}
	point := q.Sheet.Corner.OutAlongTopBottom
	if own == calc.Sides {
		point = q.Sheet.Corner.OutAlongSides
	}
	if onOver {
		across, along = pt{end.x, 0}, pt{0, -1}
	}
	shown := v.shown(0.12, 0.5)
	shown.left, shown.top = min(shown.left, 1.1*end.x), min(shown.top, 1.1*end.y)
	v = v.lies(box{200, 12, width - 12, 424}, shown, true)
	over, under := v.tails()
	lay := func(first bool) {
		if first {
			v.place(p, v.over, still, v.overStrip(over))
			v.rawOver(p, still, over)
			return
		}
		v.place(p, v.under, still, v.underStrip(under))
		v.rawUnder(p, under)
	}
	lay(!onOver)
	lay(onOver)
	v.place(p, "center", still, []pt{{0, 0}, {far, 0}, {far, far}, {0, far}})
	v.line(p, "stitch", still, pt{far, 0}, pt{}, pt{0, far})
	dot, tip := v.at(0, 0), v.to(end)
	v.flatAllowances(p, max(2.4*v.seam(), 40/v.k()), true)
	p.line("ghost", dot, v.to(across))
	out := v.to(across).minus(dot).unit()
	step := tip.minus(v.to(across)).unit()
	square := v.to(across).minus(out.times(14)) // the mark of a right angle
	p.line("rawthin", square, square.plus(step.times(14)), v.to(across).plus(step.times(14)))
	off := out.times(20)
	p.dim(v.to(across).plus(off), tip.plus(off))
	p.arrow("chalkline", dot, tip)
	way := v.to(along).minus(v.at(0, 0))
	p.line("dim", dot, dot.plus(way.unit().times(84))) // the arc's baseline: the seam, gone on
	p.arc(dot, way, tip.minus(dot), min(64, tip.minus(dot).long()*0.6))
	p.dot(dot)
	q.turnedInset(p, box{12, 150, 190, 310}, q.cornerAt(s.Corner), "")
	number, at := point.Shown(), degrees(q.angle(own))
	p.words(pt{16, 360}, after, word{"ts", "wrong"}, word{"ts", "side up"})
	p.text("tn", pt{width / 2, 464}, amid, number+" along, "+at)
	return fmt.Sprintf(", turned over like a page, wrong side up: on the %s the line runs from the dot to the outer edge, which it meets %s along from the point square across, at %s to the seam",
		v.name(map[bool]string{true: v.over, false: v.under}[onOver]), number, at)
}
