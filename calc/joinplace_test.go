package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// partsIn are how long the parts of a strip are, in inches and in order, as a crosswise
// layout has them.
func partsIn(way *calc.Way, border int, edge string) []float64 {
	var parts []float64
	for n := 0; n < 50; n++ {
		for _, x := range way.Layout {
			if x.Border == border && x.Edge == edge && x.Part == n {
				parts = append(parts, x.Width.Length.Float(calc.Inch))
			}
		}
	}
	return parts
}

// The whole of every join lies between the strip's dots, 2 in or more from either, or a note
// says that the side is too short for that: any border, any fabric.
func TestEveryJoinKeepsClearOfTheDots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, what)) / 8 }
		cut, other, usable := num("cut", 8, 80), num("cutTopBottom", 8, 80), num("usable", 200, 400)
		side := map[calc.Edges]float64{calc.TopBottom: num("width", 60, 800), calc.Sides: num("length", 60, 800)}
		join := rapid.SampledFrom([]string{"straight", "diagonal"}).Draw(t, "join")
		plan := fmt.Sprintf(`{"center":{"width":"%g","length":"%g"},"borders":[{"name":"bank","cut":"%g","cutTopBottom":"%g","fabric":{"usableWidth":"%g","join":%q,"runs":"crosswise"}}]}`,
			side[calc.TopBottom], side[calc.Sides], cut, other, usable, join)
		s := sheetOf(t, plan)
		way := s.Fabric[0].Crosswise
		if !way.Fits {
			t.Skip("can't be joined")
		}
		said := strings.Count(strings.Join(s.Notes, "\n"), "too short for a join")
		for _, x := range s.Strips {
			takes := 0.5
			if join == "diagonal" {
				takes = x.CutWidth.Length.Float(calc.Inch)
			}
			long := x.CutLength.Length.Float(calc.Inch)
			dot := (long-side[x.Edges])/2 + 0.25
			for _, edge := range map[calc.Edges][]string{calc.Sides: {"left", "right"}, calc.TopBottom: {"top", "bottom"}}[x.Edges] {
				at := 0.0
				parts := partsIn(way, 1, edge)
				for _, n := range parts[:len(parts)-1] {
					at += n - takes
					if (at < dot+2 || at+takes > long-dot-2) && said == 0 {
						t.Fatalf("%s\n%s: %v of %g, dots %g from the ends; a join from %g to %g, and no note", plan, edge, parts, long, dot, at, at+takes)
					}
				}
				if whole := at + parts[len(parts)-1]; !near(whole, long, 1e-9) {
					t.Fatalf("%s\n%s: %v come to %g; want %g", plan, edge, parts, whole, long)
				}
			}
		}
	})
}

// 60 1/2 + 2 x 11 1/2 + 4 = 87 1/2, and two straight joins: 88 1/2 of rows of 40, four times
// 354, which is nine rows. Cut to the rows' ends, 40 and 40 and 8 1/2, a join would lie on the
// miter, which begins at the dot, 13 3/4 from the end. (derived)
func TestNineRowsDoWithoutAJoinOnTheMiter(t *testing.T) {
	way := sheetOf(t, `{"center":{"width":"60 1/2","length":"60 1/2"},"borders":[{"cut":"11 1/2","fabric":{"join":"straight","runs":"crosswise"}}]}`).Fabric[0].Crosswise
	if way.Length.Value() != "103.5" || len(way.Layout) != 12 {
		t.Errorf("four of 87 1/2 from rows of 40: %s, %d parts; want 9 rows of 11 1/2, 12 parts", way.Length.Value(), len(way.Layout))
	}
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		parts := partsIn(way, 1, edge)
		if first, last := parts[0], parts[len(parts)-1]; first < 16.25 || last < 16.25 {
			t.Errorf("%s: %v; want ends of 13 3/4 and 2 and 1/2 at least", edge, parts)
		}
	}
}

// 30 1/2 + 2 x 1 + 4 = 36 1/2 fits a row of 40, and joins would save none of four.
func TestStripsThatFitARowAreNotJoined(t *testing.T) {
	way := sheetOf(t, `{"center":{"width":"30 1/2","length":"30 1/2"},"borders":[{"cut":"1","fabric":{"runs":"crosswise"}}]}`).Fabric[0].Crosswise
	if way.Length.Value() != "4" || way.Join != "" {
		t.Errorf("four of 36 1/2: %s, joined %q; want 4, in one each", way.Length.Value(), way.Join)
	}
}

// A side of 6 in between bands of 12: no join fits between the dots with 2 in to spare, so
// it lies in the middle, and the sheet says so. 6 + 24 + 4 = 34, from rows of 30.
func TestASideTooShortForAJoinIsSaid(t *testing.T) {
	s := sheetOf(t, `{"center":{"width":"6","length":"6"},"borders":[{"name":"bank","cut":"12","fabric":{"usableWidth":"30","join":"diagonal","runs":"crosswise"}}]}`)
	if got := fmt.Sprint(partsIn(s.Fabric[0].Crosswise, 1, "top")); got != "[23 23]" {
		t.Errorf("parts %s; want 23 and 23, which join to 34 and lose 12", got)
	}
	if notes := strings.Join(s.Notes, "\n"); !strings.Contains(notes, "bank, sides: the side is too short for a join that stays 2 in clear of the dots; it lies as near the middle as it can.") {
		t.Errorf("notes\n%s\nwant that the side is too short", notes)
	}
}

// (derived) Beside the sides' strips of 6 1/2 in little is left of 42 in across for parts, so that
// 53 1/2 in takes three; of 60 in two do. A print that lies either way shows no join so.
func TestManyJoinsInAPrintWithHeadsAreSaid(t *testing.T) {
	const plan = `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"herons","cut":"6 1/2","motif":"8","fabric":{"usableWidth":"%s","join":"straight"%s}}]}`
	for fabric, said := range map[[2]string]bool{
		{"42", `,"way":"one-way","heads":"up"`}: true,
		{"60", `,"way":"one-way","heads":"up"`}: false,
		{"20", `,"runs":"crosswise"`}:           false,
	} {
		notes := strings.Join(sheetOf(t, fmt.Sprintf(plan, fabric[0], fabric[1])).Notes, "\n")
		if strings.Contains(notes, "a strip is joined from") != said {
			t.Errorf("%s in wide%s: the notes are %q; want many joins said: %t", fabric[0], fabric[1], notes, said)
		}
	}
}
