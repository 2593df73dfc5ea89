package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// one is a plan of one border all round, in inches.
func one(width, length, cut, spare string) string {
	return fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q}],"spare":%q}`, width, length, cut, spare)
}

func TestStripLengthsAgreeWithPrint(t *testing.T) {
	for _, c := range []struct {
		plan, topBottom, sides, source string
	}{
		{one("20 1/2", "18 1/2", "5 1/2", "4"), "35.5", "33.5", "(cp)"},
		{one("60", "60", "6", "4"), "76", "76", "M. Dietrich, Happy Endings: Finishing the Edges of Your Quilt, Martingale"},
		{one("11", "14", "3 1/2", "1"), "19", "22", "Quilt Notes, February 2021"},
		{one("36", "36", "4", "2"), "46", "46", "M. Rhine, American Quilter's Society"},
		{one("40", "40", "5", "6"), "56", "56", `All People Quilt (Meredith), "Mitering borders"`},
		{one("40", "50", "2", "6"), "50", "60", `Craftsy blog, "Mitered quilt borders", March 2013`},
		// The rule with finished widths (1 and 4) and a spare of 1 is the rule
		// with the band's cut width, 5 1/2, and no spare.
		{`{"center":{"width":"50","length":"50"},"borders":[{"cut":"1 1/2"},{"cut":"4 1/2"}],"spare":"0"}`,
			"61", "61", "Better Done Quilts, 6 January 2021: 50 + 2 x 1 + 2 x 4 + 1, printed as 60"},
	} {
		s := sheetOf(t, c.plan)
		last := s.Strips[len(s.Strips)-1].Border
		if got := stripOf(t, s, last, calc.TopBottom).CutLength.Value(); got != c.topBottom {
			t.Errorf("%s: top and bottom strips are cut %s; want %s (%s)", c.plan, got, c.topBottom, c.source)
		}
		if got := stripOf(t, s, last, calc.Sides).CutLength.Value(); got != c.sides {
			t.Errorf("%s: side strips are cut %s; want %s (%s)", c.plan, got, c.sides, c.source)
		}
		if len(s.Notes) != 0 {
			t.Errorf("%s: notes %q; want none, the usual length covers the miter", c.plan, s.Notes)
		}
	}
}

func TestMarksAgreeWithPrint(t *testing.T) {
	// Half of 20 1/2 is 10 1/4 (cp).
	marks := sheetOf(t, one("20 1/2", "18 1/2", "5 1/2", "4")).Marks
	if got := marks.TopBottom.ToEnd.Value(); got != "10.25" {
		t.Errorf("20 1/2 wide: marks.topBottom.toEnd = %s; want 10.25", got)
	}
	if got := marks.Sides.ToDot.Value(); got != "9" {
		t.Errorf("18 1/2 long, seam 1/4: marks.sides.toDot = %s; want 9 (derived)", got)
	}
	// Marks 30 each way on 60, raw edge to raw edge (M. Dietrich, Happy Endings).
	if got := sheetOf(t, one("60", "60", "6", "4")).Marks.Sides.ToEnd.Value(); got != "30" {
		t.Errorf("60 long: marks.sides.toEnd = %s; want 30", got)
	}
}

func TestBordersSewnTogetherMakeTheBand(t *testing.T) {
	// Cut 1 1/2, 2, 4 1/2: band 7 cut, 6 1/2 finished (Quilter's World, 10 December 2018).
	s := sheetOf(t, `{"center":{"width":"40","length":"50"},"borders":[{"cut":"1 1/2"},{"cut":"2"},{"cut":"4 1/2"}]}`)
	for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
		band := s.Bands.On(e)
		if cut, finished := band.Cut.Value(), band.Finished.Value(); cut != "7" || finished != "6.5" {
			t.Errorf("borders cut 1 1/2, 2, 4 1/2 on %s: band %s cut, %s finished; want 7 and 6.5", e, cut, finished)
		}
	}
}

func TestLeastLengthOfEqualBandsIsTheKnownFormula(t *testing.T) {
	// side + 2 x cut − 0.29289 at a 1/4 in seam (derived).
	for _, c := range []struct{ side, cut, want, shown string }{
		{"63 1/2", "7", "77.207107", "77 1/4 in"},
		{"54 1/2", "7", "68.207107", "68 1/4 in"},
		{"20 1/2", "5 1/2", "31.207107", "31 1/4 in"},
		{"50", "5 1/2", "60.707107", "60 3/4 in"},
	} {
		least := stripOf(t, sheetOf(t, one(c.side, "40", c.cut, "4")), 1, calc.TopBottom).LeastLength
		if least.Value() != c.want || least.Shown() != c.shown {
			t.Errorf("side %s, cut %s: least length %s, shown %s; want %s, shown %s",
				c.side, c.cut, least.Value(), least.Shown(), c.want, c.shown)
		}
	}
}

func TestPrintedStripsThatAreTooShort(t *testing.T) {
	// A magazine's strips of 76 and 67 on a 63 x 54 center with the band of
	// Quilter's World, 10 December 2018 (block size inferred) have no spare.
	s := sheetOf(t, `{"center":{"width":"63 1/2","length":"54 1/2"},"borders":[{"cut":"1 1/2"},{"cut":"2"},{"cut":"4 1/2"}]}`)
	for _, c := range []struct {
		edges          calc.Edges
		printed, least string
	}{{calc.TopBottom, "76", "77.207107"}, {calc.Sides, "67", "68.207107"}} {
		least := stripOf(t, s, 3, c.edges).LeastLength
		if least.Value() != c.least || !length(t, c.printed).Less(least.Length) {
			t.Errorf("%s: least length %s; want %s, over the printed %s", c.edges, least.Value(), c.least, c.printed)
		}
	}
	// 50 + 2 x 1 + 2 x 4 + 1 = 61 was printed as 60, under the least length; 61
	// is over it (Better Done Quilts, 6 January 2021: a slip).
	least := stripOf(t, sheetOf(t, one("50", "50", "5 1/2", "0")), 1, calc.Sides).LeastLength.Length
	if !length(t, "60").Less(least) || !least.Less(length(t, "61")) {
		t.Errorf("side 50, finished width 5: least length %s; want it between the printed 60 and the true 61", least.Value(calc.Inch))
	}
	// A formula with the finished width needs a spare of at least 0.7071 (derived).
	if got := least.Sub(length(t, "60")).Value(calc.Inch); got != "0.707107" {
		t.Errorf("least length − (side + 2 x finished width) = %s; want 0.707107", got)
	}
}

func TestSparesInPrintCoverTheMiter(t *testing.T) {
	// Spares in print: 1/2, 1, 2, 4, 6, 8 (the sources of the strip lengths above, and (cp)).
	for _, spare := range []string{"1/2", "1", "2", "4", "6", "8"} {
		strip := stripOf(t, sheetOf(t, one("36 1/2", "48 1/2", "6 1/2", spare)), 1, calc.Sides)
		if want := length(t, "61 1/2").Add(length(t, spare)); !strip.CutLength.Length.Equal(want) {
			t.Errorf("spare %s: side strips are cut %s; want 61 1/2 + %s", spare, strip.CutLength.Shown(), spare)
		}
		if strip.CutLength.Length.Less(strip.LeastLength.Length) {
			t.Errorf("spare %s: cut %s, under the least length %s", spare, strip.CutLength.Shown(), strip.LeastLength.Shown())
		}
	}
}

func TestStripLooksAtTheNeighboringBand(t *testing.T) {
	// 30 + 2 x 6 + 4 = 46 for top and bottom, 40 + 2 x 3 + 4 = 50 for the sides (derived from the rule).
	s := sheetOf(t, `{"center":{"width":"30","length":"40"},"borders":[{"cut":"6","cutTopBottom":"3"}]}`)
	if got := stripOf(t, s, 1, calc.TopBottom).CutLength.Value(); got != "46" {
		t.Errorf("top and bottom cross the side band, cut 6: %s; want 46", got)
	}
	if got := stripOf(t, s, 1, calc.Sides).CutLength.Value(); got != "50" {
		t.Errorf("sides cross the top and bottom band, cut 3: %s; want 50", got)
	}
}

func TestStripTooShortForItsMiterIsLengthenedAndSaidSo(t *testing.T) {
	// Finished 1/2 on the sides against 9 1/2: the tail's tip lies far out, at
	// 40 − 1/2 + 2(3/4 x 19 + 1/4 x 2√90.5) = 77.513149 (derived).
	s := sheetOf(t, `{"center":{"width":"30","length":"40"},"borders":[{"name":"rope","cut":"1","cutTopBottom":"10"}],"spare":"0"}`)
	sides := stripOf(t, s, 1, calc.Sides)
	if least := sides.LeastLength.Value(); least != "77.513149" {
		t.Errorf("least length of the sides %s; want 77.513149", least)
	}
	if cut := sides.CutLength.Value(); cut != "77.625" {
		t.Errorf("cut length of the sides %s; want 77.625, the least length up to 1/8 in, not 60", cut)
	}
	if len(s.Notes) != 1 || !strings.Contains(s.Notes[0], "rope, sides") || !strings.Contains(s.Notes[0], "77 5/8 in") {
		t.Errorf("notes %q; want one that names rope, sides and 77 5/8 in", s.Notes)
	}
	if cut := stripOf(t, s, 1, calc.TopBottom).CutLength.Value(); cut != "32" {
		t.Errorf("cut length of top and bottom %s; want 32, which covers its miter", cut)
	}
}

// Whatever the plan, no strip is planned or shown under its least length: its
// length is the usual one, or its least up to the ruler's next line, and then
// there is a note.
func TestNoStripIsUnderItsLeastLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plan := plans(calc.MaxBorders).Draw(t, "plan")
		p, err := calc.ParsePlan([]byte(plan))
		if err != nil {
			t.Fatalf("ParsePlan(%s) = %v", plan, err)
		}
		s := calc.NewSheet(p)
		notes := strings.Join(s.Notes, "\n")
		for _, strip := range s.Strips {
			cut, least := strip.CutLength, strip.LeastLength
			want := s.Center.Along(strip.Edges).Length.Add(s.Bands.On(strip.Edges.Neighbor()).Cut.Length.Times(2)).Add(p.Spare)
			if want.Less(least.Length) {
				want = length(t, calc.Figure{Length: least.Length, Unit: s.Unit, Rounding: calc.CutUp}.Shown())
				if !strings.Contains(notes, cut.Shown()) {
					t.Errorf("border %d, %s: lengthened to %s; no note says so: %s", strip.Border, strip.Edges, cut.Shown(), notes)
				}
			}
			if strip.Count != 2 || !cut.Length.Equal(want) {
				t.Errorf("border %d, %s: %d strips of %s; want 2 of %s", strip.Border, strip.Edges, strip.Count, cut.Value(), want.Value(s.Unit))
			}
			if cut.Length.Less(least.Length) {
				t.Errorf("border %d, %s: cut %s, least %s", strip.Border, strip.Edges, cut.Value(), least.Value())
			}
			if shown := length(t, cut.Shown()); shown.Less(cut.Length) || shown.Less(least.Length) {
				t.Errorf("border %d, %s: shown as %s, short of %s or of %s", strip.Border, strip.Edges, cut.Shown(), cut.Value(), least.Value())
			}
		}
	})
}
