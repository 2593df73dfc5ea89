package calc_test

import (
	"fmt"
	"testing"

	"cornerwise/calc"
)

// A ready-made stripe fills any repeat, and the form's plan with it is a plan.
func TestAReadyMadeStripeFillsItsRepeat(t *testing.T) {
	for _, m := range calc.ReadyMades {
		for _, repeat := range []string{"1 1/8", "3", "7/16", "2.54 cm", "1/3"} {
			var sum calc.Length
			lines := ""
			for i, l := range m.Lines(length(t, repeat)) {
				sum = sum.Add(l.Width)
				if i > 0 {
					lines += ","
				}
				lines += fmt.Sprintf(`{"name":%q,"width":%q,"color":%q}`, l.Name, l.Width.Written(calc.Inch), l.Color)
			}
			if !sum.Equal(length(t, repeat)) {
				t.Errorf("%s at %s: the lines make %s", m.Name, repeat, sum.Value(calc.Inch))
			}
			plan := fmt.Sprintf(`{"center":{"width":"20","length":"20"},"borders":[{"cut":"4","lines":[%s]}]}`, lines)
			if _, err := calc.ParsePlan([]byte(plan)); err != nil {
				t.Errorf("%s at %s: %v", m.Name, repeat, err)
			}
		}
	}
}

func TestALengthAsItIsTyped(t *testing.T) {
	for _, c := range []struct {
		in   string
		unit calc.Unit
		want string
	}{
		{"5 1/2", calc.Inch, "5 1/2"}, {"9/64", calc.Inch, "9/64"}, {"4", calc.Inch, "4"}, {"1/3", calc.Inch, "1/3"}, {"1/1024", calc.Inch, "1/1024"},
		{"1 3/32", calc.Inch, "1 3/32"}, {"92.7 cm", calc.Centimeter, "92.7 cm"}, {"0.75 cm", calc.Centimeter, "0.75 cm"},
	} {
		got := length(t, c.in).Written(c.unit)
		if got != c.want {
			t.Errorf("%s in %s is typed %q, want %q", c.in, c.unit, got, c.want)
		}
		if back := length(t, got); !back.Equal(length(t, c.in)) {
			t.Errorf("%s typed as %q reads as %s", c.in, got, back.Value(calc.Inch))
		}
	}
}

func TestAReadyMadeStripeIsFoundByItsName(t *testing.T) {
	for _, m := range calc.ReadyMades {
		if got, ok := calc.ReadyMadeNamed(m.Name); !ok || got.Name != m.Name {
			t.Errorf("ReadyMadeNamed(%s) = %s, %t", m.Name, got.Name, ok)
		}
	}
	if _, ok := calc.ReadyMadeNamed("plaid"); ok {
		t.Error("there is a stripe by the name of plaid")
	}
}
