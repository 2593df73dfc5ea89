package draw

import "cornerwise/calc"

// As the quilt lies right side up on the table, points are counted in inches
// from the middle of the center, y downwards.

// centerOutline is the center, raw edge to raw edge.
func (q Quilt) centerOutline() []pt {
	w, l := q.width()/2, q.length()/2
	return box{-w, -l, w, l}.corners()
}

// on is the frame of one edge: x along it from its middle, y outward from its
// seam.
func (q Quilt) on(edge string) frame {
	w, l := q.width()/2-q.seam(), q.length()/2-q.seam()
	switch edge {
	case "left":
		return frame{0, 1, -1, 0, -w, 0}
	case "right":
		return frame{0, 1, 1, 0, w, 0}
	case "bottom":
		return frame{1, 0, 0, 1, 0, l}
	}
	return frame{1, 0, 0, -1, 0, -l}
}

var edgeNames = []string{"left", "right", "top", "bottom"}

func edgesOf(edge string) calc.Edges {
	if edge == "left" || edge == "right" {
		return calc.Sides
	}
	return calc.TopBottom
}

// mitered is a band's outline between its two miters, seam allowance and all:
// extra beyond its finished outer seam.
func (q Quilt) mitered(e calc.Edges, extra float64) []pt {
	a, own, next := q.along(e), q.band(e), q.band(e.Neighbor())
	x := a + next + extra
	out := []pt{{-a, 0}, {-a - (own+extra)*next/own, own + extra}, {a + (own+extra)*next/own, own + extra}, {a, 0}}
	out = side(out, 1, 0, x)
	return side(out, -1, 0, x)
}

// bordered draws the whole top, right side up: finished, or with the outer seam
// allowance as extra.
func (q Quilt) bordered(p *pen, f frame, extra float64) box {
	w, l := q.width()/2-q.seam(), q.length()/2-q.seam()
	q.lay(p, "center", f, box{-w, -l, w, l}.corners())
	for _, edge := range edgeNames {
		q.lay(p, edge, f, q.on(edge).all(q.mitered(edgesOf(edge), extra)))
	}
	x, y := w+q.band(calc.Sides), l+q.band(calc.TopBottom)
	out := box{-x - extra, -y - extra, x + extra, y + extra}
	var miters []pt
	for _, sx := range []float64{-1, 1} {
		for _, sy := range []float64{-1, 1} {
			in, miter := pt{sx * w, sy * l}, pt{sx * x, sy * y}
			if a, b, ok := out.line(in, in.to(miter, 100)); ok { // on through the outer allowance
				miters = append(miters, f.at(a.x, a.y), f.at(b.x, b.y))
			}
		}
	}
	p.lines("seam", miters...)
	p.shape("seam", f.all(box{-w, -l, w, l}.corners())...)
	p.shape("raw", f.all(out.corners())...)
	a, b := f.at(out.left, out.top), f.at(out.right, out.bottom)
	return box{a.x, a.y, b.x, b.y}
}

// cornerPlace is where a corner of the center lies: 1 top left, then clockwise.
func cornerPlace(corner int) (x, y float64) {
	x, y = 1, 1
	if corner == 1 || corner == 4 {
		x = -1
	}
	if corner == 1 || corner == 2 {
		y = -1
	}
	return x, y
}

var cornerWords = map[int]string{1: "top left", 2: "top right", 3: "bottom right", 4: "bottom left"}
