package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func copedPlan(t rapid.TB, width, length, motif, coping string) calc.Plan {
	t.Helper()
	return planOf(t, fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":"2"},{"cut":"5 1/2","motif":%q}],"coping":%s}`,
		width, length, motif, coping))
}

func TestCopingStripsMakeTheCenter(t *testing.T) {
	// A seam allowance of 1/4 in: raw sides are 1/2 in more than finished.
	for _, c := range []struct{ width, length, motif, coping, cut, center, source string }{
		{"46 1/2", "50 1/2", "5", `{"edges":"sides"}`, "2.5", "50.5 x 50.5", "J. Laquidara, 1 July 2009: 46 up to 50, 2 a side, cut 2 1/2"},
		{"58 1/2", "60 1/2", "5", `{"edges":"sides"}`, "1.5", "60.5 x 60.5", "the same: 58 up to 60, 1 a side, cut 1 1/2"},
		{"20 1/2", "28 7/8", "10", `{"edges":"sides"}`, "4.6875", "28.875 x 28.875", "M. McNeil: 20 1/2 to 28 7/8, 8 3/8, 4 3/16 a side; the cut (derived)"},
		{"60 1/2", "80 1/2", "6", `{"edges":"sides"}`, "1.5", "62.5 x 80.5", "(derived) 62 x 80 is 18 apart, three repeats"},
		{"60 1/2", "80 1/2", "6", `{"edges":"topBottom"}`, "2.5", "60.5 x 84.5", "(derived) 60 x 84 is 24 apart, four repeats"},
		{"60 1/2", "61", "6", `{"edges":"sides"}`, "3.75", "67 x 61", "(derived) 1/4 in a side is fussy (cp): a repeat more"},
		{"60 1/2", "80 1/2", "6", `{"edges":"sides","cut":"3"}`, "3", "65.5 x 80.5", "(derived) as given, 2 x (3 - 1/2) more"},
	} {
		p := copedPlan(t, c.width, c.length, c.motif, c.coping)
		got := [2]string{p.Coping.Cut.Value(calc.Inch), p.Center.Width.Value(calc.Inch) + " x " + p.Center.Length.Value(calc.Inch)}
		if want := [2]string{c.cut, c.center}; got != want {
			t.Errorf("%s x %s with %s and %s: cut, center %q; want %q (%s)", c.width, c.length, c.motif, c.coping, got, want, c.source)
		}
		if pieced := p.Pieced.Width.Value(calc.Inch); pieced != length(t, c.width).Value(calc.Inch) {
			t.Errorf("%s x %s and %s: pieced %s wide; want it as written", c.width, c.length, c.coping, pieced)
		}
	}
}

func TestCopingFollowsTheCenterAsItIsPieced(t *testing.T) {
	for _, c := range []struct{ name, coping, width, length, cut, center string }{
		{"1/8 in narrower is made up for", `{"edges":"sides"}`, "60 3/8", "80 1/2", "1.5625", "62.5 x 80.5"},
		{"1/8 in longer too", `{"edges":"sides"}`, "60 1/2", "80 5/8", "1.5625", "62.625 x 80.625"},
		{"strips cut as the plan says stay so", `{"edges":"sides","cut":"1 1/2"}`, "60 3/8", "80 1/2", "1.5", "62.375 x 80.5"},
		{"wider by what they add: a repeat more", `{"edges":"sides"}`, "62 1/2", "80 1/2", "3.5", "68.5 x 80.5"},
		{"under what is fussy: a repeat more", `{"edges":"sides"}`, "63", "80 1/2", "3.25", "68.5 x 80.5"},
		{"half a repeat off goes to the narrower", `{"edges":"sides"}`, "63 1/2", "80 1/2", "3", "68.5 x 80.5"},
	} {
		p := copedPlan(t, "60 1/2", "80 1/2", "6", c.coping)
		q, err := p.WithCenter(calc.Size{Width: length(t, c.width), Length: length(t, c.length)})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		got := [2]string{q.Coping.Cut.Value(calc.Inch), q.Center.Width.Value(calc.Inch) + " x " + q.Center.Length.Value(calc.Inch)}
		if want := [2]string{c.cut, c.center}; got != want {
			t.Errorf("%s: cut, center %q; want %q", c.name, got, want)
		}
	}
}

// A plan whose strips finish at just 1/2 in keeps them, and does not add a whole
// repeat more, where the center measures a little wider.
func TestCopingNearlyFussyDoesNotJump(t *testing.T) {
	p := copedPlan(t, "60 1/2", "61 1/2", "6", `{"edges":"sides"}`)
	for width, cut := range map[string]string{"60 1/2": "1", "60 5/8": "0.9375", "60 3/4": "0.875", "61": "3.75"} {
		q, err := p.WithCenter(calc.Size{Width: length(t, width), Length: p.Pieced.Length})
		if err != nil || q.Coping.Cut.Value(calc.Inch) != cut {
			t.Errorf("pieced %s wide: cut %s, %v; want %s", width, q.Coping.Cut.Value(calc.Inch), err, cut)
		}
	}
}

func TestCopedCenterIsTakenAsItMeasures(t *testing.T) {
	p := copedPlan(t, "60 1/2", "80 1/2", "6", `{"edges":"sides"}`)
	q, err := p.WithCoped(calc.Size{Width: length(t, "62 3/8"), Length: p.Center.Length})
	if err != nil || q.Center.Width.Value(calc.Inch) != "62.375" || !q.Coping.Cut.Equal(p.Coping.Cut) || !q.Pieced.Width.Equal(p.Pieced.Width) {
		t.Errorf("WithCoped(62 3/8 wide) = center %s, cut %s, pieced %s, %v; want 62.375, as planned, as pieced",
			q.Center.Width.Value(calc.Inch), q.Coping.Cut.Value(calc.Inch), q.Pieced.Width.Value(calc.Inch), err)
	}
	for _, good := range []string{"5/8", "1000"} {
		if _, err := p.WithCoped(calc.Size{Width: length(t, good), Length: p.Center.Length}); err != nil {
			t.Errorf("WithCoped(%s wide) = %v; want none", good, err)
		}
	}
	for _, bad := range []string{"1/2", "1001"} {
		if _, err := p.WithCoped(calc.Size{Width: length(t, bad), Length: p.Center.Length}); err == nil {
			t.Errorf("WithCoped(%s wide) is accepted; want a fault", bad)
		}
		if _, err := p.WithCenter(calc.Size{Width: length(t, bad), Length: p.Center.Length}); err == nil {
			t.Errorf("WithCenter(%s wide) is accepted; want a fault", bad)
		}
	}
}

// On the center as planned nothing changes; on any other near it the strips make
// the print meet, none is fussy by more than what may be eased, and the total
// moves by no more than half a repeat where the plan's is far from fussy.
func TestCopingFollowsAnyCenter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawMotif(t)
		e := rapid.SampledFrom([]calc.Edges{calc.Sides, calc.TopBottom}).Draw(t, "edges")
		text := fmt.Sprintf(`{"unit":%q,"seam":"%s in","center":{"width":"%s in","length":"%s in"},"borders":[{"cut":"%s in","motif":"%s in"}],"coping":{"edges":%q}}`,
			p.Unit, p.Seam.Value(calc.Inch), p.Center.Width.Value(calc.Inch), p.Center.Length.Value(calc.Inch),
			p.Borders[0].Cut.Value(calc.Inch), p.Borders[0].Motif.Value(calc.Inch), e)
		p, err := calc.ParsePlan([]byte(text))
		if err != nil {
			return // nothing to mend
		}
		same := func(what string, got, want calc.Length) {
			if !got.Equal(want) {
				t.Errorf("%s: %s %s; want %s", text, what, got.Value(calc.Inch), want.Value(calc.Inch))
			}
		}
		again, err := p.WithCenter(p.Pieced)
		if err != nil {
			t.Fatalf("WithCenter(as planned) = %v", err)
		}
		same("as planned, cut", again.Coping.Cut, p.Coping.Cut)
		same("as planned, width", again.Center.Width, p.Center.Width)
		same("as planned, length", again.Center.Length, p.Center.Length)

		eighth := func(what string) calc.Length {
			return calc.Of(rapid.Int64Range(0, 24).Draw(t, what), 8, calc.Inch)
		}
		q, err := p.WithCenter(calc.Size{Width: p.Pieced.Width.Add(eighth("wider")), Length: p.Pieced.Length.Add(eighth("longer"))})
		if err != nil {
			t.Fatalf("WithCenter = %v", err)
		}
		if m, _, _ := calc.MatchOf(q, 1); m.Mismatch.Length.Sign() != 0 {
			t.Errorf("%s on %s x %s: misses by %s; want it to meet", text, q.Pieced.Width.Value(calc.Inch), q.Pieced.Length.Value(calc.Inch), m.Mismatch.Value())
		}
		least, motif := calc.Of(3, 8, calc.Inch), p.Borders[0].Motif
		if p.Unit == calc.Centimeter {
			least = calc.Of(9, 10, calc.Centimeter)
		}
		finished := q.Coping.Cut.Sub(q.Seam.Times(2))
		if finished.Less(least) {
			t.Errorf("%s: a strip finishes at %s; want %s or more", text, finished.Value(calc.Inch), least.Value(calc.Inch))
		}
		moved := q.Coping.Cut.Sub(p.Coping.Cut).Times(2)
		if roomy := motif.Half().Add(least.Times(2)); !p.Coping.Cut.Sub(p.Seam.Times(2)).Times(2).Less(roomy) && motif.Half().Less(calc.Length{}.Sub(moved)) {
			t.Errorf("%s: the total moves by %s; want half a repeat at most", text, moved.Value(calc.Inch))
		}
		if motif.Half().Less(moved) && !finished.Sub(motif.Half()).Less(least) {
			t.Errorf("%s: the total grows by %s, and a repeat less would do", text, moved.Value(calc.Inch))
		}
	})
}

func TestSheetHasTheCopingStrips(t *testing.T) {
	s := calc.NewSheet(copedPlan(t, "60 1/2", "80 1/2", "6", `{"edges":"topBottom"}`))
	c := s.Coping
	// 60 x 80 finished with 6 lacks 4 in its length (derived, as in match_test.go).
	got := fmt.Sprint(c.Edges, c.Count, " ", c.CutWidth.Shown(), " x ", c.CutLength.Shown(), ", adds ", c.Total.Shown())
	if want := "topBottom2 2 1/2 in x 60 1/2 in, adds 4 in"; got != want {
		t.Errorf("coping strips %s; want %s", got, want)
	}
	if s.Pieced.Length.Value() != "80.5" || s.Center.Length.Value() != "84.5" || s.Match[0].Mismatch.Value() != "0" {
		t.Errorf("pieced %s, center %s, mismatch %s; want 80.5, 84.5, 0", s.Pieced.Length.Value(), s.Center.Length.Value(), s.Match[0].Mismatch.Value())
	}
	// Two strips of 60 1/2 are 121: 4 rows of 40 in all, less straight joins of 1/2.
	way := c.Fabric.Picked()
	if c.Fabric.Pick != "crosswise" || way.Length.Value() != "10" || way.Join != "straight" || way.Layout[0].Border != 0 {
		t.Errorf("its fabric: %s %s, joined %s, of border %d; want crosswise, 10 (four rows of 2 1/2), straight, 0", c.Fabric.Pick, way.Length.Value(), way.Join, way.Layout[0].Border)
	}
	if bare := sheetOf(t, one("40", "40", "3", "4")); bare.Coping != nil || !bare.Pieced.Width.Length.Equal(bare.Center.Width.Length) {
		t.Errorf("a plan without coping has %+v, pieced %s; want none, as the center", bare.Coping, bare.Pieced.Width.Value())
	}
}

func TestCopingThatDoesNotMendIsNoted(t *testing.T) {
	// A square center meets without coping strips, so with a whole repeat of them: 3 in a
	// strip, cut 3 1/2. 80 x 79 lacks 5 in its length less 1, or so much more: 2 1/2 a strip.
	for center, want := range map[[2]string]string{
		{"60 1/2", "60 1/2"}: "miss each other by 1/4 in at every corner. Cut 3 1/2 in they meet",
		{"80 1/2", "79 1/2"}: "miss each other by 3/4 in at every corner. Cut 3 in they meet",
	} {
		notes := strings.Join(calc.NewSheet(copedPlan(t, center[0], center[1], "6", `{"edges":"sides","cut":"3/4"}`)).Notes, "\n")
		if !strings.Contains(notes, want) {
			t.Errorf("coping cut 3/4 on %s x %s: notes\n%s\nwant %q", center[0], center[1], notes, want)
		}
	}
	// Cut 1 they finish at 1/2, which is not fussy (cp).
	if notes := strings.Join(calc.NewSheet(copedPlan(t, "60 1/2", "80 1/2", "6", `{"edges":"sides","cut":"1"}`)).Notes, "\n"); strings.Contains(notes, "is fussy") {
		t.Errorf("coping cut 1: notes\n%s\nwant nothing fussy", notes)
	}
	for _, c := range []struct{ want, coping string }{
		{"cut 1 3/4 in the prints still miss each other by 1/4 in at every corner. Cut 1 1/2 in they meet", `{"edges":"sides","cut":"1 3/4"}`},
		{"cut 3/4 in the prints still miss each other by 3/4 in at every corner. Cut 1 1/2 in they meet", `{"edges":"sides","cut":"3/4"}`},
		{"on the sides finish at 1/4 in each, and one under 1/2 in is fussy", `{"edges":"sides","cut":"3/4"}`},
		{"cut 4 1/4 in the prints still miss each other by 1/4 in at every corner. Cut 4 1/2 in they meet", `{"edges":"sides","cut":"4 1/4"}`},
		{"cut 3 in the prints still miss each other by 1 1/2 in at every corner. Cut 1 1/2 in they meet", `{"edges":"sides","cut":"3"}`},
		{"cut 4 5/8 in the prints still miss each other by 1/8 in at every corner. Cut 4 1/2 in they meet", `{"edges":"sides","cut":"4 5/8"}`},
	} {
		notes := strings.Join(calc.NewSheet(copedPlan(t, "60 1/2", "80 1/2", "6", c.coping)).Notes, "\n")
		if !strings.Contains(notes, c.want) || strings.Contains(notes, "Coping strips mend it") {
			t.Errorf("coping %s: notes\n%s\nwant %q, and no other coping strips", c.coping, notes, c.want)
		}
	}
	if notes := calc.NewSheet(copedPlan(t, "60 1/2", "80 1/2", "6", `{"edges":"sides"}`)).Notes; len(notes) != 1 {
		t.Errorf("coping that mends: notes %q; want only the one on directed prints", notes)
	}
}

// 60 1/2 + 2 is 62 1/2, where a repeat of 6 meets on 80 1/2: 18 between them. Measured 1/8
// more, half of it is missed at each corner, 1/16; 1/2 more, 1/4, and 3/4 finished in
// place of 1, which are cut 1 1/4, would meet. 1/16 more is missed by half of a sixteenth.
func TestTheCenterAsMeasuredWithItsCopingStripsIsTold(t *testing.T) {
	p := copedPlan(t, "60 1/2", "80 1/2", "6", `{"edges":"sides"}`)
	for width, want := range map[string]string{
		"62 1/2":  "",
		"62 9/16": "the center measures 62 9/16 in with its coping strips, not 62 1/2 in, so the prints miss each other by 1/16 in at every corner. That is hardly seen.",
		"62 5/8":  "not 62 1/2 in, so the prints miss each other by 1/16 in at every corner. That is hardly seen.",
		"63":      "not 62 1/2 in, so the prints miss each other by 1/4 in at every corner. With coping strips cut 1 1/4 in they would meet.",
		"62":      "not 62 1/2 in, so the prints miss each other by 1/4 in at every corner. With coping strips cut 1 3/4 in they would meet.",
	} {
		q, err := p.WithCoped(calc.Size{Width: length(t, width), Length: p.Center.Length})
		if err != nil {
			t.Fatal(err)
		}
		s := calc.NewSheet(q)
		if notes := strings.Join(s.Notes, "\n"); want != "" && !strings.Contains(notes, want) || want == "" && len(s.Notes) != 1 || strings.Contains(notes, "they meet") {
			t.Errorf("measured %s: notes\n%s\nwant %q", width, notes, want)
		}
		if how := s.HowCoped(); strings.Contains(how, "60 1/2 + 2") != (width == "62 1/2") {
			t.Errorf("measured %s: reckoned as %q", width, how)
		}
	}
}

// A border that was narrowed on one pair of edges leaves nothing for coping strips to
// bring to meet: they stay as they were cut, whatever the center measures.
func TestCopingStaysWhereTheBandsDiffer(t *testing.T) {
	p := copedPlan(t, "60 1/2", "80 1/2", "6", `{"edges":"sides"}`)
	p = calc.Change{Border: 2, Edges: []calc.Edges{calc.Sides}, Cut: calc.Figure{Length: length(t, "5"), Unit: calc.Inch}}.Apply(p)
	q, err := p.WithCenter(calc.Size{Width: length(t, "60 1/4"), Length: length(t, "80 1/2")})
	if err != nil || !q.Coping.Cut.Equal(p.Coping.Cut) {
		t.Errorf("1/4 in narrower, the bands unlike: cut %s, %v; want %s as before", q.Coping.Cut.Value(calc.Inch), err, p.Coping.Cut.Value(calc.Inch))
	}
}

// Coping strips may be cut as wide, and make the center as large, as is reckoned at all.
func TestCopingAtItsLimits(t *testing.T) {
	planOf(t, `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"coping":{"edges":"sides","cut":"200"}}`)
	p := planOf(t, `{"center":{"width":"999","length":"20"},"borders":[{"cut":"4"}],"coping":{"edges":"sides","cut":"1"}}`)
	if got := p.Center.Width.Value(calc.Inch); got != "1000" {
		t.Errorf("999 and two strips of 1/2: a center %s wide; want 1000", got)
	}
}
