package calc_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func TestAPieceAtHand(t *testing.T) {
	for _, c := range []struct {
		name, plan, width, length string
		enough                    bool
		pick, short, widest       string
	}{
		// Crosswise at 8 wide each strip, 60 + 16 = 76 long, comes out of two rows
		// of 42, 84 less 8 for the join, exactly: 8 rows of 8, and 2 to even, 66. An
		// eighth wider it does not, and nine rows are 73 1/8.
		{"a piece that is enough", one("60", "60", "5", "0"), "42", "72", true, "crosswise", "0", "8 in"},
		// Lengthwise four strips of 60 + 2 x 5 = 70 side by side, 2 to even: 72. Four
		// go into 42 up to 10 1/2 wide, 81 long.
		{"a hair short", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "42", "71.99", false, "lengthwise", "1/16 in", "4 7/8 in"},
		{"exactly as long as it takes", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "42", "72", true, "lengthwise", "0", "5 in"},
		{"longer, the width decides", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "42", "90", true, "lengthwise", "0", "10 1/2 in"},
		{"too narrow for any length", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "4", "900", false, "", "0", "4 in"},
		// Lengthwise four strips side by side: 2 x w + 2 x (w + 2), which are 40 for w = 9.
		{"wider on top and bottom", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","cutTopBottom":"7","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "40", "90", true, "lengthwise", "0", "9 in"},
		// 2 x w + 2 x (w − 2) are 40 for w = 11; the sides are 60 + 2 x 9 long.
		{"narrower on top and bottom", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"7","cutTopBottom":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "40", "90", true, "lengthwise", "0", "11 in"},
		// Of a piece that is too narrow for it the border on the other pair must show too.
		{"narrower, and hardly anything of it left", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"7","cutTopBottom":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "2 5/8", "900", false, "", "0", "2 5/8 in"},
		{"narrower, and nothing", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"7","cutTopBottom":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "2 1/2", "900", false, "", "0", "0 in"},
		{"as wide as is reckoned", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "1000", "1000", true, "lengthwise", "0", "200 in"},
		// Columns are 70 high, with 2 to even 72; rows of 70 x 10, four of them, 40 and 42.
		{"rows take less", `{"center":{"width":"50","length":"50"},"borders":[{"cut":"10","fabric":{"join":"none"}}],"spare":"0"}`, "70", "42", true, "crosswise", "0", "10 in"},
		// Four strips of 40 x 10 are 40 either way.
		{"as much either way", `{"center":{"width":"20","length":"20"},"borders":[{"cut":"10","fabric":{"join":"none"}}],"spare":"0"}`, "40", "42", true, "lengthwise", "0", "10 in"},
		{"only rows fit", `{"center":{"width":"20","length":"20"},"borders":[{"cut":"10","fabric":{"join":"none","runs":"crosswise"}}],"spare":"0"}`, "40", "41", false, "crosswise", "1 in", "9 3/4 in"},
		{"a scrap", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"5","fabric":{"runs":"lengthwise"}}],"spare":"0"}`, "4", "10", false, "", "0", "0 in"},
	} {
		got := calc.Enough(planOf(t, c.plan), 1, length(t, c.width), length(t, c.length), wanted)
		short := "0"
		if got.ShortBy.Length.Sign() > 0 {
			short = got.ShortBy.Shown()
		}
		if got.Enough != c.enough || got.Pick != c.pick || short != c.short || got.Widest.Shown() != c.widest {
			t.Errorf("%s: enough %t, %q, short by %s, widest %s; want %t, %q, %s, %s", c.name,
				got.Enough, got.Pick, short, got.Widest.Shown(), c.enough, c.pick, c.short, c.widest)
		}
	}
}

// What is said to be the widest is enough, and a ruler's line more is not.
func TestTheWidestThatAPieceAllows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		extra := ""
		if rapid.Bool().Draw(t, "striped") {
			extra = fmt.Sprintf(`,"stripe":"%d/8"`, num("stripe", 2, 24))
		}
		if rapid.Bool().Draw(t, "printed") {
			extra += fmt.Sprintf(`,"motif":"%d/8"`, num("motif", 8, 64))
		}
		width, long := length(t, fmt.Sprint(num("piece width", 4, 110))), length(t, fmt.Sprint(num("piece length", 10, 300)))
		center := [2]int{num("width", 10, 90), num("length", 10, 90)}
		with := func(cut string) calc.Plan {
			return planOf(t, fmt.Sprintf(`{"center":{"width":"%d","length":"%d"},"borders":[{"cut":%q%s}]}`, center[0], center[1], cut, extra))
		}
		widest := calc.Enough(with("3"), 1, width, long, wanted).Widest.Length
		if widest.Sign() > 0 && !calc.Enough(with(widest.Value(calc.Inch)), 1, width, long, wanted).Enough {
			t.Errorf("the widest, %s, is not to be had", widest.Value(calc.Inch))
		}
		if widest.Sign() == 0 {
			widest = length(t, "1/2")
		}
		if more := widest.Add(length(t, "1/8")); calc.Enough(with(more.Value(calc.Inch)), 1, width, long, wanted).Enough {
			t.Errorf("the widest is %s, yet %s is to be had", widest.Value(calc.Inch), more.Value(calc.Inch))
		}
	})
}

// Two borders of one fabric, each 60 long with strips of 3 and 2 cut lengthwise: four of
// each side by side are 20, and 60 + 2 x 4 1/2 (the band of 5 less a seam of 1/2) = 69
// long, 2 to even: 71. One of them alone would take no less length (derived).
func TestAPieceForTwoBordersOfOneFabric(t *testing.T) {
	const shared = `{"center":{"width":"60","length":"60"},"spare":"0","borders":[
		{"cut":"3","fabric":{"name":"indigo","runs":"lengthwise"}},{"cut":"2","fabric":{"name":"indigo","runs":"lengthwise"}}]}`
	p := planOf(t, shared)
	for _, c := range []struct {
		width, length string
		enough        bool
		short, widest string
	}{
		{"20", "71", true, "0 in", "3 in"},
		{"20", "70", false, "1 in", "2 1/2 in"},  // half an inch narrower: the band takes 1 off each strip
		{"19", "71", false, "69 in", "2 3/4 in"}, // one strip comes below another; 4 x (2 3/4 + 2) = 19
	} {
		got := calc.Enough(p, 1, length(t, c.width), length(t, c.length), wanted)
		if got.Enough != c.enough || got.ShortBy.Shown() != c.short || got.Widest.Shown() != c.widest || len(got.Borders) != 2 {
			t.Errorf("%s x %s: enough %t, short by %s, widest %s, borders %v; want %t, %s, %s, both", c.width, c.length,
				got.Enough, got.ShortBy.Shown(), got.Widest.Shown(), got.Borders, c.enough, c.short, c.widest)
		}
	}
}

// wanted is somebody who waits to the end.
func wanted() bool { return true }

func TestNobodyWantsTheWidestAnyMore(t *testing.T) {
	p := planOf(t, `{"center": {"width": "36 1/2", "length": "48 1/2"}, "borders": [{"cut": "5 1/2"}]}`)
	asked := 0
	got := calc.Enough(p, 1, length(t, "42"), length(t, "100"), func() bool { asked++; return asked < 3 })
	if asked != 3 || !got.Enough {
		t.Errorf("wanted for two steps of the search: asked %d times, enough: %v; want 3 times, and what was known first", asked, got.Enough)
	}
}
