package flat

import (
	"math"
	"testing"
)

func TestAHomographyGoesThereAndBack(t *testing.T) {
	sheet := Sheet(8.5, 11)
	seen := Quad{{310, 205}, {1410, 260}, {1330, 1630}, {250, 1480}}
	h, err := FromQuads(sheet, seen)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range sheet {
		if q, ok := h.At(p); !ok || math.Hypot(q.X-seen[i].X, q.Y-seen[i].Y) > 1e-6 {
			t.Errorf("corner %d goes to %v, want %v", i, q, seen[i])
		}
	}
	p := Pt{12.5, -3}
	q, _ := h.At(p)
	if back, ok := h.Inverse().At(q); !ok || math.Hypot(back.X-p.X, back.Y-p.Y) > 1e-9 {
		t.Errorf("%v comes back as %v", p, back)
	}
}

func TestCornersInALineAreNoSheet(t *testing.T) {
	for _, q := range []Quad{
		{{0, 0}, {1, 0}, {2, 0}, {3, 0}}, {{0, 0}, {9, 9}, {9, 0}, {0, 9}}, {},
	} {
		if q.Convex() {
			t.Errorf("%v passes for four corners", q)
		}
	}
}

func TestALensIsUndoneToATwentiethOfAPixel(t *testing.T) {
	for _, k := range []float64{-0.05, 0, 0.05} {
		p := Pt{2300, 90}
		if q := bend(unbend(p, k, 2400, 1800), k, 2400, 1800); math.Hypot(q.X-p.X, q.Y-p.Y) > 0.05 {
			t.Errorf("lens %v: %v comes back as %v", k, p, q)
		}
	}
}

func TestAPlaceOfThePrintGoesThereAndBack(t *testing.T) {
	a := Axes{U: 0.05, V: 0.03}
	along, across := a.Back(a.Step(3, 2))
	if math.Abs(along-3) > 1e-9 || math.Abs(across-2) > 1e-9 {
		t.Errorf("3 along and 2 across come back as %v and %v", along, across)
	}
}
