package draw_test

import (
	"math"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// The center is drawn as it is at each act: pieced before its coping strips are on,
// with both of them after, each between its seam and its raw edge.
func TestCopingStripsAreDrawnOnceTheyAreSewn(t *testing.T) {
	for _, name := range []string{"coping on the sides", "narrow coping on top and bottom", "coping on a long thin center"} {
		q := quilts(t)[name]
		in := func(l calc.Length) float64 { return l.Float(calc.Inch) }
		for _, act := range strings.Fields("press width-top width-middle length-left diagonal-1 trim") {
			svg := q.Draw(draw.Scene{Kind: draw.CenterScene, Act: act})
			if strings.Contains(svg, `class="coping"`) {
				t.Errorf("%s: Draw(center, %s) has coping strips, which come later", name, act)
			}
			if act == "trim" { // one edge close by
				continue
			}
			_, marks := read(t, svg)
			w, h := rectangle(only(t, marks, "path", "center"))
			if got, want := w/h, in(q.Plan.Pieced.Width)/in(q.Plan.Pieced.Length); math.Abs(got/want-1) > 0.1/w+0.1/h+0.001 {
				t.Errorf("%s: Draw(center, %s) is %.1f × %.1f, want the pieced center, %.4f", name, act, w, h, want)
			}
		}
		for _, s := range []draw.Scene{{Kind: draw.CenterScene, Act: "settle"}, {Kind: draw.CopingScene, Act: "size"}} {
			_, marks := read(t, q.Draw(s))
			w, h := rectangle(only(t, marks, "path", "coping")) // beneath the whole center
			cw, ch := rectangle(only(t, marks, "path", "center"))
			k := h / in(q.Plan.Center.Length)
			wantW, wantH := w, h
			if seams := q.Plan.Seam.Times(2); q.Plan.Coping.Edges == calc.Sides {
				wantW = in(q.Plan.Pieced.Width.Sub(seams)) * k
			} else {
				wantH = in(q.Plan.Pieced.Length.Sub(seams)) * k
			}
			if math.Abs(cw-wantW) > 0.3 || math.Abs(ch-wantH) > 0.3 {
				t.Errorf("%s: Draw(%s, %s): the pieced part is %.1f × %.1f of %.1f × %.1f, want it from seam to seam, %.1f × %.1f", name, s.Kind, s.Act, cw, ch, w, h, wantW, wantH)
			}
		}
		for _, s := range []draw.Scene{{Kind: draw.PlanScene}, {Kind: draw.TopScene, Act: "widths"}, {Kind: draw.PairScene, Act: "choose", Edges: calc.Sides}, {Kind: draw.EdgeScene, Act: "press", Edge: "left"}} {
			if !strings.Contains(q.Draw(s), `class="coping"`) {
				t.Errorf("%s: Draw(%s, %s) shows no coping strips", name, s.Kind, s.Act)
			}
		}
	}
}

func TestACopingStripIsCutToItsSize(t *testing.T) {
	q := quilts(t)["coping on the sides"]
	_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CopingScene, Act: "cut"}))
	w, h := rectangle(only(t, marks, "path", "raw"))
	if got, want := max(h/w, w/h), 48.5/2.5; math.Abs(got/want-1) > 0.1/w+0.1/h+0.001 { // joined, it lies level
		t.Errorf("Draw(coping, cut): the strip is %.1f × %.1f, a ratio of %.3f, want %.3f", w, h, got, want)
	}
	label, _ := read(t, q.Draw(draw.Scene{Kind: draw.CopingScene, Act: "cut"}))
	if want := "48 1/2 in long and 2 1/2 in wide"; !strings.Contains(label, want) {
		t.Errorf("Draw(coping, cut): label is %q, want %q in it", label, want)
	}
}

// The parts of a strip are shown with the lengths that they are cut to, and as many
// joins as it takes.
func TestPartsMakeTheStrip(t *testing.T) {
	q := quiltOf(t, `{"center":{"width":"36 1/2","length":"70 1/2"},"borders":[{"cut":"2 1/2","fabric":{"runs":"crosswise"}}]}`)
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		n := parts(q, 1, edge)
		if n == 0 {
			continue
		}
		label, marks := read(t, q.Draw(draw.Scene{Kind: draw.StripScene, Act: "parts", Edge: edge, Border: 1}))
		joins := 0
		for _, m := range marks {
			if m.class == "joinline" {
				joins++
			}
		}
		if joins != n-1 {
			t.Errorf("%s: %d joins for %d parts", edge, joins, n)
		}
		for _, piece := range q.Sheet.Fabric[0].Picked().Layout {
			if piece.Edge == edge && piece.Part > 0 && !strings.Contains(label, piece.Width.Shown()) {
				t.Errorf("%s: label %q does not name a part of %s", edge, label, piece.Width.Shown())
			}
		}
	}
	if parts(q, 1, "left") < 2 {
		t.Errorf("the left strip of 87 1/2 in is in %d parts from fabric of 40 in, want 3", parts(q, 1, "left"))
	}
}
