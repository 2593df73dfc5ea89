package flat

import "math"

// Shape is how long the sheet is to its width, told from its four corners alone: the picture of a
// rectangle by a camera that looks at the middle of its frame (Zhang and He 2007). The camera's
// focal length is the one for which the sides seen come out square to each other, and is likely
// near that of a phone.
func (v View) Shape() float64 {
	var q Quad
	for i, p := range v.Corners {
		q[i] = unbend(p, v.K, v.w, v.h)
		q[i].X, q[i].Y = q[i].X-v.w/2, q[i].Y-v.h/2
	}
	h, err := FromQuads(Sheet(1, 1), q)
	if err != nil {
		return 0
	}
	best, shape := math.Inf(1), 0.0
	long := max(v.w, v.h)
	for f := 0.45; f < 2.2; f *= 1.03 {
		a := [3]float64{h[0] / (f * long), h[3] / (f * long), h[6]}
		b := [3]float64{h[1] / (f * long), h[4] / (f * long), h[7]}
		la, lb := length3(a), length3(b)
		cos := (a[0]*b[0] + a[1]*b[1] + a[2]*b[2]) / (la * lb)
		off := sq2(cos/squareWithin) + sq2(math.Log(f/likelyFocus)/focusWithin)
		if off < best {
			best, shape = off, lb/la
		}
	}
	return shape
}

const (
	squareWithin = 0.004 // by how much the corners let the cosine be off
	likelyFocus  = 0.8   // to the longer side of the frame: 29 mm of a 36 mm film
	focusWithin  = 0.3   // natural logarithm
)

func length3(a [3]float64) float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }
