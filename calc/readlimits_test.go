package calc_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
)

func TestAPlanSetsItsOwnLimits(t *testing.T) {
	p := planOf(t, `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"limits":{"apart":"1/4","seen":"1/16"}}`)
	want := calc.DefaultLimits(calc.Inch)
	want.Apart, want.Seen = length(t, "1/4"), length(t, "1/16")
	if !p.Limits.Apart.Equal(want.Apart) || !p.Limits.Seen.Equal(want.Seen) || !p.Limits.Mend.Equal(want.Mend) || !p.Limits.Diagonals.Equal(want.Diagonals) {
		t.Errorf("the limits are %+v, want the plan's two and the rest as usual", p.Limits)
	}
	// 20 and 20 1/4 differ by what is eased now: the mean, not the least.
	three := [3]calc.Length{length(t, "20"), length(t, "20 1/4"), length(t, "20 1/4")}
	if s := p.Limits.Settle(three); !s.Ease {
		t.Errorf("three that differ by 1/4 are not eased with a limit of 1/4: %+v", s)
	}
	for text, says := range map[string]string{
		`{"apart":"x"}`: "limits.apart", `{"apart":"1"}`: "limits.mend", `{"colour":"1"}`: "limits.colour",
		`{"seam":"0"}`: "limits.seam: is 0", `{"tape":"0"}`: "limits.tape: is 0", `[]`: "limits",
	} {
		_, err := calc.ParsePlan([]byte(`{"center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"limits":` + text + `}`))
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("limits %s: got %v, want a fault of %s", text, err, says)
		}
	}
	// Nothing lies between what is eased and what is mended.
	if p := planOf(t, `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"limits":{"apart":"1/4","mend":"1/4"}}`); !p.Limits.Mend.Equal(p.Limits.Apart) {
		t.Errorf("apart and mend of 1/4: %+v", p.Limits)
	}
	for range 5 { // in the order that the limits have, whatever the order of the plan's
		_, err := calc.ParsePlan([]byte(`{"center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"limits":{"seen":"y","tape":"y","apart":"y"}}`))
		if faults := err.(calc.Faults); faults[0].Field != "limits.apart" || faults[2].Field != "limits.seen" {
			t.Errorf("three faults come as %v, want apart, tape, seen", faults)
		}
	}
}
