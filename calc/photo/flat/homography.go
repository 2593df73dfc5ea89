package flat

import (
	"errors"
	"math"
)

// A Homography maps one plane to another, row by row; the last is 1.
type Homography [9]float64

var errQuad = errors.New("the four corners do not span a quadrilateral")

// FromQuads is the homography that takes from's corners to to's: the 8 equations
// of Heckbert (1989), solved by elimination with pivots.
func FromQuads(from, to Quad) (Homography, error) {
	var a [8][9]float64
	for i, p := range from {
		q := to[i]
		a[2*i] = [9]float64{p.X, p.Y, 1, 0, 0, 0, -p.X * q.X, -p.Y * q.X, q.X}
		a[2*i+1] = [9]float64{0, 0, 0, p.X, p.Y, 1, -p.X * q.Y, -p.Y * q.Y, q.Y}
	}
	for c := range 8 {
		best := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		a[c], a[best] = a[best], a[c]
		if math.Abs(a[c][c]) < 1e-12 {
			return Homography{}, errQuad
		}
		for r := range 8 {
			if r == c {
				continue
			}
			f := a[r][c] / a[c][c]
			for k := c; k < 9; k++ {
				a[r][k] -= f * a[c][k]
			}
		}
	}
	h := Homography{8: 1}
	for i := range 8 {
		h[i] = a[i][8] / a[i][i]
	}
	return h, nil
}

// At is where p goes. Behind the horizon ok is false.
func (h Homography) At(p Pt) (q Pt, ok bool) {
	w := h[6]*p.X + h[7]*p.Y + h[8]
	if w < 1e-6 {
		return Pt{}, false
	}
	return Pt{(h[0]*p.X + h[1]*p.Y + h[2]) / w, (h[3]*p.X + h[4]*p.Y + h[5]) / w}, true
}

// Scale is how many pixels an inch is at p, along and across, by small steps.
func (h Homography) Scale(p Pt) (along, across float64) {
	const e = 0.01
	o, _ := h.At(p)
	a, _ := h.At(Pt{p.X + e, p.Y})
	b, _ := h.At(Pt{p.X, p.Y + e})
	return math.Hypot(a.X-o.X, a.Y-o.Y) / e, math.Hypot(b.X-o.X, b.Y-o.Y) / e
}

// Inverse goes the other way.
func (h Homography) Inverse() Homography {
	a, b, c, d, e, f, g, i, j := h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8]
	n := a*e - b*d
	return Homography{
		(e*j - f*i) / n, (c*i - b*j) / n, (b*f - c*e) / n,
		(f*g - d*j) / n, (a*j - c*g) / n, (c*d - a*f) / n,
		(d*i - e*g) / n, (b*g - a*i) / n, 1,
	}
}
