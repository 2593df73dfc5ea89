package draw_test

import (
	"fmt"
	"math"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// place is the place of the quilt that a layer has at a point of the drawing.
func place(l draw.Layer, p [2]float64) (x, y float64) {
	f := l.Frame
	det := f[0]*f[3] - f[1]*f[2]
	dx, dy := p[0]-f[4], p[1]-f[5]
	return (f[3]*dx - f[2]*dy) / det, (f[0]*dy - f[1]*dx) / det
}

// The pictures of a join are of one and the same: opened, its seam lies at a place of the
// strip; crossed, or end on end, both parts have that place on the stitches, one part right
// side up, the other turned over the seam; trimmed, each keeps all to a seam allowance beyond
// it; seen from behind, the whole is turned over like a page, so that the seam leans the other way.
func TestAJoinIsOneInAllItsPictures(t *testing.T) {
	seen := 0
	for name, q := range tried(t) {
		for i, b := range q.Plan.Borders {
			for edge := range outward {
				if parts(q, i+1, edge) == 0 {
					continue
				}
				seen++
				scene := func(act string) (string, []mark, []draw.Layer) {
					s := draw.Scene{Kind: draw.StripScene, Act: act, Edge: edge, Border: i + 1}
					_, marks := read(t, q.Draw(s))
					return fmt.Sprintf("%s: border %d, %s, %s", name, i+1, edge, act), marks, q.LayersOf(s)
				}
				at, marks, layers := scene("joined")
				seam := only(t, marks, "path", "seam").places
				if len(layers) != 1 || layers[0].Wrong() {
					t.Fatalf("%s: %d layers, want the strip, right side up", at, len(layers))
				}
				opened := layers[0]
				lean := seam[1][0] - seam[0][0]
				if (lean > 1) != (b.Fabric.Join == "diagonal") {
					t.Errorf("%s: the seam leans by %.1f, join %s", at, lean, b.Fabric.Join)
				}
				ax, ay := place(opened, seam[0])
				bx, by := place(opened, seam[1])
				// beyond is how far right of the seam a place lies, as the opened strip has it.
				beyond := func(x, y float64) float64 {
					p := opened.At(x, y)
					dx, dy := seam[1][0]-seam[0][0], seam[1][1]-seam[0][1]
					k := math.Hypot(opened.Frame[0], opened.Frame[1])
					return ((p[0]-seam[0][0])*dy - (p[1]-seam[0][1])*dx) / math.Hypot(dx, dy) / k
				}

				acts := []string{"join"}
				if b.Fabric.Join == "diagonal" {
					acts = []string{"join-line", "join", "join-trim"}
				}
				for _, act := range acts {
					at, marks, layers := scene(act)
					under, over := layers[0], layers[1]
					if under.Wrong() || !over.Wrong() {
						t.Errorf("%s: the lower part wrong side up %v, the upper one %v, want right sides together", at, under.Wrong(), over.Wrong())
					}
					class := "stitch"
					if act == "join-line" {
						class = "chalkline"
					}
					line := only(t, marks, "path", class).places
					if apart(under.At(ax, ay), over.At(ax, ay)) > 0.4 || apart(under.At(bx, by), over.At(bx, by)) > 0.4 {
						t.Errorf("%s: the two parts do not have the seam in one place", at)
					}
					for _, l := range []draw.Layer{under, over} {
						for _, p := range [][2]float64{l.At(ax, ay), l.At(bx, by)} {
							if off := offLine(p, line[0], line[1]); off > 0.4 {
								t.Errorf("%s: the seam's place is drawn %.1f off the line of it", at, off)
							}
						}
					}
					if act != "join-trim" {
						continue
					}
					most := q.Plan.Seam.Float(calc.Inch)
					for n, l := range []draw.Layer{under, over} {
						reach := 0.0
						for _, p := range l.Outline {
							off := beyond(p[0], p[1])
							if n == 1 {
								off = -off
							}
							reach = max(reach, off)
						}
						if math.Abs(reach-most) > 0.01 {
							t.Errorf("%s: a part reaches %.3f in beyond the seam, want a seam allowance, %.3f", at, reach, most)
						}
					}
				}

				at, marks, layers = scene("join-press")
				stitch := only(t, marks, "path", "seam").places
				whole := layers[0]
				if !whole.Wrong() {
					t.Errorf("%s: the strip lies right side up", at)
				}
				p, o := whole.At(ax, ay), whole.At(bx, by)
				if apart(p, stitch[0]) > 0.4 || apart(o, stitch[1]) > 0.4 || math.Abs((o[0]-p[0])+lean) > 0.4 {
					t.Errorf("%s: the seam runs from %.0f to %.0f, drawn from %.0f to %.0f, want it mirrored", at, p, o, stitch[0], stitch[1])
				}
				for _, l := range layers[1:] { // the allowances, folded back
					if l.Wrong() {
						t.Errorf("%s: an allowance that is pressed open shows its wrong side", at)
					}
				}
				if len(layers) != 3 {
					t.Errorf("%s: %d layers, want the strip and two allowances", at, len(layers))
				}
			}
		}
	}
	if seen < 8 {
		t.Errorf("%d joined strips, want some of each kind", seen)
	}
}

// offLine is how far a point lies from the line through two.
func offLine(p, a, b [2]float64) float64 {
	return math.Abs((b[0]-a[0])*(p[1]-a[1])-(b[1]-a[1])*(p[0]-a[0])) / apart(a, b)
}
