package calc_test

import (
	"testing"

	"cornerwise/calc"
)

func TestSettle(t *testing.T) {
	for _, c := range []struct {
		source string
		unit   calc.Unit
		three  [3]string
		want   string
		ease   bool
	}{
		{"Quilty Folk, 5 May 2014: mean 27.208, use 27 1/4", calc.Inch, [3]string{"27 1/4", "27 1/4", "27 1/8"}, "27 1/4 in", true},
		{"Quilty Folk, 5 May 2014: use 32", calc.Inch, [3]string{"32", "31 7/8", "32"}, "32 in", true},
		{"(cp) 1/8 in is still eased", calc.Inch, [3]string{"36", "36 1/8", "36"}, "36 in", true},
		{"(cp) 3/16 in lies 1/8 from the mean, 36 1/16, which goes up to 36 1/8", calc.Inch, [3]string{"36", "36 3/16", "36"}, "36 1/8 in", true},
		{"(cp) 84 7/16 is the mean, to 1/8 in 84 1/2", calc.Inch, [3]string{"84 1/2", "84 5/16", "84 1/2"}, "84 1/2 in", true},
		{"(cp) more than 1/8 in from the mean of a short edge", calc.Inch, [3]string{"8 1/2", "8 1/2", "8 3/4"}, "8 5/8 in", false},
		{"three that agree are taken as they are", calc.Inch, [3]string{"36 5/16", "36 5/16", "36 5/16"}, "36 5/16 in", true},
		{"(cp) 3 mm is still eased", calc.Centimeter, [3]string{"90", "90,3", "90"}, "90.1 cm", true},
		{"(cp) 4 mm in 90 cm: 2.7 mm from the mean", calc.Centimeter, [3]string{"90", "90,4", "90"}, "90.1 cm", true},
		{"(cp) 5 mm in 20 cm: 3.3 mm from the mean", calc.Centimeter, [3]string{"20", "20,5", "20"}, "20.2 cm", false},
	} {
		var three [3]calc.Length
		for i, s := range c.three {
			l, err := calc.ParseLength(s, c.unit)
			if err != nil {
				t.Fatal(err)
			}
			three[i] = l
		}
		got := calc.DefaultLimits(c.unit).Settle(three)
		if shown := (calc.Figure{Length: got.Length, Unit: c.unit}).Shown(); shown != c.want || got.Ease != c.ease {
			t.Errorf("%s: Settle(%v) = %s, ease %v; want %s, %v", c.source, c.three, shown, got.Ease, c.want, c.ease)
		}
	}
}

// A plan's own 1/16 in binds: 48 1/4 lies 1/6 in from the mean, 48 5/12, and is eased only
// where the plan says nothing, up to 1/160 of 48 in (cp).
func TestAnOwnLimitBinds(t *testing.T) {
	three := [3]calc.Length{length(t, "48 1/2"), length(t, "48 1/4"), length(t, "48 1/2")}
	for limits, ease := range map[string]bool{``: true, `,"limits":{"apart":"1/16"}`: false, `,"limits":{"apart":"3/16"}`: true} {
		p := planOf(t, `{"center":{"width":"48 1/2","length":"60"},"borders":[{"cut":"4"}]`+limits+`}`)
		if got := p.Limits.Settle(three); got.Ease != ease {
			t.Errorf("%q: 48 1/2, 48 1/4, 48 1/2 eased %v; want %v", limits, got.Ease, ease)
		}
	}
}

// A center that was trimmed by the earlier rule stays as it was trimmed.
func TestSettleTrimmed(t *testing.T) {
	three := [3]calc.Length{length(t, "36"), length(t, "36 3/16"), length(t, "36")}
	got := usual.SettleTrimmed(three)
	if !got.Length.Equal(three[0]) || got.Ease {
		t.Errorf("SettleTrimmed(36, 36 3/16, 36) = %v, eased %v; want the least, 36", got.Length, got.Ease)
	}
	three[1] = length(t, "36 1/8")
	if got = usual.SettleTrimmed(three); !got.Ease || !got.Length.Equal(three[0]) {
		t.Errorf("SettleTrimmed(36, 36 1/8, 36) = %v, eased %v; want the mean, 36 1/24, to 1/8 in", got.Length, got.Ease)
	}
}
