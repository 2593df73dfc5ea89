package draw_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// The strips at each corner, as a striped paper shows them: the one that is folded over, and
// the one beneath. So the allowance of the miter lies right of the needle.
var strips = map[int][2]string{1: {"left", "top"}, 2: {"top", "right"}, 3: {"right", "bottom"}, 4: {"bottom", "left"}}

// The two corners of each edge in the order in which it is sewn, center wrong side up: so its
// allowance lies right of the needle.
var sewn = map[string][2]int{"left": {1, 4}, "bottom": {4, 3}, "right": {3, 2}, "top": {2, 1}}

// dotAt is where the dot of a corner lies on the quilt.
func dotAt(q draw.Quilt, corner int) (x, y float64) {
	s := q.Plan.Seam.Float(calc.Inch)
	x, y = q.Plan.Center.Width.Float(calc.Inch)/2-s, q.Plan.Center.Length.Float(calc.Inch)/2-s
	if corner == 1 || corner == 4 {
		x = -x
	}
	if corner == 1 || corner == 2 {
		y = -y
	}
	return x, y
}

// sidesOf are the parts of a scene with the side that is up, each once.
func sidesOf(layers []draw.Layer) string {
	var all []string
	for _, l := range layers {
		side := l.Part + " right"
		if l.Wrong() {
			side = l.Part + " wrong"
		}
		if !strings.Contains(", "+strings.Join(all, ", ")+", ", ", "+side+", ") {
			all = append(all, side)
		}
	}
	return strings.Join(all, ", ")
}

func TestStripsAndCenterShowTheSideThatIsUp(t *testing.T) {
	for name, q := range tried(t) {
		for corner, pair := range strips {
			over, under := pair[0], pair[1]
			folded := fmt.Sprintf("center right, %s right, center wrong, %s wrong", under, over)
			acts := map[string]string{"line": folded, "pin": folded, "sew": folded, "trim": folded}
			if q.Sheet.Corner.Equal() {
				acts["turn"] = folded
			} else {
				acts["line-sides"] = "center wrong"
				acts["line-topBottom"] = "center wrong"
			}
			for act, want := range acts {
				got := sidesOf(q.LayersOf(draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}))
				if strings.HasPrefix(act, "line-") {
					if !strings.Contains(got, over+" wrong") || !strings.Contains(got, under+" wrong") || !strings.Contains(got, "center wrong") {
						t.Errorf("%s, corner %d, %s: the pieces are %q, want both strips and the center wrong side up", name, corner, act, got)
					}
					continue
				}
				if got != want {
					t.Errorf("%s, corner %d, %s: the pieces are %q, want %q", name, corner, act, got, want)
				}
			}
			// Opened, the tails lie as they were sewn, beneath the strip that was turned back; trimmed,
			// the allowances are folded back beneath both.
			for act, want := range map[string]string{
				"look":   fmt.Sprintf("center right, %s right, %s wrong, %s right", under, over, over),
				"front":  fmt.Sprintf("%s wrong, %s wrong, center right, %s right, %s right", over, under, under, over),
				"square": fmt.Sprintf("%s wrong, %s wrong, center right, %s right, %s right", over, under, under, over),
			} {
				got := sidesOf(q.LayersOf(draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}))
				if act != "look" { // the center may lie out of sight
					got, want = strings.Replace(got, "center right, ", "", 1), strings.Replace(want, "center right, ", "", 1)
				}
				if got != want {
					t.Errorf("%s, corner %d, %s: the pieces are %q, want %q", name, corner, act, got, want)
				}
			}
		}
		for edge := range sewn {
			for _, second := range []bool{false, true} {
				for _, act := range []string{"sew", "check"} {
					for _, l := range q.LayersOf(draw.Scene{Kind: draw.EdgeScene, Act: act, Edge: edge, Second: second}) {
						if inset := l.Part == "center" && !l.Wrong() && act == "sew"; !inset && l.Wrong() == (l.Part == edge) {
							t.Errorf("%s, %s edge, second %v, %s: %s has its wrong side up: %v; want the band right side up, all else wrong", name, edge, second, act, l.Part, l.Wrong())
						}
					}
				}
				for _, l := range q.LayersOf(draw.Scene{Kind: draw.EdgeScene, Act: "press", Edge: edge, Second: second}) {
					if l.Wrong() {
						t.Errorf("%s, %s edge pressed: %s has its wrong side up", name, edge, l.Part)
					}
				}
			}
		}
	}
}

// A strip that is sewn to the center lies with its seam on the center's: both dots of the edge
// fall on one place each.
func TestWhatIsSewnTogetherSharesItsSeam(t *testing.T) {
	for name, q := range tried(t) {
		for _, s := range scenes(q) {
			if s.Kind != draw.CornerScene && s.Kind != draw.EdgeScene {
				continue
			}
			layers := q.LayersOf(s)
			for _, l := range layers {
				corners, isBand := sewn[l.Part]
				if !isBand {
					continue
				}
				ax, ay := dotAt(q, corners[0])
				bx, by := dotAt(q, corners[1])
				found := false
				for _, c := range layers {
					if c.Part != "center" || c.Loupe != l.Loupe {
						continue
					}
					k := math.Hypot(c.Frame[0], c.Frame[1])
					near := max(0.01, 1e-6*k*math.Hypot(ax, ay))
					one := apart(c.At(ax, ay), l.At(ax, ay)) < near || apart(c.At(bx, by), l.At(bx, by)) < near
					both := apart(c.At(ax, ay), l.At(ax, ay)) < near && apart(c.At(bx, by), l.At(bx, by)) < near
					// A tail and a miter's allowance that are folded back hang on one dot only.
					folded := s.Act == "pin" && s.Kind == draw.EdgeScene || s.Kind == draw.CornerScene && l.Wrong() != c.Wrong()
					found = found || both || one && folded
				}
				if !found {
					t.Errorf("%s: %+v: the %s band lies on no center's seam", name, s, l.Part)
				}
			}
		}
	}
}

// At the machine the seam runs down, the raw edges lie right of it, and the quilt left of it.
func TestTheAllowanceLiesRightOfTheNeedle(t *testing.T) {
	for name, q := range tried(t) {
		for edge, corners := range sewn {
			for _, act := range []string{"pin", "sew", "check"} {
				for _, l := range q.LayersOf(draw.Scene{Kind: draw.EdgeScene, Act: act, Edge: edge}) {
					if l.Part != "center" || !l.Wrong() || l.Loupe > 0 {
						continue
					}
					x, y := dotAt(q, corners[0])
					first := l.At(x, y)
					x, y = dotAt(q, corners[1])
					last, middle := l.At(x, y), l.At(0, 0)
					if first[1] >= last[1] || math.Abs(first[0]-last[0]) > 0.01 {
						t.Errorf("%s, %s edge, %s: the seam runs from %.0f to %.0f, want down", name, edge, act, first, last)
					}
					if middle[0] >= first[0] {
						t.Errorf("%s, %s edge, %s: the quilt lies right of the seam", name, edge, act)
					}
				}
			}
		}
		for corner, pair := range strips {
			for _, act := range []string{"sew", "trim"} {
				_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}))
				dot := only(t, marks, "use", "dot").places[0]
				for _, l := range q.LayersOf(draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}) {
					x, y := dotAt(q, corner)
					if l.Part != pair[1] {
						continue
					}
					if at := l.At(x, y); apart(at, dot) > 0.2 {
						t.Errorf("%s, corner %d, %s: the dot is drawn at %.1f and lies at %.1f", name, corner, act, dot, at)
					}
					other := sewn[pair[1]][0]
					if other == corner {
						other = sewn[pair[1]][1]
					}
					turned := q.LeftHand && act == "trim"
					if at := l.At(dotAt(q, other)); at[0] == dot[0] || turned != (at[0] > dot[0]) {
						t.Errorf("%s, corner %d, %s: the %s strip goes on to %.0f, beside the needle or the blade at %.0f", name, corner, act, pair[1], at, dot)
					}
				}
			}
			_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CornerScene, Act: "sew", Corner: corner}))
			line := only(t, marks, "path", "dim").places
			if math.Abs(line[0][0]-line[1][0]) > 0.2 || line[1][1] <= line[0][1] {
				t.Errorf("%s, corner %d: the miter is sewn from %.0f to %.0f, want down", name, corner, line[0], line[1])
			}
			_, marks = read(t, q.Draw(draw.Scene{Kind: draw.CornerScene, Act: "trim", Corner: corner}))
			cut, dot := only(t, marks, "path", "cutline").places, only(t, marks, "use", "dot").places[0]
			if cut[1][1] >= cut[0][1] || cut[0][0] == dot[0] || q.LeftHand != (cut[0][0] < dot[0]) {
				t.Errorf("%s, corner %d: the tails are cut from %.0f to %.0f, want up, beside the stitches on the side of the hand", name, corner, cut[0], cut[1])
			}
		}
	}
}

// The arrow of the fold goes round the dot: it crosses the fold squarely.
func TestTheFoldsArrowCrossesTheFoldSquarely(t *testing.T) {
	for name, q := range tried(t) {
		act := "fold"
		if !q.Sheet.Corner.Equal() {
			act = "match"
		}
		for corner := 1; corner <= 4; corner++ {
			_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}))
			fold, arrow := only(t, marks, "path", "foldedge").places, only(t, marks, "path", "arrow").places
			crossed := false
			for i := 1; i < len(arrow); i++ {
				angle, ok := crossing(fold[0], fold[1], arrow[i-1], arrow[i])
				if !ok {
					continue
				}
				crossed = true
				if math.Abs(angle-90) > 12 { // the arc is drawn in straight pieces
					t.Errorf("%s, corner %d: the arrow crosses the fold at %.0f°", name, corner, angle)
				}
			}
			if !crossed {
				t.Errorf("%s, corner %d: the arrow does not cross the fold", name, corner)
			}
		}
	}
}

// crossing is the angle in degrees at which the line from c to d crosses the ray from a
// through b.
func crossing(a, b, c, d [2]float64) (angle float64, ok bool) {
	side := func(p [2]float64) float64 { return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) }
	if side(c)*side(d) > 0 {
		return 0, false
	}
	t := side(c) / (side(c) - side(d))
	at := [2]float64{c[0] + t*(d[0]-c[0]), c[1] + t*(d[1]-c[1])}
	if (at[0]-a[0])*(b[0]-a[0])+(at[1]-a[1])*(b[1]-a[1]) < 0 {
		return 0, false
	}
	one, two := math.Atan2(b[1]-a[1], b[0]-a[0]), math.Atan2(d[1]-c[1], d[0]-c[0])
	return math.Abs(math.Mod(math.Abs(one-two)*180/math.Pi+180, 180)), true
}

var (
	lengthIn = regexp.MustCompile(`(?:runs|all) ([0-9][0-9 /.,]* ?(?:in|cm))`)
	angleIn  = regexp.MustCompile(`at ([0-9.]+)°`)
)

// The length and the angle in the words are those of the strip whose line is drawn, measured
// from the path.
func TestTheWordsAreOfTheDrawnStrip(t *testing.T) {
	for name, q := range tried(t) {
		for corner := 1; corner <= 4; corner++ {
			for _, act := range []string{"line", "pin"} {
				if act == "line" && !q.Sheet.Corner.Equal() {
					continue
				}
				s := draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}
				label, marks := read(t, q.Draw(s))
				class := map[string]string{"line": "chalkline", "pin": "chalk"}[act]
				line := only(t, marks, "path", class).places
				end := line[len(line)-1]
				if act == "line" { // the arrow's shaft ends within its tip
					end = only(t, marks, "path", "tip chalkline").places[0]
				}
				seam := only(t, marks, "path", "stitch").places
				k := 0.0
				for _, l := range q.LayersOf(s) {
					k = math.Hypot(l.Frame[0], l.Frame[1])
				}
				told, err := calc.ParseLength(lengthIn.FindStringSubmatch(label)[1], q.Plan.Unit)
				if err != nil {
					t.Fatalf("%s: %v in %q", name, err, label)
				}
				if got, want := apart(line[0], end)/k, told.Float(calc.Inch); math.Abs(got-want) > 0.04+0.2/k {
					t.Errorf("%s, corner %d, %s: the line is drawn %.3f in long, the words say %.3f: %s", name, corner, act, got, want, label)
				}
				way := math.Atan2(end[1]-line[0][1], end[0]-line[0][0])
				along := math.Atan2(seam[0][1]-seam[1][1], seam[0][0]-seam[1][0])
				if apart(seam[0], line[0]) < apart(seam[1], line[0]) {
					along += math.Pi
				}
				got := math.Abs(math.Mod(way-along+3*math.Pi, 2*math.Pi)-math.Pi) * 180 / math.Pi
				got = 180 - got // from the seam where the strip's tail goes on
				want := number(t, angleIn.FindStringSubmatch(label)[1])
				if math.Abs(got-want) > 1 && math.Abs(180-got-want) > 1 {
					t.Errorf("%s, corner %d, %s: the line leaves the seam at %.1f°, the words say %.1f°: %s", name, corner, act, got, want, label)
				}
			}
		}
	}
}
