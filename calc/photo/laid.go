package photo

import (
	"math"

	"cornerwise/calc/photo/flat"
)

// A laid sheet is one whose first edge runs along the strip: its corners clockwise from where
// the strip begins, its sides along and across. order says which of the corners asked each is.
type laid struct {
	corners       flat.Quad
	along, across float64
	order         [4]int
	against       bool // the corners were given against the clock
}

// lay turns the corners so that the first edge is the one that runs most to the right, or down.
func (a Asked) lay() laid {
	l := laid{corners: a.quad(), along: a.Sheet.Width, across: a.Sheet.Length}
	l.order = [4]int{0, 1, 2, 3}
	area := 0.0
	for i, p := range l.corners {
		q := l.corners[(i+1)%4]
		area += p.X*q.Y - q.X*p.Y
	}
	if area < 0 { // y grows downwards, so clockwise is above 0
		l.against = true
		l.order = [4]int{0, 3, 2, 1}
		l.corners = flat.Quad{l.corners[0], l.corners[3], l.corners[2], l.corners[1]}
		l.along, l.across = l.across, l.along
	}
	best, first := math.Inf(-1), 0
	for i, p := range l.corners {
		q := l.corners[(i+1)%4]
		ahead := q.X - p.X
		if a.Down {
			ahead = q.Y - p.Y
		}
		if ahead /= math.Hypot(q.X-p.X, q.Y-p.Y); ahead > best {
			best, first = ahead, i
		}
	}
	return l.from(first)
}

// from begins at another corner.
func (l laid) from(first int) laid {
	m := l
	for i := range 4 {
		m.corners[i], m.order[i] = l.corners[(i+first)%4], l.order[(i+first)%4]
	}
	if first%2 == 1 {
		m.along, m.across = l.across, l.along
	}
	return m
}

// asAsked puts corners back into the order in which they were asked.
func (l laid) asAsked(q flat.Quad) (out [4]Point) {
	for i, o := range l.order {
		out[o] = Point(q[i])
	}
	return out
}
