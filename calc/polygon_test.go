package calc_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"cornerwise/calc"
)

// The finished pieces and the strips' outlines as polygons, from the sheet's
// figures alone, in inches, held against a general polygon library.

type xy struct{ x, y float64 }

func polygon(t rapid.TB, points ...xy) geom.Geometry {
	t.Helper()
	coords := make([]float64, 0, 2*len(points)+2)
	for _, p := range append(points, points[0]) {
		coords = append(coords, p.x, p.y)
	}
	g := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(coords, geom.DimXY))}).AsGeometry()
	if err := g.Validate(); err != nil {
		t.Fatalf("polygon %v: %v", points, err)
	}
	return g
}

// pieces are the center and, for each border, its four finished trapezoids.
// The finished center's middle lies at the origin, its top up.
func pieces(t rapid.TB, s calc.Sheet) (center geom.Geometry, borders [][]geom.Geometry) {
	t.Helper()
	inches := func(f calc.Figure) float64 { return f.Length.Float(calc.Inch) }
	seam := inches(s.Seam)
	w, h := inches(s.Center.Width)/2-seam, inches(s.Center.Length)/2-seam
	center = polygon(t, xy{-w, -h}, xy{w, -h}, xy{w, h}, xy{-w, h})

	// A strip's piece runs from near to far out of the center's edge, its ends
	// on the miters, which leave the center's corner at the strip's angle.
	trapezoid := func(half, out, near, far float64, angle calc.Degrees, turn func(along, up float64) xy) geom.Geometry {
		slope := math.Tan(float64(angle) * math.Pi / 180)
		return polygon(t,
			turn(-half-near/slope, out+near), turn(half+near/slope, out+near),
			turn(half+far/slope, out+far), turn(-half-far/slope, out+far))
	}
	near := map[calc.Edges]float64{}
	for _, strip := range s.Strips {
		if strip.Border > len(borders) {
			borders = append(borders, nil)
		}
		from := near[strip.Edges]
		to := from + inches(strip.CutWidth) - 2*seam
		near[strip.Edges] = to
		ring := &borders[strip.Border-1]
		if strip.Edges == calc.TopBottom {
			*ring = append(*ring,
				trapezoid(w, h, from, to, s.Corner.AngleTopBottom, func(a, u float64) xy { return xy{a, u} }),
				trapezoid(w, h, from, to, s.Corner.AngleTopBottom, func(a, u float64) xy { return xy{-a, -u} }))
		} else {
			*ring = append(*ring,
				trapezoid(h, w, from, to, s.Corner.AngleSides, func(a, u float64) xy { return xy{u, -a} }),
				trapezoid(h, w, from, to, s.Corner.AngleSides, func(a, u float64) xy { return xy{-u, a} }))
		}
	}
	return center, borders
}

func TestFinishedPiecesTile(t *testing.T) {
	for _, c := range []struct {
		name, plan string
		area       float64 // of all borders
		source     string
	}{
		{"60 x 80 with 4", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"4 1/2"}]}`,
			1184, "(W + 2b)(H + 2a) − WH (derived)"},
		{"60 x 80, top and bottom 4, sides 3", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"3 1/2","cutTopBottom":"4 1/2"}]}`,
			1008, "(W + 2b)(H + 2a) − WH (derived)"},
		{"60 x 80, three borders of 1, 1 1/2 and 1 1/2", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"1 1/2"},{"cut":"2"},{"cut":"2"}]}`,
			1184, "the same area as one border of 4"},
		{"two borders in proportion, 3 and 4 in all", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"2","cutTopBottom":"2 1/2"},{"cut":"2","cutTopBottom":"2 1/2"}]}`,
			1008, "the same area as one border of 3 and 4"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := sheetOf(t, c.plan)
			center, borders := pieces(t, s)
			all, total := []geom.Geometry{center}, 0.0
			inner := center
			for i, ring := range borders {
				ringArea := 0.0
				for _, piece := range ring {
					ringArea += piece.Area()
				}
				// Each border's ring closes around what it is sewn to.
				outer := inner
				for _, piece := range ring {
					outer = overlay(t, geom.Union, outer, piece)
				}
				if got := outer.Area() - inner.Area(); !near(got, ringArea, 1e-9) {
					t.Errorf("border %d: its ring adds %.12g; its four pieces have %.12g: they overlap", i+1, got, ringArea)
				}
				if box := outer.Envelope(); !near(box.Width()*box.Height(), outer.Area(), 1e-9) {
					t.Errorf("border %d: with it the top fills %.12g of its %.12g: there are gaps", i+1, outer.Area(), box.Width()*box.Height())
				}
				inner, total, all = outer, total+ringArea, append(all, ring...)
			}
			if !near(total, c.area, 1e-9) {
				t.Errorf("all borders: area %.12g; want %g (%s)", total, c.area, c.source)
			}
			box := inner.Envelope()
			if w, h := s.Finished.Width.Length.Float(calc.Inch), s.Finished.Length.Length.Float(calc.Inch); !near(box.Width(), w, 1e-9) || !near(box.Height(), h, 1e-9) {
				t.Errorf("the pieces reach %.12g x %.12g; the finished size is %.12g x %.12g", box.Width(), box.Height(), w, h)
			}
			for i, a := range all {
				for j, b := range all[:i] {
					if over := overlay(t, geom.Intersection, a, b).Area(); over > 1e-9 {
						t.Errorf("pieces %d and %d overlap by %g", j, i, over)
					}
				}
			}
		})
	}
}

func overlay(t rapid.TB, op func(a, b geom.Geometry) (geom.Geometry, error), a, b geom.Geometry) geom.Geometry {
	t.Helper()
	g, err := op(a, b)
	if err != nil {
		t.Fatalf("polygon library: %v", err)
	}
	return g
}

// Any plan's pieces add up to the bordered top, fill it, and do not overlap.
func TestAnyPlansPiecesTile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sheetOf(t, plans(3).Draw(t, "plan"))
		center, borders := pieces(t, s)
		all, sum := []geom.Geometry{center}, center.Area()
		for _, ring := range borders {
			for _, piece := range ring {
				all, sum = append(all, piece), sum+piece.Area()
			}
		}
		top := s.Finished.Width.Length.Float(calc.Inch) * s.Finished.Length.Length.Float(calc.Inch)
		if !near(sum, top, 1e-9*top) {
			t.Errorf("the pieces have %.12g; the finished top %.12g", sum, top)
		}
		covered, err := geom.UnionMany(all)
		if err != nil {
			t.Fatalf("polygon library: %v", err)
		}
		if got := covered.Area(); !near(got, top, 1e-9*top) {
			t.Errorf("the pieces cover %.12g of the finished top's %.12g: the rest is overlap or gap", got, top)
		}
		line := s.Corner.FinishedLine.Length.Float(calc.Inch)
		dx, dy := s.Bands.Sides.Finished.Length.Float(calc.Inch), s.Bands.TopBottom.Finished.Length.Float(calc.Inch)
		if !near(line, math.Hypot(dx, dy), 1e-9) {
			t.Errorf("corner.finishedLine = %.12g; from inner to outer corner it is %.12g", line, math.Hypot(dx, dy))
		}
	})
}

// outline is one strip as it must be at the least: the fabric of its border from
// raw edge to raw edge, out to a seam allowance beyond both miters. It is cut
// from a long strip by two half planes; nothing of the tool's formula is in it.
// Lengthwise it lies along x with its middle at 0, its inner raw edge down.
func outline(t rapid.TB, s calc.Sheet, border int, e calc.Edges) geom.Geometry {
	t.Helper()
	inches := func(f calc.Figure) float64 { return f.Length.Float(calc.Inch) }
	seam := inches(s.Seam)
	dot := inches(s.Center.Along(e))/2 - seam
	own, next := 0.0, 0.0
	var inner, outer float64
	for _, strip := range s.Strips {
		width := inches(strip.CutWidth) - 2*seam
		if strip.Edges != e {
			next += width
			continue
		}
		if strip.Border == border {
			inner, outer = own-seam, own+width+seam
		}
		own += width
	}
	far := 4 * (dot + own + next) * (1 + next/own)
	long := polygon(t, xy{-far, inner}, xy{far, inner}, xy{far, outer}, xy{-far, outer})

	length := math.Hypot(own, next)
	dx, dy := next/length, own/length // along the miter, outward
	for _, sign := range []float64{1, -1} {
		at := func(along, off float64) xy { // off the miter, away from the strip's middle
			return xy{sign * (dot + along*dx + off*dy), along*dy - off*dx}
		}
		half := polygon(t, at(-far, seam), at(far, seam), at(far, -4*far), at(-far, -4*far))
		long = overlay(t, geom.Intersection, long, half)
	}
	return long
}

func checkLeast(t rapid.TB, s calc.Sheet) {
	t.Helper()
	for _, strip := range s.Strips {
		shape := outline(t, s, strip.Border, strip.Edges).Envelope()
		got, want := strip.LeastLength.Length.Float(calc.Inch), shape.Width()
		if !near(got, want, 1e-9*math.Max(1, want/100)) {
			t.Errorf("border %d, %s: least length %.12g in; its outline is %.12g in long", strip.Border, strip.Edges, got, want)
		}
		if got, want := strip.CutWidth.Length.Float(calc.Inch), shape.Height(); !near(got, want, 1e-9) {
			t.Errorf("border %d, %s: cut width %.12g in; its outline is %.12g in wide", strip.Border, strip.Edges, got, want)
		}
		if cut := strip.CutLength.Length.Float(calc.Inch); cut < want-1e-9 {
			t.Errorf("border %d, %s: cut length %.12g in; its outline is %.12g in long", strip.Border, strip.Edges, cut, want)
		}
	}
}

func TestLeastLengthIsTheLengthOfTheOutline(t *testing.T) {
	for name, plan := range map[string]string{
		"equal bands":           one("36 1/2", "48 1/2", "5 1/2", "4"),
		"unequal bands":         `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","cutTopBottom":"6 1/2"}]}`,
		"inner strips":          `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"1 1/2"},{"cut":"2 1/4"},{"cut":"5 1/2"}]}`,
		"inner strips, unequal": `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"1 1/2","cutTopBottom":"1"},{"cut":"2 1/4"},{"cut":"5 1/2","cutTopBottom":"9"}]}`,
		"thin against wide":     `{"center":{"width":"30","length":"40"},"borders":[{"cut":"1","cutTopBottom":"10"}],"spare":"0"}`,
		"centimeters":           `{"unit":"cm","center":{"width":"92,7","length":"123.2"},"borders":[{"cut":"14","cutTopBottom":"16,5"}]}`,
	} {
		t.Run(name, func(t *testing.T) { checkLeast(t, sheetOf(t, plan)) })
	}
}

func TestAnyLeastLengthIsTheLengthOfItsOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkLeast(t, sheetOf(t, plans(3).Draw(t, "plan"))) })
}

// The inner raw edge of a trapezoid cut out of a strip is about its side less
// 1/4 in; exactly, side − 0.2929 (M. Rhine, American Quilter's Society; derived).
func TestInnerEdgeOfATrimmedStrip(t *testing.T) {
	shape := outline(t, sheetOf(t, one("36", "36", "4", "2")), 1, calc.Sides)
	bottom := shape.Envelope()
	low, _ := bottom.Min().XY()
	edge := polygon(t, xy{-100, low.Y}, xy{100, low.Y}, xy{100, low.Y + 1e-7}, xy{-100, low.Y + 1e-7})
	got := overlay(t, geom.Intersection, shape, edge).Envelope().Width()
	if got := fmt.Sprintf("%.4f", got); got != "35.7071" {
		t.Errorf("side 36: the inner raw edge is %s; want 35.7071", got)
	}
}
