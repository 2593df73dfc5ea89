package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// What is drawn at each corner is the meeting that was reckoned: from the dot the
// print of one strip lies as far from the print of its neighbor as the mismatch says.
func TestPrintsMeetAsReckoned(t *testing.T) {
	for _, plan := range []string{
		`{"center":{"width":"36 1/2","length":"45 1/2"},"borders":[{"cut":"5 1/2","motif":"6"}]}`, // misses all ways
		`{"center":{"width":"30 1/2","length":"46 1/2"},"borders":[{"cut":"5 1/2","motif":"8"}]}`, // meets on alike centers
		`{"center":{"width":"30 1/2","length":"38 1/2"},"borders":[{"cut":"5 1/2","motif":"8"}]}`, // meets with one pair on the gap
		`{"unit":"cm","center":{"width":"60","length":"80"},"borders":[{"cut":"12","motif":"7,5"}]}`,
	} {
		q := quiltOf(t, plan)
		motif, seam := q.Plan.Borders[0].Motif.Float(calc.Inch), q.Plan.Seam.Float(calc.Inch)
		seen := map[string]bool{}
		for _, m := range calc.Centerings(q.Plan, 1) {
			svg := q.Corners(1, m)
			at := fmt.Sprintf("%s: Corners(1, %v)", plan, m.Centering)
			if seen[svg] {
				t.Errorf("%s: the same drawing as another centering", at)
			}
			seen[svg] = true
			label, marks := read(t, svg)
			verdict, other, words := "meet", "miss", "meet at every miter"
			if m.Seen() {
				verdict, other, words = "miss", "meet", "miss each other by "+m.Mismatch.Shown()
			}
			if strings.Count(svg, `href="#`+verdict+`"`) != 4 || strings.Contains(svg, `href="#`+other+`"`) || !strings.Contains(label, words) {
				t.Errorf("%s, a mismatch of %s: want 4 marks %q and the words %q; label is %q", at, m.Mismatch.Shown(), verdict, words, label)
			}
			frames := printed(t, svg, "stripe-1") // at each corner the strip on the side, then on top or bottom
			var dots [][2]float64
			for _, k := range marks {
				for _, p := range k.places {
					if p[0] < -1 || p[0] > 401 || p[1] < -1 || p[1] > 401 {
						if k.class != "torn" {
							t.Errorf("%s: %s %q reaches %.0f, outside of 400 × 400", at, k.element, k.class, p)
						}
						break
					}
				}
				if k.class == "seam" && len(k.places) == 4 {
					dots = append(dots, k.places[1])
				}
			}
			if len(frames) != 8 || len(dots) != 4 {
				t.Fatalf("%s: %d strips at %d corners, want 8 at 4", at, len(frames), len(dots))
			}
			for i, dot := range dots {
				var along [2]float64
				for j := range along {
					x, y := inverse(frames[2*i+j], dot)
					along[j] = math.Abs(x)
					if math.Abs(y-seam) > 0.05 {
						t.Errorf("%s, corner %d: the dot is %.2f in from a strip's inner edge, want %.2f", at, i+1, y, seam)
					}
				}
				got := math.Mod(math.Abs(along[0]-along[1]), motif)
				got = min(got, motif-got)
				if want := m.Mismatch.Length.Float(calc.Inch); math.Abs(got-want) > 0.05 {
					t.Errorf("%s, corner %d: the prints are drawn %.2f in apart, want %.2f", at, i+1, got, want)
				}
			}
		}
		if len(seen) != 4 {
			t.Errorf("%s: %d centerings drawn, want 4", plan, len(seen))
		}
	}
}

// inverse is the place that a frame maps to p.
func inverse(m matrix, p [2]float64) (x, y float64) {
	det := m[0]*m[3] - m[1]*m[2]
	a, b := p[0]-m[4], p[1]-m[5]
	return (a*m[3] - b*m[2]) / det, (b*m[0] - a*m[1]) / det
}

// Bands of one width in all don't mirror where their borders differ.
func TestUnequalBordersAreSaidNotToMirror(t *testing.T) {
	for _, plan := range []string{
		plans["unequal, a motif"],
		`{"center":{"width":"30 1/2","length":"38 1/2"},"borders":[{"cut":"3 1/2","cutTopBottom":"5 1/2","motif":"8"},{"cut":"5 1/2","cutTopBottom":"3 1/2"}]}`,
	} {
		q := quiltOf(t, plan)
		pictures := []string{q.Draw(draw.Scene{Kind: draw.CornersScene, Border: 1})}
		for _, m := range calc.Centerings(q.Plan, 1) {
			pictures = append(pictures, q.Corners(1, m))
		}
		for _, svg := range pictures {
			if label, _ := read(t, svg); !strings.Contains(label, "can't mirror") || strings.Contains(svg, `href="#meet"`) {
				t.Errorf("%s: the corners' label is %q, want it to say that they can't mirror, and no corner ticked", plan, label)
			}
		}
	}
}
