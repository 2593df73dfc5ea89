package draw

import (
	"fmt"

	"cornerwise/calc"
)

// Corners is the top's four corners under one centering of a border's print, 1
// being the innermost: 400 × 400, to be read at 260 px wide. The middles of the
// sides are left out. Where the prints miss so that it is seen, each miter is
// crossed out; where they meet, it is ticked. Four of them, one for each of
// calc.Centerings, stand side by side.
func (q Quilt) Corners(border int, m calc.Meeting) string {
	p := newPen()
	p.w, p.h = 400, 400
	p.rims = q.hasLines()
	return p.svg(q.centered(border, m.Centering).cornersIn(p, border, m))
}

// cornersMet is the same as the sheet centers the print, at the size of a step.
func (q Quilt) cornersMet(p *pen, s Scene) string {
	var met calc.Meeting
	for _, m := range calc.Centerings(q.Plan, s.Border) {
		if m.Centering.Sides == q.centering(s.Border, calc.Sides) && m.Centering.TopBottom == q.centering(s.Border, calc.TopBottom) {
			met = m
		}
	}
	return q.cornersIn(p, s.Border, met)
}

func (q Quilt) centering(border int, e calc.Edges) calc.Centering {
	if q.onGap(border-1, e) {
		return calc.OnGap
	}
	return calc.OnMotif
}

// centered is the quilt with a border's print centered so.
func (q Quilt) centered(border int, c calc.Pair[calc.Centering]) Quilt {
	matches := append([]calc.Match(nil), q.Sheet.Match...)
	for i := range matches {
		if matches[i].Border == border {
			matches[i].Centering = c
		}
	}
	q.Sheet.Match = matches
	return q
}

// cornersIn fills the pen's drawing. Where borders differ in width, no print can mirror,
// whatever the meeting.
func (q Quilt) cornersIn(p *pen, border int, m calc.Meeting) string {
	const gap, lane = 26.0, 62.0 // left out between the corners, and the lane with the word
	equal := q.Plan.BordersAlike()
	wrong := !equal || m.Seen()
	wide, high := (p.w-gap)/2-6, (p.h-lane)/2-6

	// So much of each side is shown that a motif stands beside the corner.
	sides, top := q.band(calc.Sides), q.band(calc.TopBottom)
	most := max(in(q.Plan.Borders[border-1].Motif), max(sides, top)/2)
	k := min(wide/(sides+most), high/(top+most))
	w, l := q.along(calc.TopBottom), q.along(calc.Sides)
	showX, showY := min(wide/k, w+sides), min(high/k, l+top)

	for corner := 1; corner <= 4; corner++ {
		sx, sy := cornerPlace(corner)
		edge := pt{p.w/2 + sx*(p.w/2-6), p.h/2 + sy*(p.h/2-6)}
		f := frame{k, 0, 0, k, edge.x - sx*k*(w+sides), edge.y - sy*k*(l+top)}
		x, y := w+sides, l+top
		shown := box{min(sx*x, sx*(x-showX)), min(sy*y, sy*(y-showY)), max(sx*x, sx*(x-showX)), max(sy*y, sy*(y-showY))}
		q.lay(p, "center", f, shown.in(box{-w, -l, w, l}.corners()))
		for _, name := range edgeNames {
			q.lay(p, name, f, shown.in(q.on(name).all(q.mitered(edgesOf(name), 0))))
		}
		in, out := f.at(sx*w, sy*l), f.at(sx*x, sy*y)
		a, b, c := f.at(sx*(x-showX), sy*y), out, f.at(sx*x, sy*(y-showY))
		p.lines("seam", f.at(sx*(x-showX), sy*l), in, in, f.at(sx*w, sy*(y-showY)))
		p.line("raw", a, b, c)
		q.tornCorner(p, corner, a, c)
		p.line(map[bool]string{true: "missline", false: "seam"}[wrong], in, out)
		at := in.minus(pt{sx, sy}.times(30)) // beside the miter: what meets there is to be seen
		if wrong {
			p.use("miss", move(at.x, at.y))
		} else {
			p.use("meet", move(at.x, at.y))
		}
	}
	return q.cornersWords(p, m, equal, wrong)
}

// tornCorner wipes away what goes on beyond a corner's own part: a is where its
// side across ends, c where its side down does.
func (q Quilt) tornCorner(p *pen, corner int, a, c pt) {
	sx, sy := cornerPlace(corner)
	down := []pt{{a.x - sx*2, a.y + sy*6}, {a.x - sx*2, c.y - sy*6}}
	over := []pt{{a.x - sx*6, c.y - sy*2}, {c.x + sx*6, c.y - sy*2}}
	if sx*sy < 0 { // so that what is wiped lies inward
		down[0], down[1] = down[1], down[0]
		over[0], over[1] = over[1], over[0]
	}
	p.torn(down[0], down[1])
	p.torn(over[0], over[1])
}

func (q Quilt) cornersWords(p *pen, m calc.Meeting, equal, wrong bool) string {
	at := pt{p.w / 2, p.h / 2}
	if !equal {
		p.text("td", at, amid, "can't mirror")
		return "The four corners: the borders differ in width, and the prints can't mirror at the miters"
	}
	on := map[calc.Centering]string{calc.OnMotif: "a motif", calc.OnGap: "a gap"}
	words := fmt.Sprintf("The four corners with %s in the middle of the side strips and %s in the middle of top and bottom: the prints ", on[m.Centering.Sides], on[m.Centering.TopBottom])
	if wrong {
		p.text("td", at, amid, "miss "+m.Mismatch.Shown())
		return words + "miss each other by " + m.Mismatch.Shown() + " at every miter"
	}
	p.text("t", at, amid, "meets")
	return words + "meet at every miter"
}
