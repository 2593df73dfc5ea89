package photo

import (
	"errors"
	"math"

	"cornerwise/calc/photo/flat"
)

// A Point is a place in the photo, in its pixels; the middle of the first is 0, 0.
type Point struct{ X, Y float64 }

// A Sheet is the size of what lies on the fabric, in inches; Width along the first edge of the
// corners, from the first to the second.
type Sheet struct{ Width, Length float64 }

// Letter and A4 are printer paper, upright.
var (
	Letter = Sheet{8.5, 11}
	A4     = Sheet{210 / 25.4, 297 / 25.4}
)

// Asked is what a photo is looked at with.
type Asked struct {
	Sheet   Sheet
	Corners [4]Point // of the sheet, clockwise from the top left
	// Either: which way the sheet lies is not known, and is told from its shape in the picture.
	Either bool
	// Down: the strip will run down the picture, else to the right. The picture is then turned
	// a quarter turn to the left: its top comes to the left, its right side to the top.
	Down bool
}

// ErrCorners is in every error about the sheet's corners and size.
var ErrCorners = errors.New("corners")

// A cornerFault is a sentence for a person.
type cornerFault string

func (f cornerFault) Error() string        { return string(f) }
func (f cornerFault) Is(target error) bool { return target == ErrCorners }

// Limits of what can be asked.
const (
	leastSheet   = 1.0  // inches of a side
	mostSheet    = 60.0 // inches of a side
	leastInPhoto = 80.0 // pixels of a side
)

// check tells what is wrong with the corners, nil where nothing is.
func (a Asked) check(w, h int) error {
	for _, side := range []float64{a.Sheet.Width, a.Sheet.Length} {
		if !(side >= leastSheet && side <= mostSheet) {
			return cornerFault("Each side of the sheet must be 1 to 60 in (2.5 to 152 cm) long. " +
				"Enter its size again.")
		}
	}
	for _, p := range a.Corners {
		if !(p.X >= -0.5 && p.Y >= -0.5 && p.X <= float64(w)-0.5 && p.Y <= float64(h)-0.5) {
			return cornerFault("A corner of the sheet lies outside of the picture. All four must " +
				"be seen: touch them again, or take the photograph from farther away.")
		}
	}
	q := a.quad()
	if crosses(q[0], q[1], q[2], q[3]) || crosses(q[1], q[2], q[3], q[0]) {
		return cornerFault("The sheet's outline crosses itself. Touch its corners one after the " +
			"other, clockwise from the top left.")
	}
	for i := range q {
		if math.Hypot(q[i].X-q[(i+1)%4].X, q[i].Y-q[(i+1)%4].Y) < leastInPhoto {
			return cornerFault("The sheet is too small in the picture: each of its sides must be " +
				"at least 80 pixels long. Touch its corners again, or take the photograph from nearer.")
		}
	}
	if !q.Convex() {
		return cornerFault("The four corners are not those of a sheet: three of them lie in a " +
			"line, or one lies inside. Touch the four corners again.")
	}
	return nil
}

func (a Asked) quad() (q flat.Quad) {
	for i, p := range a.Corners {
		q[i] = flat.Pt(p)
	}
	return q
}

// crosses tells whether the lines a b and c d cross between their ends.
func crosses(a, b, c, d flat.Pt) bool {
	side := func(p, q, r flat.Pt) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
