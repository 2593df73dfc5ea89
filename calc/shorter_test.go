package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"cornerwise/calc"
)

// twoBorders is a line of 1 1/2 in inside a border of 8, round 60 1/2 x 80 1/2.
func twoBorders(lengths string) string {
	return fmt.Sprintf(`{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[
		{"name":"dark line","cut":"1 1/2"%s,"fabric":{"runs":"lengthwise"}},{"name":"bank","cut":"8 1/2"}]}`, lengths)
}

// The band is cut 9 1/2, so strips of the line are 80 1/2 + 19 + 4 = 103 1/2 and 83 1/2. Their
// least: the side, less 2 seams, and twice 1 1/4 + 1.4142 x 1/4: 83.2071 and 63.2071, so with 4 to
// spare, up to 1/8, 87 1/4 and 67 1/4. Side by side in columns the longest counts: 105 1/2 in are
// 3 yd, 89 1/4 in 2 1/2 yd. (derived)
func TestShorterInnerStripsAreOffered(t *testing.T) {
	s := sheetOf(t, twoBorders(""))
	const want = "dark line: strips of 87 1/4 in on the sides and 67 1/4 in on top and bottom would do, and save 1/2 yd."
	if notes := strings.Join(s.Notes, "\n"); !strings.Contains(notes, want) || strings.Contains(notes, "bank: strips") {
		t.Errorf("notes\n%s\nwant %s", notes, want)
	}
	if got := stripOf(t, s, 1, calc.Sides).CutLength.Shown(); got != "103 1/2 in" {
		t.Errorf("as planned the line is cut %s; want 103 1/2 in", got)
	}
}

// Chosen, they are cut so, laid out so, and told so; and nothing is offered any more.
func TestShorterInnerStripsAreCutWhereThePlanAsksForThem(t *testing.T) {
	plan := twoBorders(`,"lengths":"least"`)
	s := sheetOf(t, plan)
	for e, want := range map[calc.Edges]string{calc.Sides: "87 1/4 in", calc.TopBottom: "67 1/4 in"} {
		if got := stripOf(t, s, 1, e).CutLength.Shown(); got != want {
			t.Errorf("%s: cut %s; want %s", e, got, want)
		}
	}
	if got := s.Fabric[0].Picked().Buy.Shown(); got != "2 1/2 yd" {
		t.Errorf("buy %s; want 2 1/2 yd", got)
	}
	if got := stripOf(t, s, 2, calc.Sides).CutLength.Shown(); got != "103 1/2 in" {
		t.Errorf("the outer border is cut %s; want 103 1/2 in as before", got)
	}
	if notes := strings.Join(s.Notes, "\n"); strings.Contains(notes, "would do") {
		t.Errorf("notes\n%s\nwant nothing offered that is chosen", notes)
	}
	if got, want := howOf(t, plan, "strips[0].cutLength"), "83 1/4 + 4, up to the ruler's next line: the least length, and what is to spare."; got != want {
		t.Errorf("reckoned %q; want %q", got, want)
	}
	if _, err := calc.ParsePlan([]byte(twoBorders(`,"lengths":"some"`))); err == nil || !strings.Contains(err.Error(), "borders[0].lengths") {
		t.Errorf("lengths of some kind: %v; want a fault of borders[0].lengths", err)
	}
}
