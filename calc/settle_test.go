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
		{"(cp) more than 1/8 in: trim to the least", calc.Inch, [3]string{"36", "36 3/16", "36"}, "36 in", false},
		{"three that agree are taken as they are", calc.Inch, [3]string{"36 5/16", "36 5/16", "36 5/16"}, "36 5/16 in", true},
		{"(cp) 3 mm is still eased", calc.Centimeter, [3]string{"90", "90,3", "90"}, "90.1 cm", true},
		{"(cp) more than 3 mm", calc.Centimeter, [3]string{"90", "90,4", "90"}, "90 cm", false},
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
