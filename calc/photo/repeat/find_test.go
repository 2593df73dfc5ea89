package repeat

import (
	"math"
	"testing"

	"cornerwise/calc/photo/flat"
)

// checked is fabric of checks half an inch wide, 24 by 18 in, with a sheet on its middle. At its
// corners it is drawn the share k too large, nearer the middle less by the square of the way: so a
// lens leaves it that was told wrongly.
func checked(k float64) *flat.Flat {
	const ppi, period = 18, 0.5
	f := &flat.Flat{W: 24 * ppi, H: 18 * ppi, PPI: ppi}
	f.RGB = make([]uint8, 3*f.W*f.H)
	f.Out = make([]bool, f.W*f.H)
	for y := range f.H {
		for x := range f.W {
			u, v := float64(x)/ppi-12, float64(y)/ppi-9
			f.Out[y*f.W+x] = math.Abs(u) < 5.5 && math.Abs(v) < 4.25
			m := 1 - k*(u*u+v*v)/(12*12+9*9)
			shade := math.Cos(2*math.Pi*u*m/period) + math.Cos(2*math.Pi*v*m/period)
			for i := range 3 {
				f.RGB[3*(y*f.W+x)+i] = uint8(128 + 40*shade)
			}
		}
	}
	return f
}

// Both halves of such a picture are wrong alike.
func TestALensToldWronglyLeavesNoLengthSure(t *testing.T) {
	for k, want := range map[float64]Kind{0.001: Sure, 0.02: Look, -0.02: Look} {
		found := Find(checked(k))
		for way, a := range map[string]Axis{"along": found.Along, "across": found.Across} {
			if a.Kind != want {
				t.Errorf("a lens off by %v, %s: got %s, period %.4f, want %s", k, way, a.Kind, a.Period, want)
			}
			if a.Kind == Sure && math.Abs(a.Period/0.5-1) > 0.01 {
				t.Errorf("a lens off by %v, %s: sure of %.4f, want 0.5 within 1 %%", k, way, a.Period)
			}
		}
	}
}
