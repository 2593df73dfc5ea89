package steps_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
)

func TestLimitsOfThePlanAreKeptTo(t *testing.T) {
	plan := func(limits string) string {
		return `{"center":{"width":"36 1/2","length":"48 1/2"},"limits":` + limits + `,"borders":[{"cut":"5 1/2","stripe":"1 1/8"}]}`
	}
	widths := []string{"width-top 36 1/2", "width-middle 36 1/2", "width-bottom 36 3/4"}
	for limits, want := range map[string]string{`{}`: calc.Ease, `{"apart":"1/4"}`: calc.Ease, `{"apart":"1/16","mend":"1/4"}`: calc.Mend} {
		if f := foundOn(enterAll(t, begin(t, plan(limits)), widths...), "widths", "width"); f.Kind != want {
			t.Errorf("%s, 1/4 in apart: found %s, want %s", limits, f.Kind, want)
		}
	}
	// The mean of 36 1/2, 36 1/2, 36 3/4 is 36 7/12, to 1/8 in 36 5/8 (derived).
	if got := enterAll(t, begin(t, plan(`{"apart":"1/4"}`)), widths...).Sheet.Center.Width.Shown(); got != "36 5/8 in" {
		t.Errorf("eased up to 1/4 in: build on %s, want the mean, 36 5/8 in", got)
	}
	for limits, pass := range map[string]bool{`{}`: false, `{"seen":"1/4"}`: true} {
		w := enterAll(t, walk(t, begin(t, plan(limits)), "miter.1.looked"), "look-1 miss", "miss-1 1/4")
		if _, _, err := try(w, tickOp("miter.1.trimmed", true)); (err == nil) != pass {
			t.Errorf("%s, stripes miss by 1/4 in: trimming got %v, want it taken: %v", limits, err, pass)
		}
	}
}

// With a mend of 2 in an inch off is fabric, here as in calc, and the range says so.
func TestDoubtsKeepToThePlansLimits(t *testing.T) {
	for limits, asked := range map[string]bool{`{}`: true, `{"mend":"2"}`: false} {
		w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"limits":`+limits+`,"borders":[{"cut":"5 1/2"}]}`)
		m := valued(t, entered(t, w, "width-top", "35 1/2"), "width-top")
		if (m.Doubt != "") != asked {
			t.Errorf("%s, 1 in off: asked %q, want asked: %v", limits, m.Doubt, asked)
		}
		if outside := calc.Of(71, 2, calc.Inch).Less(m.Least.Length); outside != asked {
			t.Errorf("%s: 35 1/2 in is outside %s to %s: %v, want %v", limits, m.Least.Shown(), m.Most.Shown(), outside, asked)
		}
	}
}

// The words say the limit by which the diagonals are then judged, in the plan's unit.
func TestTheDiagonalsSayThePlansLimit(t *testing.T) {
	// 1/8 in for each 40 in (cp): the center's diagonal is 100, the top's √(69.5² + 89.5²)
	// = 113.3, which are 0.3125 and 0.354: 5/16 and 3/8. In cm it is 3 mm for a meter: 3 mm, and 3.4.
	for _, c := range []struct{ unit, limits, within, top string }{
		{"in", `{}`, "Within 5/16 in will do.", "Within 3/8 in will do."},
		{"in", `{"diagonals":"3/8"}`, "Within 3/8 in will do.", "Within 3/8 in will do."},
		{"in", `{"diagonals":"0"}`, "Nothing but equal will do.", "Nothing but equal will do."},
		{"cm", `{}`, "Within 0.3 cm will do.", "Within 0.3 cm will do."},
		{"cm", `{"diagonals":"8 mm"}`, "Within 0.8 cm will do.", "Within 0.8 cm will do."},
		{"cm", `{"diagonals":"0.25"}`, "Within 0.25 cm will do.", "Within 0.25 cm will do."},
	} {
		w := begin(t, `{"unit":"`+c.unit+`","center":{"width":"60","length":"80"},"limits":`+c.limits+`,"borders":[{"cut":"5"}]}`)
		for _, id := range []string{"diagonal.1", "diagonal.2", "top.diagonals"} {
			_, tick := w.Tick(id)
			if tick == nil {
				t.Fatalf("there is no tick %s", id)
			}
			want := c.within
			if id == "top.diagonals" {
				want = c.top
			}
			if !strings.HasSuffix(tick.Why, ". "+want) {
				t.Errorf("%s, limits %s, %s: it says %q, want %q", c.unit, c.limits, id, tick.Why, want)
			}
		}
	}
}
