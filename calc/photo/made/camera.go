package made

import (
	"math"

	"cornerwise/calc/photo/flat"
)

// A camera is a pinhole above the fabric with a lens that bends.
type camera struct {
	shot  Shot
	see   flat.Homography // the sheet's inches to pixels of a lens that bends nothing
	back  flat.Homography
	turn  float64 // radians from the sheet's sides to the fabric's
	shift flat.Pt // the fabric's place under the sheet's middle
}

func newCamera(s Shot, shift flat.Pt) camera {
	c := camera{shot: s, turn: s.SheetTurn * math.Pi / 180, shift: shift}
	long := float64(max(s.W, s.H))
	f := s.Focus * long
	dist := s.Wide * s.Focus
	rx, ry, rz := s.TiltX*math.Pi/180, s.TiltY*math.Pi/180, (s.Roll-s.SheetTurn)*math.Pi/180
	var q flat.Quad
	for i, p := range flat.Sheet(s.SheetW, s.SheetH) {
		x, y := p.X-s.SheetW/2, p.Y-s.SheetH/2
		x, y = x*math.Cos(rz)-y*math.Sin(rz), x*math.Sin(rz)+y*math.Cos(rz)
		x, y = x+s.OffX, y+s.OffY
		y, z := y*math.Cos(rx), y*math.Sin(rx)
		x, z = x*math.Cos(ry)+z*math.Sin(ry), -x*math.Sin(ry)+z*math.Cos(ry)
		q[i] = flat.Pt{X: f*x/(z+dist) + float64(s.W)/2, Y: f*y/(z+dist) + float64(s.H)/2}
	}
	var err error
	if c.see, err = flat.FromQuads(flat.Sheet(s.SheetW, s.SheetH), q); err != nil {
		panic(err)
	}
	if c.back, err = flat.FromQuads(q, flat.Sheet(s.SheetW, s.SheetH)); err != nil {
		panic(err)
	}
	return c
}

// at is the pixel where the sheet's inches are seen.
func (c camera) at(p flat.Pt) flat.Pt {
	q, _ := c.see.At(p)
	return c.bent(q, 1)
}

// under is the sheet's inches seen at a pixel.
func (c camera) under(x, y float64) (flat.Pt, bool) {
	p := flat.Pt{X: x, Y: y}
	q := p
	for range 4 {
		b := c.bent(q, 1)
		q.X, q.Y = q.X+p.X-b.X, q.Y+p.Y-b.Y
	}
	return c.back.At(q)
}

func (c camera) bent(p flat.Pt, k float64) flat.Pt {
	w, h := float64(c.shot.W), float64(c.shot.H)
	x, y := p.X-w/2, p.Y-h/2
	m := 1 - k*c.shot.Barrel*4*(x*x+y*y)/(w*w+h*h)
	return flat.Pt{X: x*m + w/2, Y: y*m + h/2}
}

// fabric is the print's place under the sheet's inch p.
func (c camera) fabric(p flat.Pt) (u, v float64) {
	x, y := p.X-c.shot.SheetW/2, p.Y-c.shot.SheetH/2
	cos, sin := math.Cos(c.turn), math.Sin(c.turn)
	u, v = cos*x+sin*y+c.shift.X, -sin*x+cos*y+c.shift.Y
	return u + math.Tan(c.shot.Skew*math.Pi/180)*(v-c.shift.Y), v
}
