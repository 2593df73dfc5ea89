package calc_test

import (
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
		{"(cp) over 1/8: to the least, and both edges wide", "36_1/4 36 36_3/16", calc.TrimOff, "36 in", "edges stretch"},
		{"(cp) over 1/8: the middle is wide", "36 36_1/4 36", calc.TrimOff, "36 in", "bulges"},
		{"Quilting Board, 10 February 2018: 1/2 in apart, stop and mend", "36 36_1/2 36_1/4", calc.Mend, "36 in", "across the middle"},
		{"rec.crafts.textiles.quilting, 6 July 2007: 90 against 98, refuse", "90 94 98", calc.Mend, "90 in", "8 in apart"},
		{"one measure is taken as it is", "- 36_3/8 -", calc.Right, "36 3/8 in", "36 3/8 in"},
		{"none", "- - -", calc.Missing, "0 in", "Not measured"},
		{"the first edge alone is wide", "36_1/4 36 36", calc.TrimOff, "36 in", "apart, widest near the top."},
		{"the other edge alone is wide", "36 36 36_1/4", calc.TrimOff, "36 in", "apart, widest near the bottom."},
		{"all but the first edge are wide", "36 36_1/4 36_1/4", calc.TrimOff, "36 in", "apart, widest across the middle."},
		{"all but the other edge are wide", "36_1/4 36_1/4 36", calc.TrimOff, "36 in", "apart, widest near the top."},
		{"of two edges without a middle nothing is said of it", "36_1/4 - 36", calc.TrimOff, "36 in", "apart, widest near the top."},
		{"one edge and the middle do not make a bulge", "36 36_1/4 -", calc.TrimOff, "36 in", "apart, widest across the middle."},
		{"nor the other edge", "- 36_1/4 36", calc.TrimOff, "36 in", "apart, widest across the middle."},
		{"the least is looked for among what is measured", "- 36 36_3/4", calc.Mend, "36 in", "least across the middle, most near the bottom."},
		{"of two alike the first is named", "36 36_3/4 36_3/4", calc.Mend, "36 in", "least near the top, most across the middle."},
		{"also of two that are the least", "36 36 36_3/4", calc.Mend, "36 in", "least near the top, most near the bottom."},
		// 1/4 in 20 (cp): 36 may be eased by 0.45, 20 by just 1/4, 16 by 0.2.
		{"what eases is said", "36_1/4 36 36", calc.TrimOff, "36 in", "It could also be eased: up to 7/16 in goes"},
		{"just as much as eases", "20_1/4 20 20", calc.TrimOff, "20 in", "It could also be eased: up to 1/4 in goes"},
		{"more than eases", "16_1/4 16 16", calc.TrimOff, "16 in", "They are 1/4 in apart, widest near the top."},
	} {
		got := calc.NewSquareUp(measured(t, c.widths+", - - -, - -"), calc.Size{}, usual).Width
		if eases := strings.Contains(got.Verdict.Text, "eased: up to"); eases && c.name == "more than eases" {
			t.Errorf("%s: widths %s: it says %q", c.name, c.widths, got.Verdict.Text)
		}
		if got.Verdict.Kind != c.kind || got.BuildOn.Shown() != c.buildOn || !strings.Contains(got.Verdict.Text, c.says) {
			t.Errorf("%s: widths %s = %s, build on %s, %q; want %s, %s, with %q",
				c.name, c.widths, got.Verdict.Kind, got.BuildOn.Shown(), got.Verdict.Text, c.kind, c.buildOn, c.says)
		}
	}
	mean := calc.NewSquareUp(measured(t, "27_1/4 27_1/4 27_1/8, - - -, - -"), calc.Size{}, usual).Width.Mean
	if got := mean.Value(); got != "27.208333" {
		t.Errorf("mean of 27 1/4, 27 1/4, 27 1/8 = %s; want 27.208333 (Quilty Folk, 5 May 2014)", got)
	}
}

func TestShapesAreToldApart(t *testing.T) {
	for _, c := range []struct{ name, measures, kind, says string }{
		{"60 x 80 with 100 twice (derived)", "60 60 60, 80 80 80, 100 100", calc.Rectangle, "true"},
		{"1/8 in between the diagonals will do (cp)", "60 60 60, 80 80 80, 100_1/8 100", calc.Rectangle, "true"},
		{"1/2 in between them leans to corner 1 (derived)", "60 60 60, 80 80 80, 100_1/4 99_3/4", calc.Leaning, "to the left"},
		{"the other way it leans to corner 2 (derived)", "60 60 60, 80 80 80, 99_3/4 100_1/4", calc.Leaning, "to the right"},
		// Isosceles: d² = ac + b², 60 x 60.375 + 80² (Ptolemy); equal diagonals and yet
		// no rectangle (Sonoma State University, Math 150, Theorem 6).
		{"an isosceles trapezoid fails", "60_3/8 60_3/16 60, 80 80 80, 100.112 100.112", calc.Trapezoid, "do not make that true"},
		{"edges 1/8 in apart are not uneven (cp)", "60_1/8 60_1/16 60, 80 80 80, 100_1/16 100_1/16", calc.Rectangle, "true"},
		{"one edge alone is not uneven", "60_3/8 60 -, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"nor the other", "- 60 60_3/8, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"one diagonal alone proves nothing", "60 60 60, 80 80 80, 100 -", calc.Unknown, "not known"},
		{"nor the other", "60 60 60, 80 80 80, - 100", calc.Unknown, "not known"},
		{"no lengths", "60 60 60, - - -, 100 100", calc.Unknown, "not known"},
		{"no widths", "- - -, 80 80 80, 100 100", calc.Unknown, "not known"},
		{"uneven widths say by how much", "60_3/8 60_3/16 60, 80 80 80, - -", calc.Trapezoid, "Opposite edges differ: top and bottom by 3/8 in."},
		{"uneven lengths too", "60 60 60, 80 80_1/8 80_1/4, - -", calc.Trapezoid, "Opposite edges differ: left and right by 1/4 in."},
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

// Without diagonals nothing is said of them; a seam that is off in either direction is
// looked for before anything is trimmed.
func TestWhatIsDoneAboutUnevenEdges(t *testing.T) {
	const find, trim = "Find the seam that is off and mend it. Then measure again.", "Trim the longer edge to the shorter one."
	for measures, act := range map[string]string{
		"61 60_1/2 60, 80 80 80, - -":      find,
		"60 60 60, 81 80_1/2 80, - -":      find,
		"60_3/8 60_3/16 60, 80 80 80, - -": trim,
		"60 60 60, 80 80_1/8 80_1/4, - -":  trim,
	} {
		v := calc.NewSquareUp(measured(t, measures), calc.Size{}, usual).Shape.Verdict
		if v.Kind != calc.Trapezoid || v.Act != act || strings.Contains(v.Text, "diagonals") {
			t.Errorf("%s: %s, %q, %q; want %s, nothing of diagonals, %q", measures, v.Kind, v.Text, v.Act, calc.Trapezoid, act)
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

func TestWhatIsTrimmedOffWhichEdge(t *testing.T) {
	for _, c := range []struct{ name, measures, want string }{
		{"alike at both ends where diagonals are equal", "60_3/8 60_3/16 60, 80 80 80, 100.112 100.112",
			"left at corner 1 3/16 in; right at corner 2 3/16 in"},
		// Right edge out by 3/8 at the top: d2² = 60.375² + 80², d1² = 60² + 80² (derived).
		{"all of it where the diagonals say so", "60_3/8 60_3/16 60, 80 80 80, 100 100.225",
			"right at corner 2 3/8 in"},
		// Right side longer by 1/4, its top up: d2² = 60² + 80.25² (derived).
		{"the longer side at its top", "60 60 60, 80 80_1/8 80_1/4, 100 100.2",
			"top at corner 2 1/4 in"},
		{"a bulge, half off each side", "60 60_1/4 60, 80 80 80, 100 100", "left at the middle 1/8 in; right at the middle 1/8 in"},
		{"alike at both ends without diagonals", "60_3/8 60_3/16 60, 80 80 80, - -",
			"left at corner 1 3/16 in; right at corner 2 3/16 in"},
		// The widths' 3/8 go with the diagonals, all at corner 2. They are counted once: of the
		// longer right side half comes off at the top, half at the bottom.
		{"both ways, the diagonals counted once", "60_3/8 60_3/16 60, 80 80_1/8 80_1/4, 100 100.4",
			"right at corner 2 3/8 in; top at corner 2 1/8 in; bottom at corner 3 1/8 in"},
		{"nothing of an edge that is not measured", "60 60_1/4 -, 80 80 80, 100 100", "left at the middle 1/8 in; right at the middle 1/8 in"},
		{"nothing where all agree", "60 60 60, 80 80 80, 100 100", ""},
		{"nothing where a seam must be mended", "60 61 60, 80 80 80, - -", ""},
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
	if got := calc.NewSquareUp(measured(t, "36 36_1/4 36, - - -, - -"), calc.Size{}, lim).Width.Verdict.Kind; got != calc.Ease {
		t.Errorf("1/4 in apart, 1/4 in allowed: %s; want ease", got)
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
