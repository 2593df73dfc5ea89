package calc_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// measured reads "w w w, l l l, d d"; - is not taken.
func measured(t rapid.TB, words string) calc.Measured {
	t.Helper()
	var m calc.Measured
	parts := strings.Split(words, ", ")
	for i := range 3 {
		m.Widths[i], m.Lengths[i] = read(t, parts[0], i), read(t, parts[1], i)
	}
	for i := range 2 {
		m.Diagonals[i] = read(t, parts[2], i)
	}
	return m
}

func read(t rapid.TB, list string, i int) calc.Length {
	t.Helper()
	w := strings.Fields(list)[i]
	if w == "-" {
		return calc.Length{}
	}
	return length(t, strings.ReplaceAll(w, "_", " "))
}

var usual = calc.DefaultLimits(calc.Inch)

func TestDirectionsOfASquareUp(t *testing.T) {
	for _, c := range []struct {
		name, widths, kind, buildOn, says string
	}{
		{"Quilty Folk, 5 May 2014: mean 27.208, use 27 1/4", "27_1/4 27_1/4 27_1/8", calc.Ease, "27 1/4 in", "1/8 in"},
		{"Quilty Folk, 5 May 2014: use 32", "32 31_7/8 32", calc.Ease, "32 in", "1/8 in"},
		{"three that agree", "36_1/2 36_1/2 36_1/2", calc.Right, "36 1/2 in", "All at 36 1/2 in"},
		// The mean is 84.4375, 1/8 the farthest from it, and 84.4375/160 is 0.528 (cp).
		{"(cp) 3/16 in 84 eases", "84_1/2 84_5/16 84_1/2", calc.Ease, "84 1/2 in", "3/16 in: easing takes that up."},
		{"(cp) both edges wide, and it eases", "36_1/4 36 36_3/16", calc.Ease, "36 1/8 in", "1/4 in"},
		{"(cp) a bulge that eases: 1/6 from 36 1/12, which may be 0.2255", "36 36_1/4 36", calc.Ease, "36 1/8 in", "1/4 in"},
		{"Quilting Board, 10 February 2018: each within 1/4 in of the mean, ease", "60 60_3/8 60_1/4", calc.Ease, "60 1/4 in", "3/8 in"},
		{"Quilting Board, 10 February 2018: 1/2 in apart, stop and mend", "36 36_1/2 36_1/4", calc.Mend, "36 1/4 in", "by up to 1/2 in"},
		{"the same in a long edge, of which each lies within 1/160", "84 84_1/2 84_1/4", calc.Ease, "84 1/4 in", "They differ by 1/2 in: easing takes that up."},
		{"rec.crafts.textiles.quilting, 6 July 2007: 90 against 98, refuse", "90 94 98", calc.Mend, "94 in", "8 in apart"},
		{"one measure is taken as it is", "- 36_3/8 -", calc.Right, "36 3/8 in", "36 3/8 in"},
		{"none", "- - -", calc.Missing, "0 in", "Not measured"},
		// A quarter of an inch in 8 1/2 is 1/6 from the mean, more than 1/8 (cp).
		{"(cp) 1/4 in a small center is a fault in the piecing", "8_1/2 8_1/2 8_3/4", calc.Mend, "8 5/8 in", "A seam is off"},
		{"(cp) 1/8 in a small center eases", "8_1/2 8_1/2 8_5/8", calc.Ease, "8 1/2 in", "1/8 in"},
		{"the first edge alone is wide", "16_1/4 16 16", calc.Mend, "16 1/8 in", "1/4 in apart, more than eases in: least across the middle, most near the top."},
		{"the other edge alone is wide", "16 16 16_1/4", calc.Mend, "16 1/8 in", "least near the top, most near the bottom."},
		{"both edges wide", "16_1/4 16 16_3/16", calc.Mend, "16 1/8 in", "Both edges are wider than the middle"},
		{"the middle is wide", "16 16_1/4 16", calc.Mend, "16 1/8 in", "The middle is wider than both edges"},
		{"of two edges without a middle nothing is said of it", "16_3/8 - 16", calc.Mend, "16 1/4 in", "least near the bottom, most near the top."},
		{"one edge and the middle do not make a bulge", "16 16_3/8 -", calc.Mend, "16 1/4 in", "least near the top, most across the middle."},
		{"nor the other edge", "- 16_3/8 16", calc.Mend, "16 1/4 in", "least near the bottom, most across the middle."},
		{"the least is looked for among what is measured", "- 36 36_3/4", calc.Mend, "36 3/8 in", "least across the middle, most near the bottom."},
		{"of two alike the first is named", "36 36_3/4 36_3/4", calc.Mend, "36 1/2 in", "least near the top, most across the middle."},
		{"also of two that are the least", "36 36 36_3/4", calc.Mend, "36 1/4 in", "least near the top, most near the bottom."},
		// 1/160 of the mean, half of 1/4 in 20 (cp): 40 may lie 1/4 off, and 39 and 41 lie 1.
		{"just as much as may lie off the mean", "39_3/4 40 40_3/16", calc.Ease, "40 in", "7/16 in"},
		{"a sixteenth more", "39_11/16 40 40_1/8", calc.Mend, "40 in", "7/16 in apart"},
	} {
		got := calc.NewSquareUp(measured(t, c.widths+", - - -, - -"), calc.Size{}, usual).Width
		if got.Verdict.Kind != c.kind || got.BuildOn.Shown() != c.buildOn || !strings.Contains(got.Verdict.Text, c.says) {
			t.Errorf("%s: widths %s = %s, build on %s, %q; want %s, %s, with %q",
				c.name, c.widths, got.Verdict.Kind, got.BuildOn.Shown(), got.Verdict.Text, c.kind, c.buildOn, c.says)
		}
	}
	// The numbers go by the mean until a seam is found, and it is said; so is a mean that is
	// rounded: 84 7/16 is built on at 84 1/2.
	for widths, says := range map[string]string{
		"36 36_1/2 37":          "Until that is settled the numbers go by the mean, 36 1/2 in.",
		"84_1/2 84_5/16 84_1/2": "Build on 84 1/2 in, their mean to the nearest 1/8 in, and ease the edges to it.",
		"36 36_1/8 36_1/4":      "Build on their mean, 36 1/8 in, and ease the edges to it.",
	} {
		if act := calc.NewSquareUp(measured(t, widths+", - - -, - -"), calc.Size{}, usual).Width.Verdict.Act; !strings.Contains(act, says) {
			t.Errorf("widths %s: %q, want %q", widths, act, says)
		}
	}
	mean := calc.NewSquareUp(measured(t, "27_1/4 27_1/4 27_1/8, - - -, - -"), calc.Size{}, usual).Width.Mean
	if got := mean.Value(); got != "27.208333" {
		t.Errorf("mean of 27 1/4, 27 1/4, 27 1/8 = %s; want 27.208333 (Quilty Folk, 5 May 2014)", got)
	}
}

func TestShapesAreToldApart(t *testing.T) {
	for _, c := range []struct{ name, measures, kind, says string }{
		// 1/8 in for each 40 in, at least 1/8 (cp): 3/8 at 122 in, 5/16 at 100.
		{"1/4 in between diagonals of 122 is no lean (cp)", "72 72 72, 98_1/2 98_1/2 98_1/2, 122 122_1/4", calc.Rectangle, "true"},
		{"5/16 in between them at 100 in will do (cp)", "60 60 60, 80 80 80, 100_3/16 99_7/8", calc.Rectangle, "true"},
		{"3/8 in at 100 in leans (cp)", "60 60 60, 80 80 80, 100_3/16 99_13/16", calc.Leaning, "to the left"},
		{"1/8 in at 15 in will do (cp)", "9 9 9, 12 12 12, 15_1/16 14_15/16", calc.Rectangle, "true"},
		{"3/16 in at 15 in leans (cp)", "9 9 9, 12 12 12, 15_1/8 14_15/16", calc.Leaning, "to the left"},
		{"60 x 80 with 100 twice (derived)", "60 60 60, 80 80 80, 100 100", calc.Rectangle, "true"},
		{"1/8 in between the diagonals will do (cp)", "60 60 60, 80 80 80, 100_1/8 100", calc.Rectangle, "true"},
		{"1/2 in between them leans to corner 1 (derived)", "60 60 60, 80 80 80, 100_1/4 99_3/4", calc.Leaning, "to the left"},
		{"the other way it leans to corner 2 (derived)", "60 60 60, 80 80 80, 99_3/4 100_1/4", calc.Leaning, "to the right"},
		// Isosceles: d² = ac + b², 60 x 60.375 + 80² (Ptolemy); equal diagonals and yet
		// no rectangle (Sonoma State University, Math 150, Theorem 6).
		{"an isosceles trapezoid fails", "60_1/2 60_1/4 60, 80 80 80, 100.15 100.15", calc.Trapezoid, "do not make that true"},
		{"and eases where its edges lie near their mean", "60_3/8 60_3/16 60, 80 80 80, 100.112 100.112", calc.Ease, "top and bottom by 3/8 in. Easing takes that up."},
		{"edges 1/8 in apart are not uneven (cp)", "60_1/8 60_1/16 60, 80 80 80, 100_1/16 100_1/16", calc.Rectangle, "true"},
		{"one edge alone is not uneven", "60_3/8 60 -, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"nor the other", "- 60 60_3/8, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"one diagonal alone proves nothing", "60 60 60, 80 80 80, 100 -", calc.Unknown, "not known"},
		{"nor the other", "60 60 60, 80 80 80, - 100", calc.Unknown, "not known"},
		{"no lengths", "60 60 60, - - -, 100 100", calc.Unknown, "not known"},
		{"no widths", "- - -, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"uneven widths say by how much", "60_1/2 60_1/4 60, 80 80 80, - -", calc.Trapezoid, "Opposite edges differ: top and bottom by 1/2 in."},
		{"uneven lengths too", "60 60 60, 8 8_1/8 8_5/16, - -", calc.Trapezoid, "Opposite edges differ: left and right by 5/16 in."},
		{"what eases is not known to be a rectangle without diagonals", "60_3/8 60_3/16 60, 80 80 80, - -", calc.Unknown, "not known"},
		{"without diagonals nobody knows", "60 60 60, 80 80 80, - -", calc.Unknown, "not known"},
		{"diagonals 1/2 in apart on single measures", "- 60 -, - 80 -, 100_1/4 99_3/4", calc.Unknown, "1/2 in apart"},
		{"one width alone does not tell of opposite edges", "- 60 -, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"a diagonal read 2 short is a slip (derived)", "60 60 60, 80 80 80, 98 100", calc.Slip, "100 in would fit"},
	} {
		got := calc.NewSquareUp(measured(t, c.measures), calc.Size{}, usual).Shape.Verdict
		if got.Kind != c.kind || !strings.Contains(got.Text, c.says) {
			t.Errorf("%s: %s = %s, %q; want %s with %q", c.name, c.measures, got.Kind, got.Text, c.kind, c.says)
		}
	}
}

// Without diagonals nothing is said of them; the seam that is off is looked for.
func TestWhatIsDoneAboutUnevenEdges(t *testing.T) {
	for _, measures := range []string{"61 60_1/2 60, 80 80 80, - -", "60 60 60, 81 80_1/2 80, - -", "16_3/8 16_1/8 16, 20 20 20, - -"} {
		v := calc.NewSquareUp(measured(t, measures), calc.Size{}, usual).Shape.Verdict
		if v.Kind != calc.Trapezoid || !strings.Contains(v.Act, "seam") || strings.Contains(v.Text, "diagonals") {
			t.Errorf("%s: %s, %q, %q; want %s, nothing of diagonals, and the seam looked for", measures, v.Kind, v.Text, v.Act, calc.Trapezoid)
		}
	}
}

// The seam comes first. The ruler comes last, says what it costs, and is not offered at
// all where so much is off that only a seam explains it.
func TestTheSeamIsLookedForBeforeAnythingIsTrimmed(t *testing.T) {
	seam := calc.Figure{Length: length(t, "1/4"), Unit: calc.Inch}
	for measures, want := range map[string][]string{
		"84_1/2 84_5/16 84_1/2, - - -, - -": nil,
		"16_1/4 16 16, - - -, - -":          {"seam", "trim"},
		"8_1/2 8_1/2 8_3/4, - - -, - -":     {"seam", "trim"},
		"36 36_1/2 36_1/4, - - -, - -":      {"seam"},
	} {
		ways := calc.NewSquareUp(measured(t, measures), calc.Size{}, usual).Ways(true, seam, "width.top")
		var kinds []string
		for _, way := range ways {
			kinds = append(kinds, way.Kind)
			if way.Kind == "trim" && !strings.Contains(way.Acts[0], "plain fabric") || !slices.Contains(way.Redo, "width.top") {
				t.Errorf("%s: %+v; want it to say where it may be trimmed, and to measure again", measures, way)
			}
		}
		if !slices.Equal(kinds, want) {
			t.Errorf("%s: ways %q, want %q", measures, kinds, want)
		}
	}
}

func TestLeanFromTheDiagonals(t *testing.T) {
	// |d1² − d2²| / 4a: 1/2 in between the diagonals is 0.3125 over the 60 side, 1 in is
	// 0.625 (derived).
	for _, c := range []struct{ diagonals, overWidth, overLength string }{
		{"100_1/4 99_3/4", "0.3125", "0.416667"},
		{"100_1/2 99_1/2", "0.625", "0.833333"},
	} {
		lean := calc.NewSquareUp(measured(t, "60 60 60, 80 80 80, "+c.diagonals), calc.Size{}, usual).Shape.Lean
		if lean == nil || lean.OverWidth.Value() != c.overWidth || lean.OverLength.Value() != c.overLength || lean.Corner != 1 {
			t.Errorf("60 x 80, diagonals %s: lean %+v; want %s over the 60, %s over the 80, to corner 1", c.diagonals, lean, c.overWidth, c.overLength)
		}
	}
}

func TestASlipNamesTheNumber(t *testing.T) {
	plan := calc.Size{Width: length(t, "60"), Length: length(t, "80")}
	for _, c := range []struct {
		name, measures string
		planned        calc.Size
		measure, about string
	}{
		{"a diagonal, with nothing planned", "60 60 60, 80 80 80, 100 99", calc.Size{}, "diagonal-2", "100 in"},
		{"one of three widths, a foot off", "60 72 60, 80 80 80, 100 100", calc.Size{}, "width-middle", "60 in"},
		{"one of three lengths, 1 in off", "60 60 60, 80 80 81.5, 100 100", calc.Size{}, "length-right", "80 in"},
		{"the only width, told by the plan", "- 61 -, - 80 -, 100 100", plan, "width-middle", "60 in"},
		{"the only length, told by the plan", "- 60 -, - 81 -, 100 100", plan, "length-middle", "80 in"},
		// √(100² − 78²) = 62.578, √(100² − 82²) = 57.236: with no plan to tell either may be
		// wrong, and the width is named first.
		{"one of each, and no plan", "- 60 -, - 78 -, 100 100", calc.Size{}, "width-middle", "62 9/16 in"},
		{"one of each, the other way", "- 60 -, - 82 -, 100 100", calc.Size{}, "width-middle", "57 1/4 in"},
		// √(98.52² − 57.5²) = 80.000: width 2.5 off the plan. √(98.52² − 77²) = 61.461: width
		// 1.461 and length 3 off it, 4.461 in all.
		{"both off the plan, the length by less in all", "- 57_1/2 -, - 77 -, 98.52 98.52", plan, "length-middle", "80 in"},
		{"both off the plan, the width by less in all", "- 77 -, - 57_1/2 -, 98.52 98.52", calc.Size{Width: plan.Length, Length: plan.Width}, "width-middle", "80 in"},
	} {
		shape := calc.NewSquareUp(measured(t, c.measures), c.planned, usual).Shape
		if shape.Verdict.Kind != calc.Slip || len(shape.Suspects) == 0 {
			t.Errorf("%s: %s = %+v; want a slip", c.name, c.measures, shape.Verdict)
			continue
		}
		for _, x := range shape.Suspects {
			if x.Was.Length.Sign() == 0 || len(shape.Suspects) > 3 {
				t.Errorf("%s: %s: suspects %+v; want 3 at most, of what is measured", c.name, c.measures, shape.Suspects)
			}
		}
		if got := shape.Suspects[0]; got.Measure != c.measure || got.About.Shown() != c.about {
			t.Errorf("%s: %s: suspect %s, about %s; want %s, about %s", c.name, c.measures, got.Measure, got.About.Shown(), c.measure, c.about)
		}
	}
}

// With the likeliest number put right the widths are still as far apart as here: up to
// twice what is mended, 1 in, it is that number alone.
func TestASlipThatOneNumberDoesNotExplain(t *testing.T) {
	for measures, says := range map[string]string{
		"59_1/2 60 60_1/2, - 80 -, 100 95":   "Most likely the diagonal from corner 2 to 4: 95 in was written, about 100 in would fit.",
		"59_7/16 60 60_9/16, - 80 -, 100 95": "one wrong number alone does not explain it.",
	} {
		v := calc.NewSquareUp(measured(t, measures), calc.Size{}, usual).Shape.Verdict
		if v.Kind != calc.Slip || !strings.HasSuffix(v.Text, says) {
			t.Errorf("%s: %s, %q; want %s, %q", measures, v.Kind, v.Text, calc.Slip, says)
		}
	}
}

// What comes off two opposite edges is together what was measured, never twice that: 3/8
// is 3/16 and 3/16, 5/16 is 3/16 and 1/8, as a ruler has no thirty-seconds.
func TestWhatIsTrimmedOffWhichEdge(t *testing.T) {
	for _, c := range []struct{ name, measures, want string }{
		{"alike at both ends without diagonals", "16_3/8 16_1/8 16, 20 20 20, - -",
			"left at corner 1 3/16 in; right at corner 2 3/16 in"},
		{"an odd sixteenth goes to the first edge", "16_5/16 16_1/8 16, 20 20 20, - -",
			"left at corner 1 3/16 in; right at corner 2 1/8 in"},
		// Right edge out by 3/8 at the top: d2² = 16.375² + 20², d1² = 16² + 20² (derived).
		{"all of it where the diagonals say so", "16_3/8 16_3/16 16, 20 20 20, 25.6125 25.8484",
			"right at corner 2 3/8 in"},
		// Right side longer by 3/8, its top up: d2² = 20² + 16.375² (derived).
		{"the longer side at its top", "20 20 20, 16 16_3/16 16_3/8, 25.6125 25.8484",
			"top at corner 2 3/8 in"},
		{"a bulge, half off each side", "16 16_1/4 16, 20 20 20, - -", "left at the middle 1/8 in; right at the middle 1/8 in"},
		{"a bulge of 5/16, together no more", "16 16_5/16 16, 20 20 20, - -", "left at the middle 3/16 in; right at the middle 1/8 in"},
		{"nothing of an edge that is not measured", "16 16_3/8 -, 20 20 20, - -", "left at the middle 3/16 in; right at the middle 3/16 in"},
		{"nothing where all agree", "60 60 60, 80 80 80, 100 100", ""},
		{"nothing where it eases", "84_1/2 84_5/16 84_1/2, 80 80 80, - -", ""},
		{"nothing where only a mended seam will do", "60 61 60, 80 80 80, - -", ""},
	} {
		var got []string
		for _, x := range calc.NewSquareUp(measured(t, c.measures), calc.Size{}, usual).Trims {
			got = append(got, x.Edge+" "+x.Where+" "+x.Off.Shown())
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s: %s: trims %q; want %q", c.name, c.measures, s, c.want)
		}
	}
}

func TestLimitsCanBeSet(t *testing.T) {
	lim := usual
	lim.Apart = length(t, "1/4")
	if got := calc.NewSquareUp(measured(t, "8 8_1/4 8, - - -, - -"), calc.Size{}, lim).Width.Verdict.Kind; got != calc.Ease {
		t.Errorf("8 in, 1/6 off the mean, 1/4 in allowed: %s; want ease", got)
	}
}

// The order in which measures of one way are entered changes neither the size nor the
// kind; a center that measures what was planned is right in all.
func TestSquareUpProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := writtenLength(4, 120)
		w, l := length(t, side.Draw(t, "width")), length(t, side.Draw(t, "length"))
		d := calc.Hypot(w, l)
		m := calc.Measured{Widths: [3]calc.Length{w, w, w}, Lengths: [3]calc.Length{l, l, l}, Diagonals: [2]calc.Length{d, d}}
		s := calc.NewSquareUp(m, calc.Size{Width: w, Length: l}, usual)
		if s.Width.Verdict.Kind != calc.Right || s.Length.Verdict.Kind != calc.Right || s.Shape.Verdict.Kind != calc.Rectangle || len(s.Trims) != 0 ||
			!s.Width.BuildOn.Length.Equal(w) || !s.Length.BuildOn.Length.Equal(l) {
			t.Errorf("as planned: %+v; want right, right, rectangle, no trims and the plan's size", s)
		}
		three := [3]calc.Length{w, length(t, side.Draw(t, "second")), length(t, side.Draw(t, "third"))}
		first := calc.NewSquareUp(calc.Measured{Widths: three}, calc.Size{}, usual).Width
		reordered := calc.NewSquareUp(calc.Measured{Widths: [3]calc.Length{three[2], three[0], three[1]}}, calc.Size{}, usual).Width
		if !first.BuildOn.Length.Equal(reordered.BuildOn.Length) || first.Verdict.Kind != reordered.Verdict.Kind || !first.Mean.Length.Equal(reordered.Mean.Length) {
			t.Errorf("%v: %+v; in another order %+v", three, first, reordered)
		}
	})
}

// What is trimmed is marked from the edge and drawn before it is cut, one edge after the other.
func TestATrimIsMarkedAndDrawnBeforeItIsCut(t *testing.T) {
	s := calc.NewSquareUp(measured(t, "16_1/4 16 16, - - -, - -"), calc.Size{}, usual)
	trim, ok := wayOf(s.Ways(true, calc.Figure{Length: length(t, "1/4"), Unit: calc.Inch}, "width.top"), "trim")
	var order []string
	for _, act := range trim.Acts {
		if word, _, _ := strings.Cut(act, " "); word == "Mark" || word == "Draw" || word == "Trim" {
			order = append(order, word)
		}
	}
	if !ok || strings.Join(order, " ") != "Mark Draw Trim Mark Draw Trim" || !strings.Contains(strings.Join(trim.Acts, " "), "Mark in from the left edge: 1/8 in at corner 1.") {
		t.Errorf("16 1/4, 16, 16: %q; want each edge marked, drawn and trimmed", trim.Acts)
	}
}
