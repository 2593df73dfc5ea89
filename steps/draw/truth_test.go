package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cornerwise/steps/draw"
)

// sideAt is the side of the fabric that is seen at a place: of the last piece drawn there before
// mark n, "" where none is.
func sideAt(marks []mark, n int, at [2]float64) string {
	side := ""
	for _, m := range marks[:n] {
		if m.element != "path" || !covers(m, at) {
			continue
		}
		switch c := m.class; {
		case c == "wrong" || c == "wrongcenter":
			side = "wrong"
		case c == "center" || c == "coping" || len(c) == 2 && c[0] == 'c', c == "" && m.fill != "":
			side = "right"
		case c == "torn" || c == "ghostfill" || c == "waste":
			side = ""
		}
	}
	return side
}

// covers tells whether a filled shape covers a place; what a round window clips, it does not.
func covers(m mark, at [2]float64) bool {
	if m.inLoupe && apart(at, m.loupe) > 112 {
		return false
	}
	in := false
	for _, part := range m.parts {
		for i, b := range part {
			a := part[(i+len(part)-1)%len(part)]
			if (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0]+(b[0]-a[0])*(at[1]-a[1])/(b[1]-a[1]) {
				in = !in
			}
		}
	}
	return in
}

// Thread of a seam and the chalked dots are on the wrong side: where the right side is up, they
// can't be seen. Only the stitches that steady an edge show on both.
func TestNoStitchAndNoDotLiesOnARightSide(t *testing.T) {
	for name := range tried(t) {
		for _, d := range drawings(t, name) {
			s, marks := d.Scene, d.marks
			if s.Act == "steady" {
				continue
			}
			for n, m := range marks {
				var places [][2]float64
				switch {
				case m.class == "stitch":
					for _, part := range m.parts {
						for i := 1; i < len(part); i++ {
							for _, along := range []float64{0.05, 0.3, 0.5, 0.7, 0.95} {
								places = append(places, [2]float64{part[i-1][0] + (part[i][0]-part[i-1][0])*along, part[i-1][1] + (part[i][1]-part[i-1][1])*along})
							}
						}
					}
				case m.element == "use" && m.class == "dot":
					places = m.places
				}
				for _, at := range places {
					if m.inLoupe && apart(at, m.loupe) > 112 {
						continue
					}
					seen := 0 // a place may lie on the edge of a piece: all about it must be right side up
					for _, by := range [][2]float64{{0, 0}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
						if sideAt(marks, n, [2]float64{at[0] + by[0], at[1] + by[1]}) == "right" {
							seen++
						}
					}
					if seen == 5 {
						t.Errorf("%s: Draw(%+v): a %s at %.0f lies on fabric that is right side up", name, s, m.class, at)
						break
					}
				}
			}
		}
	}
}

// Needle, foot and guide stand as the person sees them, whatever the fabric does.
func TestNeedleAndFootStandUpright(t *testing.T) {
	for name := range tried(t) {
		for _, d := range drawings(t, name) {
			s, marks := d.Scene, d.marks
			at := fmt.Sprintf("%s: Draw(%+v)", name, s)
			for n, m := range marks {
				if m.class == "needle" && (m.on[0] <= 0 || m.on[3] <= 0 || m.on[1] != 0 || m.on[2] != 0) {
					t.Errorf("%s: the needle is turned or mirrored: %v", at, m.on)
				}
				if m.class == "foot" && s.Kind != draw.CornerScene { // a miter follows its line, without a guide
					guide, needle := marks[n+1], marks[n+2]
					if guide.class != "guide" || needle.class != "needle" {
						t.Fatalf("%s: after the foot come %q and %q, want its guide and its needle", at, guide.class, needle.class)
					}
					point := needle.places[0]
					if left(guide) <= point[0] {
						t.Errorf("%s: the guide, from %.0f, is not right of the needle, %.0f", at, left(guide), point[0])
					}
					above, below := point[1]-highest(m), lowest(m)-point[1]
					if above <= 0 || below <= 0 || covers(m, [2]float64{point[0], lowest(m) - 1}) {
						t.Errorf("%s: the foot reaches %.0f above the needle and %.0f below, want its toes below, open between", at, above, below)
					}
				}
			}
		}
	}
}

// At the machine, from the front: fabric left of the needle and the guide right of it, with the
// raw edges against it.
func TestTheGuideStandsRightOfTheNeedle(t *testing.T) {
	for name, q := range tried(t) {
		_, marks := read(t, q.Draw(draw.Scene{Kind: draw.MachineScene, Act: "ready"}))
		needle, guide := only(t, marks, "use", "needle").places[0][0], left(only(t, marks, "path", "guide"))
		if guide <= needle {
			t.Errorf("%s: the guide is at %.0f, want right of the needle, %.0f", name, guide, needle)
		}
		for _, class := range []string{"c1", "c2"} {
			if fabric := only(t, marks, "path", class); math.Abs(right(fabric)-guide) > 0.1 || left(fabric) > needle-200 {
				t.Errorf("%s: fabric lies from %.0f to %.0f, want from far left to the guide, %.0f", name, left(fabric), right(fabric), guide)
			}
		}
	}
}

func left(m mark) float64    { return least(m, 0, 1) }
func right(m mark) float64   { return -least(m, 0, -1) }
func highest(m mark) float64 { return least(m, 1, 1) }
func lowest(m mark) float64  { return -least(m, 1, -1) }

func least(m mark, axis int, way float64) float64 {
	out := math.Inf(1)
	for _, p := range m.places {
		out = min(out, way*p[axis])
	}
	return out
}

// sewing are the pictures of seams on their way at the machine.
func sewing(q draw.Quilt) []draw.Scene {
	all := []draw.Scene{{Kind: draw.TestScene, Act: "sew"}}
	for _, s := range scenes(q) {
		if (s.Kind == draw.BandScene || s.Kind == draw.CopingScene) && s.Act == "sew" {
			all = append(all, s)
		}
	}
	return all
}

// A seam runs down the picture, toward the person: sewn above the needle, its start at the top,
// the raw edges at the guide right of it, no fabric beyond them.
func TestASeamRunsTowardThePerson(t *testing.T) {
	for name, q := range tried(t) {
		for _, s := range sewing(q) {
			at := fmt.Sprintf("%s: Draw(%+v)", name, s)
			_, marks := read(t, q.Draw(s))
			stitches, ghost := only(t, marks, "path", "stitch").places, only(t, marks, "path", "ghost").places
			needle, guide := only(t, marks, "use", "needle").places[0], left(only(t, marks, "path", "guide"))
			start, end := stitches[0], stitches[len(stitches)-1]
			if math.Abs(start[0]-end[0]) > 0.1 || start[1] >= end[1] || apart(end, needle) > 0.2 {
				t.Errorf("%s: stitched from %.1f to %.1f, want straight down to the needle, %.1f", at, start, end, needle)
			}
			if last := ghost[len(ghost)-1]; last[1] <= needle[1] {
				t.Errorf("%s: still to sew to %.1f, want below the needle, %.1f", at, last, needle)
			}
			onEdge := false
			for _, m := range marks {
				for _, part := range m.parts {
					for i := 1; m.class == "raw" && i < len(part); i++ {
						a, b := part[i-1], part[i]
						onEdge = onEdge || math.Abs(a[0]-guide) < 0.3 && math.Abs(b[0]-guide) < 0.3 &&
							min(a[1], b[1]) < needle[1] && max(a[1], b[1]) > needle[1]
					}
				}
			}
			if !onEdge {
				t.Errorf("%s: no raw edge at the guide, %.1f", at, guide)
			}
			for _, l := range q.LayersOf(s) {
				for _, p := range l.Outline {
					if x := l.At(p[0], p[1])[0]; l.Loupe == 0 && x > guide+0.3 {
						t.Errorf("%s: the %s reaches to %.1f, beyond the guide at %.1f", at, l.Part, x, guide)
					}
				}
			}
		}
	}
}

// Two pieces that are sewn, right sides together, lie turned over about their seam: each place of
// it is at the same place of the drawing in both, and the needle stands on it.
func TestPiecesLieTurnedOverAboutTheirSeam(t *testing.T) {
	for name, q := range tried(t) {
		for _, s := range sewing(q)[1:] {
			at := fmt.Sprintf("%s: Draw(%+v)", name, s)
			_, marks := read(t, q.Draw(s))
			needle := only(t, marks, "use", "needle").places[0]
			var up, down *draw.Layer
			for _, l := range q.LayersOf(s) {
				switch {
				case l.Loupe > 0:
				case l.Wrong():
					down = &l
				default:
					up = &l
				}
			}
			if up == nil || down == nil {
				t.Errorf("%s: one piece right side up %v, one wrong side up %v; want both", at, up != nil, down != nil)
				continue
			}
			for _, y := range []float64{needle[1] - 100, needle[1], needle[1] + 100} {
				ux, uy := inverse(matrix(up.Frame), [2]float64{needle[0], y})
				dx, dy := inverse(matrix(down.Frame), [2]float64{needle[0], y})
				if d := math.Hypot(ux-dx, uy-dy); d > 0.01 {
					t.Errorf("%s: on the seam the two are %.2f in apart", at, d)
				}
			}
		}
	}
}

// What is up in each picture of these kinds, in the order in which it is laid: r the right side,
// w the wrong side; a bar before what lies in a picture of its own.
func TestEachPieceShowsTheSideThatIsUp(t *testing.T) {
	q := quilts(t)["narrow coping on top and bottom"]
	four := quilts(t)["four borders"]
	for _, c := range []struct {
		q     draw.Quilt
		kind  string
		act   string
		about draw.Scene
		want  string
	}{
		{q, draw.CenterScene, "press", draw.Scene{}, "r"},
		{q, draw.CenterScene, "steady", draw.Scene{}, "r"},
		{q, draw.CenterScene, "width-top", draw.Scene{}, "r"},
		{q, draw.CenterScene, "diagonal-2", draw.Scene{}, "r"},
		{q, draw.CenterScene, "squared", draw.Scene{Corner: 3}, "r"},
		{q, draw.CenterScene, "trim", draw.Scene{}, "r"},
		{q, draw.CenterScene, "settle", draw.Scene{}, "r"},
		{q, draw.CenterScene, "middle", draw.Scene{Edge: "left"}, "r"},
		{q, draw.CenterScene, "dot", draw.Scene{Corner: 1}, "|rw|w"},
		{q, draw.CopingScene, "pin", draw.Scene{Edge: "top"}, "rw|rw"},
		{q, draw.CopingScene, "sew", draw.Scene{Edge: "bottom"}, "rw|rw"},
		{q, draw.CopingScene, "press", draw.Scene{Edge: "bottom"}, "rr"},
		{q, draw.CopingScene, "size", draw.Scene{}, "r"},
		{four, draw.BandScene, "pin", draw.Scene{Edge: "left", Border: 1}, "rw"},
		{four, draw.BandScene, "sew", draw.Scene{Edge: "top", Border: 1}, "rw"},
		{four, draw.BandScene, "press", draw.Scene{Edge: "top", Border: 1}, "rr"},
		{four, draw.BandScene, "pin", draw.Scene{Edge: "left", Border: 2}, "rww"},
		{four, draw.BandScene, "sew", draw.Scene{Edge: "bottom", Border: 2}, "rww"},
		{four, draw.BandScene, "sew", draw.Scene{Edge: "right", Border: 3}, "rrw"},
		{four, draw.BandScene, "check", draw.Scene{Edge: "right", Border: 3}, "r"},
		{four, draw.PairScene, "choose", draw.Scene{Edges: "sides"}, "rrr"},
		{four, draw.TopScene, "diagonals", draw.Scene{}, "rrrrr"},
		{four, draw.PlanScene, "", draw.Scene{}, "rrrrr"},
		{four, draw.CornersScene, "", draw.Scene{Border: 2}, strings.Repeat("rrr", 4)},
	} {
		s := c.about
		s.Kind, s.Act = c.kind, c.act
		got, in := "", 0
		for _, l := range c.q.LayersOf(s) {
			if l.Loupe != in {
				got, in = got+"|", l.Loupe
			}
			got += map[bool]string{true: "w", false: "r"}[l.Wrong()]
		}
		if got != c.want {
			t.Errorf("LayersOf(%+v): the sides that are up are %q, want %q", s, got, c.want)
		}
	}
}

// The hand at a cut: the ruler on what is kept, the blade along its right edge and away from the
// person, what comes off at the right; for a left hand, at the left.
func TestTheCenterIsTrimmedByTheRuler(t *testing.T) {
	for name, q := range tried(t) {
		_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CenterScene, Act: "trim"}))
		cut, chalk := only(t, marks, "path", "cutline").places, only(t, marks, "path", "chalk").places
		ruler, waste, blade := only(t, marks, "path", "ruler"), only(t, marks, "path", "ghostfill"), only(t, marks, "use", "blade")
		x := cut[0][0]
		if cut[1][0] != x || cut[1][1] >= cut[0][1] {
			t.Errorf("%s: cut from %.0f to %.0f, want straight up", name, cut[0], cut[1])
		}
		edge, near, beyond := right(ruler), left(waste)-x, right(waste)-x
		if q.LeftHand {
			edge, near, beyond = left(ruler), x-right(waste), x-left(waste)
		}
		if chalk[0][0] != x || edge != x || math.Abs(blade.places[0][0]-x) > 0.1 {
			t.Errorf("%s: cut at %.1f, chalk at %.1f, the ruler's edge at %.1f, the blade at %.1f; want all in one line", name, x, chalk[0][0], edge, blade.places[0][0])
		}
		if near < 0 || beyond <= 0 {
			t.Errorf("%s: what comes off lies from %.1f to %.1f, want beside the cut at %.1f, at the hand", name, left(waste), right(waste), x)
		}
	}
}

// The dot's corner is where it lies once the center is turned over like a page: top stays top,
// left comes right.
func TestTheInsetTurnsTheCenterLikeAPage(t *testing.T) {
	q := quilts(t)["one striped border"]
	for corner := 1; corner <= 4; corner++ {
		layers := q.LayersOf(draw.Scene{Kind: draw.CenterScene, Act: "dot", Corner: corner})
		before, after, close := layers[0], layers[1], layers[2]
		x, y := q.Plan.Center.Width.Float("in")/2, q.Plan.Center.Length.Float("in")/2
		if corner == 1 || corner == 4 {
			x = -x
		}
		if corner <= 2 {
			y = -y
		}
		axis := (before.At(0, 0)[0] + after.At(0, 0)[0]) / 2
		a, b := before.At(x, y), after.At(x, y)
		if math.Abs(a[1]-b[1]) > 0.1 || math.Abs(a[0]+b[0]-2*axis) > 0.1 {
			t.Errorf("corner %d is at %.0f before the turn and at %.0f after, want it mirrored in the axis at %.0f", corner, a, b, axis)
		}
		// Close by, the fabric lies on the same side of its corner as in the turned center.
		mid, c, m := after.At(0, 0), close.At(x, y), close.At(0, 0)
		if (mid[0]-b[0])*(m[0]-c[0]) <= 0 || (mid[1]-b[1])*(m[1]-c[1]) <= 0 {
			t.Errorf("corner %d: the round window shows another corner than the turned center", corner)
		}
	}
}
