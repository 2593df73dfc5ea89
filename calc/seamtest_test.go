package calc_test

import (
	"testing"

	"cornerwise/calc"
)

func TestSeamTest(t *testing.T) {
	for _, c := range []struct {
		source, plan        string
		cut, across, middle string
	}{
		{"J. Cahoon, Quiltcentric, 16 September 2012", `{"center":{"width":"20","length":"20"},"borders":[{"cut":"5"}]}`, "1 1/2 in", "3 1/2 in", "1 in"},
		{"(derived)", `{"unit":"cm","center":{"width":"60","length":"60"},"borders":[{"cut":"12"}]}`, "4 cm", "9 cm", "2.5 cm"},
		{"(derived) an allowance too wide for the usual strip", `{"seam":"1","center":{"width":"20","length":"20"},"borders":[{"cut":"5"}]}`, "3 in", "5 in", "1 in"},
	} {
		p, err := calc.ParsePlan([]byte(c.plan))
		if err != nil {
			t.Fatal(err)
		}
		got := calc.NewSeamTest(p)
		if got.Cut.Shown() != c.cut || got.Across.Shown() != c.across || got.Middle.Shown() != c.middle {
			t.Errorf("%s: three strips of %s make %s, the middle one %s; want %s, %s, %s",
				c.source, got.Cut.Shown(), got.Across.Shown(), got.Middle.Shown(), c.cut, c.across, c.middle)
		}
	}
}
