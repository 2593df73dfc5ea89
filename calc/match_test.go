package calc_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// motifPlan is a border with a motif, 5 1/2 wide, round a center that finishes
// at these sizes; the seam is 1/4 in.
func motifPlan(t rapid.TB, width, side, motif string) calc.Plan {
	t.Helper()
	p := planOf(t, fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"name":"reeds","cut":"5 1/2","motif":%q}]}`,
		width, side, motif))
	half := calc.Of(1, 2, calc.Inch)
	p.Center = calc.Size{Width: p.Center.Width.Add(half), Length: p.Center.Length.Add(half)}
	return p
}

func planOf(t rapid.TB, text string) calc.Plan {
	t.Helper()
	p, err := calc.ParsePlan([]byte(text))
	if err != nil {
		t.Fatalf("ParsePlan(%s) = %v", text, err)
	}
	return p
}

func both(sides, topBottom calc.Centering) calc.Pair[calc.Centering] {
	return calc.Pair[calc.Centering]{Sides: sides, TopBottom: topBottom}
}

var (
	alike  = []calc.Pair[calc.Centering]{both("motif", "motif"), both("gap", "gap")}
	unlike = []calc.Pair[calc.Centering]{both("motif", "gap"), both("gap", "motif")}
	all    = []calc.Pair[calc.Centering]{both("motif", "motif"), both("motif", "gap"), both("gap", "motif"), both("gap", "gap")}
)

func TestBestCenteringOfAPrint(t *testing.T) {
	for _, c := range []struct {
		name, width, length, motif string
		mismatch                   string
		best                       []calc.Pair[calc.Centering]
		toWidth, toLength          string
	}{
		// Half of what the finished sides differ by (derived): 60 x 80 with 6 is off, 68 x 80 matches.
		{"sides that differ by a whole and a third of a repeat", "60", "80", "6", "1", unlike, "2", "4"},
		{"half the difference is one repeat", "68", "80", "6", "0", alike, "0", "0"},
		// The same row: or of P/2 when one pair sits on the gap.
		{"half the difference is one and a half repeats", "62", "80", "6", "0", unlike, "0", "0"},
		{"a square needs nothing", "36", "36", "7 1/3", "0", alike, "0", "0"},
		{"a quarter of a repeat off is the same for all four", "36", "39", "6", "1.5", all, "3", "3"},
		{"the width is the longer side", "80", "60", "6", "1", unlike, "4", "2"},
		{"a repeat longer than the sides", "10", "14", "40", "2", alike, "4", "36"},
	} {
		m, _, best := calc.MatchOf(motifPlan(t, c.width, c.length, c.motif), 1)
		if !m.Possible || m.Mismatch.Value() != c.mismatch {
			t.Errorf("%s: %s x %s with %s: possible %t, mismatch %s; want true and %s",
				c.name, c.width, c.length, c.motif, m.Possible, m.Mismatch.Value(), c.mismatch)
		}
		if !slices.Equal(best, c.best) || m.Centering != c.best[0] {
			t.Errorf("%s: %s x %s with %s: best %v, picked %v; want %v and the first of them",
				c.name, c.width, c.length, c.motif, best, m.Centering, c.best)
		}
		got := [2]string{m.AddToWidth.Total.Value(), m.AddToLength.Total.Value()}
		if want := [2]string{c.toWidth, c.toLength}; got != want {
			t.Errorf("%s: %s x %s with %s: add to width and to length %v; want %v",
				c.name, c.width, c.length, c.motif, got, want)
		}
	}
}

func TestCopingStripsAgreeWithPrint(t *testing.T) {
	for _, c := range []struct{ width, length, motif, total, strip, cut, source string }{
		{"46", "50", "5", "4", "2", "2.5", "J. Laquidara, 1 July 2009: 46 up to 50, 2 a side, cut 2 1/2"},
		{"58", "60", "5", "2", "1", "1.5", "the same: 58 up to 60, 1 a side, cut 1 1/2"},
		{"20 1/2", "28 7/8", "10", "8.375", "4.1875", "4.6875", "M. McNeil: 20 1/2 to 28 7/8, 8 3/8, 4 3/16 a side; the cut (derived)"},
	} {
		p := motifPlan(t, c.width, c.length, c.motif)
		m, _, _ := calc.MatchOf(p, 1)
		a := m.AddToWidth
		got := [3]string{a.Total.Value(), a.Total.Length.Half().Value(calc.Inch), a.CopingStrip.Value()}
		if want := [3]string{c.total, c.strip, c.cut}; got != want {
			t.Errorf("%s x %s with %s: add to width, a side, cut %v; want %v (%s)", c.width, c.length, c.motif, got, want, c.source)
		}
		if a.Edges != calc.Sides || !a.Along.Length.Equal(p.Center.Length) {
			t.Errorf("%s x %s: the strips go on %s, %s long; want sides, as long as the center, %s",
				c.width, c.length, a.Edges, a.Along.Value(), p.Center.Length.Value(calc.Inch))
		}
	}
}

func TestNarrowCopingStripsGetAnEasierChoice(t *testing.T) {
	for _, c := range []struct{ name, plan, want string }{
		// Under 1/2 in finished, or 1.2 cm, is fussy (cp); the rest (derived).
		{"1/4 in a side, with a repeat 3 1/4", `{"center":{"width":"60","length":"60 1/2"},"borders":[{"cut":"5 1/2","motif":"6"}]}`, "6.5"},
		{"3/8 in a side, repeats of 1/8: the first that is not under 1/2", `{"center":{"width":"60","length":"60 3/16"},"borders":[{"cut":"5 1/2","motif":"1/8"}]}`, "1.0625"},
		{"exactly 1/2 in a side will do", `{"center":{"width":"60","length":"61"},"borders":[{"cut":"5 1/2","motif":"6"}]}`, ""},
		{"nothing to add is not fussy", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5 1/2","motif":"6"}]}`, ""},
		{"1 cm a side, with a repeat 8.5", `{"unit":"cm","center":{"width":"150","length":"152"},"borders":[{"cut":"12","motif":"15"}]}`, "17"},
		{"1.2 cm a side will do", `{"unit":"cm","center":{"width":"150","length":"152.4"},"borders":[{"cut":"12","motif":"15"}]}`, ""},
		{"a repeat of a hair is reckoned at once", `{"center":{"width":"60","length":"60.000001"},"borders":[{"cut":"5 1/2","motif":"0.000003"}]}`, "1"},
	} {
		m, _, _ := calc.MatchOf(planOf(t, c.plan), 1)
		got := ""
		if e := m.AddToWidth.Easier; e != nil {
			got = e.Total.Value()
		}
		if got != c.want {
			t.Errorf("%s: %s: easier to add %q; want %q", c.name, c.plan, got, c.want)
		}
	}
}

func TestBandsThatDifferCannotMirror(t *testing.T) {
	p := planOf(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"1 1/2"},{"cut":"5 1/2","cutTopBottom":"6 1/2","motif":"6"}]}`)
	m, notes, best := calc.MatchOf(p, 2)
	if m.Possible || len(best) != 0 || len(calc.Centerings(p, 2)) != 0 {
		t.Errorf("bands finished 6 and 7: possible %t, best %v, centerings %v; want false and none", m.Possible, best, calc.Centerings(p, 2))
	}
	for _, want := range []string{"6 in on the sides", "7 in on top and bottom", "can't mirror"} {
		if !strings.Contains(m.Why, want) {
			t.Errorf("why %q; want it to say %q", m.Why, want)
		}
	}
	if len(notes) != 1 || !strings.Contains(notes[0], "border 2: The bands") {
		t.Errorf("notes %q; want the one why, with the border's name", notes)
	}
}

func TestMatchAsJSON(t *testing.T) {
	for _, c := range []struct{ plan, want string }{
		// 60 x 80 finished, repeat 6 (derived above): the strips 1 and 2 finished.
		{`{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5 1/2","motif":"6"}]}`,
			`{"border":1,"possible":true,"mismatch":{"value":"1","shown":"1 in"},` +
				`"centering":{"sides":"motif","topBottom":"gap"},` +
				`"addToWidth":{"value":"2","shown":"2 in","copingStrip":{"value":"1.5","shown":"1 1/2 in"}},` +
				`"addToLength":{"value":"4","shown":"4 in","copingStrip":{"value":"2.5","shown":"2 1/2 in"}},` +
				`"inMiter":{"centering":{"sides":"gap","topBottom":"gap"},` +
				`"addToWidth":{"value":"1","shown":"1 in","copingStrip":{"value":"1","shown":"1 in"}},` +
				`"addToLength":{"value":"5","shown":"5 in","copingStrip":{"value":"3","shown":"3 in"}}}}`},
		{`{"center":{"width":"36","length":"36"},"borders":[{"cut":"5 1/2","motif":"6"}]}`,
			`{"border":1,"possible":true,"mismatch":{"value":"0","shown":"0 in"},` +
				`"centering":{"sides":"motif","topBottom":"motif"},` +
				`"addToWidth":{"value":"0","shown":"0 in","copingStrip":{"value":"0","shown":"0 in"}},` +
				`"addToLength":{"value":"0","shown":"0 in","copingStrip":{"value":"0","shown":"0 in"}},` +
				// 35 1/2 ÷ 2 + 2 1/2 = 20 1/4; the gap stands at 21.
				`"inMiter":{"centering":{"sides":"gap","topBottom":"gap"},` +
				`"addToWidth":{"value":"1.5","shown":"1 1/2 in","copingStrip":{"value":"1.25","shown":"1 1/4 in"}},` +
				`"addToLength":{"value":"1.5","shown":"1 1/2 in","copingStrip":{"value":"1.25","shown":"1 1/4 in"}}}}`},
		{`{"center":{"width":"36","length":"36"},"borders":[{"cut":"5 1/2","cutTopBottom":"4 1/2","motif":"6"}]}`,
			`{"border":1,"possible":false,"why":"The bands finish at 5 in on the sides and 4 in on top and bottom, so the miter is not at 45 degrees and a print along the strips can't mirror there. It could with bands of one width all round."}`},
	} {
		m, _, _ := calc.MatchOf(planOf(t, c.plan), 1)
		got, err := json.Marshal(m)
		if err != nil || string(got) != c.want {
			t.Errorf("match of %s\ngot  %s, %v\nwant %s", c.plan, got, err, c.want)
		}
	}
}

func TestMismatchThatIsSeenIsNoted(t *testing.T) {
	// Over 1/8 in is seen, or 3 mm (cp); sides miss by half of what they differ by.
	for _, c := range []struct {
		name, width, length string
		want                []string
	}{
		{"a match has only the word on directed prints", "36", "36", []string{"one with a direction"}},
		{"1/8 in is not seen", "36", "36 1/4", []string{"one with a direction"}},
		{"3/16 in is seen, and its strips are fussy", "36", "36 3/8",
			[]string{"one with a direction", "miss each other by 3/16 in", "on the sides would finish at 3/16 in, and one under 1/2 in is fussy to sew. with 6 3/8 in in all it finishes at 3 3/16 in, and matches as well."}},
		{"1 in is seen", "36", "38", []string{"one with a direction", "2 in added to the center's width, or 4 in to its length"}},
	} {
		_, notes, _ := calc.MatchOf(motifPlan(t, c.width, c.length, "6"), 1)
		if len(notes) != len(c.want) {
			t.Errorf("%s: notes %q; want %d", c.name, notes, len(c.want))
			continue
		}
		for i, want := range c.want {
			if !strings.Contains(strings.ToLower(notes[i]), want) || !strings.HasPrefix(notes[i], "reeds: ") {
				t.Errorf("%s: note %q; want it to name reeds and say %q", c.name, notes[i], want)
			}
		}
	}
	for length, want := range map[string]bool{"90.6": false, "90.7": true} {
		m, _, _ := calc.MatchOf(planOf(t, fmt.Sprintf(`{"unit":"cm","center":{"width":"90","length":%q},"borders":[{"cut":"12","motif":"15"}]}`, length)), 1)
		if got := m.Seen(); got != want {
			t.Errorf("90 x %s cm, missing by %s: seen %t; want %t", length, m.Mismatch.Shown(), got, want)
		}
	}
}

// A printed strip lies from -half to half about its middle. show tells what is
// seen at a place on it: how far it is to the nearest motif's middle, found by
// walking over all the motifs that the strip bears.
type printedStrip struct {
	half   float64 // of the finished side
	motifs []float64
}

func layPrint(half, reach, repeat float64, c calc.Centering) printedStrip {
	first := 0.0
	if c == calc.OnGap {
		first = repeat / 2
	}
	s := printedStrip{half: half}
	for at := first; at < half+reach+2*repeat; at += repeat {
		s.motifs = append(s.motifs, at, -at)
	}
	return s
}

func (s printedStrip) show(at float64) float64 {
	nearest := math.Inf(1)
	for _, m := range s.motifs {
		nearest = min(nearest, math.Abs(at-m))
	}
	return nearest
}

// mirrors compares what meets at every point of the miter, the second strip slid
// along by slide: a point that is out from the dot lies as far beyond both dots.
func mirrors(a, b printedStrip, out, slide float64) bool {
	for i := range 41 {
		t := out * float64(i) / 40
		if !near(a.show(a.half+t), b.show(b.half+t+slide), 1e-9) {
			return false
		}
	}
	return true
}

// The prints laid out point by point meet in mirror image exactly where the
// mismatch is 0; else sliding one by the mismatch brings them together, and no
// lesser slide does.
func TestPrintsLaidOutMeetAsReckoned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawMotif(t)
		seam, motif := p.Seam.Float(calc.Inch), p.Borders[0].Motif.Float(calc.Inch)
		out := p.Borders[0].Cut.Float(calc.Inch) - 2*seam
		strips := func(p calc.Plan, c calc.Pair[calc.Centering]) (printedStrip, printedStrip) {
			return layPrint(p.Center.Length.Float(calc.Inch)/2-seam, out+motif, motif, c.Sides),
				layPrint(p.Center.Width.Float(calc.Inch)/2-seam, out+motif, motif, c.TopBottom)
		}
		four := calc.Centerings(p, 1)
		if len(four) != 4 {
			t.Fatalf("%d centerings; want 4", len(four))
		}
		m, _, best := calc.MatchOf(p, 1)
		for _, x := range four {
			sides, topBottom := strips(p, x.Centering)
			miss := x.Mismatch.Length.Float(calc.Inch)
			if got, want := mirrors(sides, topBottom, out, 0), x.Mismatch.Length.Sign() == 0; got != want {
				t.Errorf("centered %v: the prints mirror: %t; mismatch is %s", x.Centering, got, x.Mismatch.Value())
			}
			if !mirrors(sides, topBottom, out, miss) && !mirrors(sides, topBottom, out, -miss) {
				t.Errorf("centered %v: sliding by the mismatch %s, either way, does not bring them together", x.Centering, x.Mismatch.Value())
			}
			for _, less := range []float64{-0.9, -0.5, 0.5, 0.9} {
				if miss > 1e-6 && mirrors(sides, topBottom, out, less*miss) {
					t.Errorf("centered %v: sliding by %g brings them together; the mismatch is %s", x.Centering, less*miss, x.Mismatch.Value())
				}
			}
			if x.Mismatch.Length.Less(m.Mismatch.Length) {
				t.Errorf("%v misses by %s; the best by %s", x.Centering, x.Mismatch.Value(), m.Mismatch.Value())
			}
			if got, want := slices.Contains(best, x.Centering), x.Mismatch.Length.Equal(m.Mismatch.Length); got != want {
				t.Errorf("%v is among the best %v: %t; want %t", x.Centering, best, got, want)
			}
			// What is on the dot is what the laid-out strip shows there.
			at := x.AtDot.Sides.Length.Float(calc.Inch)
			if got, want := min(at, motif-at), sides.show(sides.half); !near(got, want, 1e-9) {
				t.Errorf("centered %v: %g from a motif at the sides' dot; laid out %g", x.Centering, got, want)
			}
		}
	})
}

// After the coping strips, least or easier, the prints laid out mirror; a lesser
// addition would not do.
func TestCopingStripsMendTheCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawMotif(t)
		m, _, _ := calc.MatchOf(p, 1)
		for _, a := range []calc.Addition{m.AddToWidth, m.AddToLength} {
			if !a.Total.Length.Less(p.Borders[0].Motif) || a.Total.Length.Sign() < 0 {
				t.Errorf("add %s on the %s; want 0 or more and under the repeat", a.Total.Value(), a.Edges)
			}
			if got, want := a.Total.Length.Sign() == 0, m.Mismatch.Length.Sign() == 0; got != want {
				t.Errorf("nothing to add: %t; mismatch %s", got, m.Mismatch.Value())
			}
			mended := func(a calc.Addition) calc.Match {
				wider, err := p.WithCenter(a.Center)
				if err != nil {
					t.Fatalf("WithCenter(%v) = %v", a.Center, err)
				}
				again, _, _ := calc.MatchOf(wider, 1)
				return again
			}
			if got := mended(a).Mismatch.Value(); got != "0" {
				t.Errorf("%s added on the %s: mismatch %s; want 0", a.Total.Value(), a.Edges, got)
			}
			if e := a.Easier; e != nil {
				if got := mended(*e).Mismatch.Value(); got != "0" || e.Total.Length.Half().Less(calc.Of(12, 10, calc.Centimeter)) {
					t.Errorf("easier, %s added on the %s: mismatch %s; want 0, and strips of 1.2 cm or more", e.Total.Value(), a.Edges, got)
				}
			}
			// Two strips, each without its two seam allowances, are the total.
			if a.Total.Length.Sign() > 0 {
				got := a.CopingStrip.Length.Sub(p.Seam.Times(2)).Times(2)
				if !got.Equal(a.Total.Length) {
					t.Errorf("two coping strips cut %s finish at %s; want %s", a.CopingStrip.Value(), got.Value(p.Unit), a.Total.Value())
				}
			}
			less := a
			lesser := a.Total.Length.Half()
			less.Center = p.Center
			if a.Edges == calc.Sides {
				less.Center.Width = less.Center.Width.Add(lesser)
			} else {
				less.Center.Length = less.Center.Length.Add(lesser)
			}
			if a.Total.Length.Sign() > 0 && mended(less).Mismatch.Length.Sign() == 0 {
				t.Errorf("%s would do on the %s; told %s", lesser.Value(p.Unit), a.Edges, a.Total.Value())
			}
		}
	})
}

// drawMotif draws a plan of one border alike all round with a motif.
func drawMotif(t *rapid.T) calc.Plan {
	side := writtenLength(2, 60)
	plan := map[string]any{
		"unit":   rapid.SampledFrom([]string{"in", "cm"}).Draw(t, "unit"),
		"center": map[string]string{"width": side.Draw(t, "width"), "length": side.Draw(t, "length")},
		"borders": []map[string]string{{
			"cut":   writtenLength(2, 12).Draw(t, "cut"),
			"motif": writtenLength(0.5, 20).Draw(t, "motif"),
		}},
	}
	if s := rapid.SampledFrom(seams).Draw(t, "seam"); s != "" {
		plan["seam"] = s
	}
	text, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	p := planOf(t, string(text))
	// Sides that differ by whole halves of a repeat are those that meet; drawn
	// blindly they would hardly come up.
	if rapid.Bool().Draw(t, "meets") {
		p.Center.Length = p.Center.Width.Add(p.Borders[0].Motif.Times(rapid.Int64Range(0, 4).Draw(t, "repeats")))
	}
	return p
}

// What is seen of a miss is what the plan says is seen: of two prints, and of each of the
// four ways to center them, in the figures and in the note.
func TestAMissIsSeenByThePlansLimits(t *testing.T) {
	for limits, want := range map[string]bool{`{}`: true, `{"seen":"1/4"}`: false, `{"seen":"3/16"}`: true} {
		// (36 1/2 − 36) / 2 is 1/4.
		p := planOf(t, `{"center":{"width":"36","length":"36 1/2"},"borders":[{"name":"reeds","cut":"5","motif":"6"}],"limits":`+limits+`}`)
		m, notes, _ := calc.MatchOf(p, 1)
		if got := m.Seen(); got != want {
			t.Errorf("limits %s: a miss of %s is seen: %t; want %t", limits, m.Mismatch.Shown(), got, want)
		}
		if got := calc.Centerings(p, 1)[0].Seen(); got != want {
			t.Errorf("limits %s: centered on motifs, a miss is seen: %t; want %t", limits, got, want)
		}
		told := "more than about " + calc.Figure{Length: p.Limits.Seen, Unit: p.Unit}.Shown() + " is seen"
		if got := strings.Contains(strings.Join(notes, " "), told); got != want {
			t.Errorf("limits %s: notes %q; want %q in them: %t", limits, notes, told, want)
		}
	}
}
