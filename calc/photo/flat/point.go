package flat

import "math"

// A Pt is a place in a picture (pixels, centers of pixels at whole numbers) or on
// the fabric (inches from the sheet's first corner).
type Pt struct{ X, Y float64 }

// A Quad is four corners, clockwise as seen.
type Quad [4]Pt

// Sheet is the quad of a sheet w by h with its first corner at the origin.
func Sheet(w, h float64) Quad { return Quad{{0, 0}, {w, 0}, {w, h}, {0, h}} }

// Convex tells whether the corners go round one way, none of them flat.
func (q Quad) Convex() bool {
	sign := 0.0
	for i := range 4 {
		a, b, c := q[i], q[(i+1)%4], q[(i+2)%4]
		cross := (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X)
		limit := 0.05 * math.Hypot(b.X-a.X, b.Y-a.Y) * math.Hypot(c.X-b.X, c.Y-b.Y)
		if math.Abs(cross) <= limit || sign*cross < 0 {
			return false
		}
		sign = cross
	}
	return true
}
