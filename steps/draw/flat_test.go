package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cornerwise/steps/draw"
)

// outward are the ways from the center of the quilt, y down.
var outward = map[string][2]float64{"left": {-1, 0}, "right": {1, 0}, "top": {0, -1}, "bottom": {0, 1}}

// ways are where a layer has what is outward of a strip on its edge, and what is clockwise
// along the quilt's edge: each as its way in the drawing, of length 1.
func ways(l draw.Layer) (out, along [2]float64) {
	d := outward[l.Part]
	way := func(x, y float64) [2]float64 {
		a, b := l.At(0, 0), l.At(x, y)
		k := math.Hypot(b[0]-a[0], b[1]-a[1])
		return [2]float64{math.Round((b[0] - a[0]) / k), math.Round((b[1] - a[1]) / k)}
	}
	return way(d[0], d[1]), way(-d[1], d[0])
}

// As the cutting page has it, a strip lies right side up with its inner edge left, or at the
// top where it is cut across the fabric; for its inner edge to be marked it is turned over
// like a page: wrong side up, the inner edge right, or still at the top and its ends changed.
// One end is turned back and shows the right side.
func TestAStripLiesAsOnItsFabric(t *testing.T) {
	for name, q := range tried(t) {
		for i := range q.Plan.Borders {
			w := q.Sheet.Fabric[i].Ways // none of these plans has a fabric for two borders
			if w.Pick == "" {
				continue
			}
			up := w.Pick == "lengthwise"
			inner := map[bool][2]float64{true: {1, 0}, false: {0, 1}} // what is outward lies right, or below
			for edge := range outward {
				at := func(act string) string { return fmt.Sprintf("%s: border %d, %s, %s", name, i+1, edge, act) }
				layers := func(act string) []draw.Layer {
					return q.LayersOf(draw.Scene{Kind: draw.StripScene, Act: act, Edge: edge, Border: i + 1})
				}
				var flat [2]float64
				acts := []string{"measure", "place", "print-middle", "checked", "cut", "end"}
				for _, act := range acts {
					upright := up
					switch {
					case act == "end", act == "cut" && parts(q, i+1, edge) > 0:
						upright = false // it is cut across
					case act == "cut":
						upright = true // the fabric is turned
					}
					all := layers(act)
					if len(all) == 0 {
						t.Fatalf("%s: no layer of fabric", at(act))
					}
					for _, l := range all {
						out, along := ways(l)
						want := inner[upright]
						if q.LeftHand && (act == "cut" || act == "end") { // turned by a half
							want = [2]float64{-want[0] + 0, -want[1] + 0}
						}
						if l.Wrong() || l.Part != edge || out != want {
							t.Errorf("%s: the strip on %s lies wrong side up %v, outward to %v, want right side up, to %v", at(act), l.Part, l.Wrong(), out, want)
						}
						if act == "measure" {
							flat = along
						}
					}
				}
				all := layers("inner")
				if len(all) != 3 {
					t.Fatalf("%s: %d layers, want the strip in little, close by, and its corner", at("inner"), len(all))
				}
				want := map[bool][2]float64{true: {-1, 0}, false: {0, 1}}[up]
				turned := flat
				if !up {
					turned[0] = -turned[0]
				}
				for n, l := range all {
					if n == 2 {
						if l.Wrong() {
							t.Errorf("%s: the corner that is turned back shows the wrong side", at("inner"))
						}
						continue
					}
					if out, along := ways(l); !l.Wrong() || out != want || along != turned {
						t.Errorf("%s: wrong side up %v, outward to %v and along to %v, want turned like a page: %v and %v", at("inner"), l.Wrong(), out, along, want, turned)
					}
				}
			}
		}
	}
}

// The marks for the seam are made where the strip lies on the quilt, right side up.
func TestABandIsMarkedAtItsPlace(t *testing.T) {
	for name, q := range tried(t) {
		for edge, d := range outward {
			for _, act := range []string{"middle", "middle-found", "ends"} {
				for _, l := range q.LayersOf(draw.Scene{Kind: draw.StripScene, Act: act, Edge: edge}) {
					if out, _ := ways(l); l.Wrong() || out != d {
						t.Errorf("%s: %s, %s: wrong side up %v, outward to %v, want right side up, to %v", name, edge, act, l.Wrong(), out, d)
					}
				}
			}
		}
	}
}

// The coping strips are of one fabric from the bolt to the seam.
func TestTheCopingFabricIsTheSameInAllPictures(t *testing.T) {
	q := quilts(t)["coping on the sides"]
	for _, s := range []draw.Scene{{Act: "ready"}, {Act: "square"}, {Act: "measure"}, {Act: "cut"}, {Act: "parts", Edge: "left"},
		{Act: "parts-cut", Edge: "left"}, {Act: "join", Edge: "left"}, {Act: "join-press", Edge: "left"}} {
		s.Kind = draw.CopingScene
		if svg := q.Draw(s); !strings.Contains(svg, `class="coping"`) || strings.Contains(svg, `class="c1"`) {
			t.Errorf("Draw(%+v): drawn in the fabric of a border", s)
		}
	}
	if svg := q.CopingPage().SVG; !strings.Contains(svg, `class="coping"`) || strings.Contains(svg, `class="c1"`) {
		t.Errorf("CopingPage: drawn in the fabric of a border")
	}
}
