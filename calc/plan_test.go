package calc_test

import (
	"encoding/json"
	"fmt"
	"math"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// length reads a length written by hand in a test; a bare number is in inches.
func length(t rapid.TB, written string) calc.Length {
	t.Helper()
	l, err := calc.ParseLength(written, calc.Inch)
	if err != nil {
		t.Fatalf("ParseLength(%q, in) = %v", written, err)
	}
	return l
}

func sheetOf(t rapid.TB, plan string) calc.Sheet {
	t.Helper()
	p, err := calc.ParsePlan([]byte(plan))
	if err != nil {
		t.Fatalf("ParsePlan(%s) = %v", plan, err)
	}
	return calc.NewSheet(p)
}

// stripOf is the strip of one border (1 is innermost) on a pair of edges.
func stripOf(t rapid.TB, s calc.Sheet, border int, e calc.Edges) calc.Strip {
	t.Helper()
	for _, strip := range s.Strips {
		if strip.Border == border && strip.Edges == e {
			return strip
		}
	}
	t.Fatalf("the sheet has no strip for border %d on %s", border, e)
	return calc.Strip{}
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// writtenLength draws a length from lo to hi inches in one of the ways that
// quilters write.
func writtenLength(lo, hi float64) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		whole := func(perInch float64) int {
			return rapid.IntRange(int(math.Ceil(lo*perInch)), int(hi*perInch)).Draw(t, "n")
		}
		switch rapid.IntRange(0, 6).Draw(t, "way") {
		case 0:
			n := whole(8)
			if n < 8 {
				return fmt.Sprintf("%d/8 in", n)
			}
			return fmt.Sprintf("%d %d/8 in", n/8, n%8)
		case 1:
			n := whole(16)
			return fmt.Sprintf(`%d-%d/16"`, n/16, n%16)
		case 2:
			n := whole(1000)
			return fmt.Sprintf("%d.%03d in", n/1000, n%1000)
		case 3:
			n := whole(25.4)
			return fmt.Sprintf("%d mm", n)
		case 4:
			n := whole(254)
			return fmt.Sprintf("%d,%02d cm", n/100, n%100)
		case 5:
			n := whole(3)
			return fmt.Sprintf("%d %d/3 in", n/3, n%3)
		default:
			n := whole(10000.0 / 36)
			return fmt.Sprintf("%d.%04d yd", n/10000, n%10000)
		}
	})
}

// Seams that are in use; "" leaves the field out. None is over 3/8 in.
var seams = []string{"", "1/4 in", "3/8 in", "0.25 in", "7.5 mm", "0,6 cm", "7/32 in"}

// leastCut is more than two of any of the seams above, in inches.
const leastCut = 0.9

// plans draws a plan that can be made, as JSON.
func plans(mostBorders int) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		side, width := writtenLength(2, 120), writtenLength(leastCut, 12)
		plan := map[string]any{
			"unit":   rapid.SampledFrom([]string{"in", "cm"}).Draw(t, "unit"),
			"center": map[string]string{"width": side.Draw(t, "width"), "length": side.Draw(t, "length")},
		}
		if s := rapid.SampledFrom(seams).Draw(t, "seam"); s != "" {
			plan["seam"] = s
		}
		if rapid.Bool().Draw(t, "spare given") {
			plan["spare"] = writtenLength(0, 8).Draw(t, "spare")
		}
		borders := make([]map[string]string, rapid.IntRange(1, mostBorders).Draw(t, "borders"))
		unequal := rapid.Bool().Draw(t, "unequal")
		for i := range borders {
			borders[i] = map[string]string{"cut": width.Draw(t, "cut")}
			if unequal {
				borders[i]["cutTopBottom"] = width.Draw(t, "cutTopBottom")
			}
		}
		plan["borders"] = borders
		text, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	})
}
