package flat

import (
	"math"

	"cornerwise/calc/photo/picture"
)

// A View is how a photo sees the fabric: through a homography and a lens.
type View struct {
	H     Homography // inches to the pixels of a lens that bends nothing
	K     float64    // the lens: at the corner of the frame a place lies this share nearer the middle
	Share float64    // the least part of a sheet's edge that lay on its line; 0: as touched
	// Corners are the sheet's in the photo: moved onto the edges, or as touched.
	Corners Quad

	w, h float64
}

// At is where inches are seen.
func (v View) At(p Pt) (Pt, bool) {
	q, ok := v.H.At(p)
	if ok && v.K != 0 { // far outside the frame the lens' curve turns back
		x, y := q.X-v.w/2, q.Y-v.h/2
		ok = 4*(x*x+y*y) < 1.5*(v.w*v.w+v.h*v.h)
	}
	return bend(q, v.K, v.w, v.h), ok
}

// Back is the inches seen at a place of the photo.
func (v View) Back(p Pt) (Pt, bool) {
	if v.K != 0 {
		p = unbend(p, v.K, v.w, v.h)
	}
	return v.H.Inverse().At(p)
}

// Look makes a view from the touched corners of a plain sheet w by h inches. Corners go to where
// the lines through its edges cross, and the lens is the one that makes them straight. reach is
// how far off a touch may be, in pixels. Where the edges are not seen the view is as touched, its
// Share 0.
func Look(photo *picture.Raster, touched Quad, w, h, reach float64) (View, error) {
	v := View{w: float64(photo.W), h: float64(photo.H)}
	q := touched
	for _, r := range []float64{reach, max(6, reach/3), 6} {
		edges, share := findEdges(photo, q, r)
		if share < leastShare {
			v.Share, v.K, q = 0, 0, touched
			break
		}
		k := straightest(edges, v.w, v.h)
		next, ok := corners(edges, k, v)
		for i := range q {
			ok = ok && math.Hypot(next[i].X-q[i].X, next[i].Y-q[i].Y) < 2.5*r
		}
		if !ok {
			v.Share, v.K, q = 0, 0, touched
			break
		}
		q, v.Share, v.K = next, share, k
	}
	v.Corners = q
	return v.Of(w, h)
}

// Of is the view of a sheet w by h inches at the same corners.
func (v View) Of(w, h float64) (View, error) {
	straight := v.Corners
	for i, p := range v.Corners {
		straight[i] = unbend(p, v.K, v.w, v.h)
	}
	if !straight.Convex() {
		return v, errQuad
	}
	var err error
	v.H, err = FromQuads(Sheet(w, h), straight)
	return v, err
}

// Clear tells whether the edges were seen so well that the scale can be built on: most of each
// lies on its line, and the lens bends no more than those of phones do. Lines of a print beside
// the sheet may be taken for its edge.
func (v View) Clear() bool { return v.Share >= clearShare && math.Abs(v.K) <= clearLens }

const (
	clearShare = 0.75
	clearLens  = 0.045
)

// leastShare is how much of each edge must lie on its line for the edges to be found.
const leastShare = 0.5

// corners are where neighboring edges cross, as the lens shows them.
func corners(edges [4]edge, k float64, v View) (q Quad, ok bool) {
	for i := range 4 {
		c, crossed := cross(edges[(i+3)%4].line(k, v), edges[i].line(k, v))
		if !crossed {
			return q, false
		}
		q[i] = bend(c, k, v.w, v.h)
	}
	return q, true
}

// straightest is the lens that leaves the least bow in the four edges.
func straightest(edges [4]edge, w, h float64) float64 {
	bow := func(k float64) (sum float64) {
		for _, e := range edges {
			c := e.bow(k, w, h)
			sum += c * c
		}
		return sum
	}
	best, arg := math.Inf(1), 0.0
	for k := -0.06; k <= 0.0601; k += 0.002 {
		if b := bow(k) + 0.1*sq2(k/0.06); b < best { // a lens that bends less is likelier
			best, arg = b, k
		}
	}
	return arg
}
