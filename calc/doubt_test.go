package calc_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
)

func TestDoubtAsksAboutSlips(t *testing.T) {
	for _, c := range []struct {
		name, planned, measured string
		unit                    calc.Unit
		asks                    string // "" asks nothing
	}{
		{"what was planned", "36 1/2", "36 1/2", calc.Inch, ""},
		{"1/2 in off is cloth (cp)", "36 1/2", "36", calc.Inch, ""},
		{"a whole inch", "36 1/2", "35 1/2", calc.Inch, "whole inch less"},
		{"a foot", "48 1/2", "60 1/2", calc.Inch, "a foot more"},
		{"centimeters read as inches", "36 1/2", "92.7", calc.Inch, "Are those centimeters?"},
		{"digits changed over", "36 1/2", "63 1/2", calc.Inch, "36 1/2 in?"},
		{"way off", "36 1/2", "20", calc.Inch, "Is that so?"},
		{"3/4 in on 92 is cloth", "92", "91 1/4", calc.Inch, ""},
		{"inches read as centimeters", "92.7", "36.5", calc.Centimeter, "Are those inches?"},
		{"10 cm", "92.7", "82.7", calc.Centimeter, "10 cm less"},
		{"1 cm is cloth", "92.7", "91.7", calc.Centimeter, ""},
	} {
		p, err := calc.ParseLength(c.planned, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		m, err := calc.ParseLength(c.measured, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		got, doubtful := calc.Doubt(p, m, c.unit)
		if doubtful != (c.asks != "") || !strings.Contains(got, c.asks) || doubtful && !strings.HasSuffix(got, "?") {
			t.Errorf("%s: Doubt(%s, %s, %s) = %q, %v; want a question with %q", c.name, c.planned, c.measured, c.unit, got, doubtful, c.asks)
		}
	}
}
