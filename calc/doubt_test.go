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
		{"1/2 in off is fabric (cp)", "36 1/2", "36", calc.Inch, ""},
		{"a whole inch", "36 1/2", "35 1/2", calc.Inch, "whole inch less"},
		{"a foot", "48 1/2", "60 1/2", calc.Inch, "a foot more"},
		{"centimeters read as inches", "36 1/2", "92.7", calc.Inch, "Are those centimeters?"},
		{"digits changed over", "36 1/2", "63 1/2", calc.Inch, "36 1/2 in?"},
		{"way off", "36 1/2", "20", calc.Inch, "Is that so?"},
		{"3/4 in on 92 is fabric", "92", "91 1/4", calc.Inch, ""},
		{"inches read as centimeters", "92.7", "36.5", calc.Centimeter, "Are those inches?"},
		{"10 cm", "92.7", "82.7", calc.Centimeter, "10 cm less"},
		{"1 cm is fabric", "92.7", "91.7", calc.Centimeter, ""},
		{"nothing is planned", "0", "5", calc.Inch, ""},
		{"digits changed over, and 1/2 in off beside it (cp)", "36 1/2", "63", calc.Inch, "36 in?"},
		{"a foot, to 1/8 in", "48 1/2", "60 5/8", calc.Inch, "a foot more"},
		{"a foot and 3/16 is no foot", "48 1/2", "60 11/16", calc.Inch, "Is that so?"},
		{"one in fifty is fabric", "75", "76 1/2", calc.Inch, ""},
		{"and a line more is not", "75", "76 9/16", calc.Inch, "Is that so?"},
	} {
		p, err := calc.ParseLength(c.planned, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		m, err := calc.ParseLength(c.measured, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		got, doubtful := calc.DefaultLimits(c.unit).Doubt(p, m)
		if doubtful != (c.asks != "") || !strings.Contains(got, c.asks) || doubtful && !strings.HasSuffix(got, "?") {
			t.Errorf("%s: Doubt(%s, %s, %s) = %q, %v; want a question with %q", c.name, c.planned, c.measured, c.unit, got, doubtful, c.asks)
		}
	}
}

// What is asked about begins beyond the plan's own mend, not beyond the usual one, and
// Plausible tells the same range: mend, or one in fifty where that is more.
func TestDoubtKeepsToThePlansLimits(t *testing.T) {
	for _, c := range []struct {
		unit, limits, measured string // of 20 planned
		asks                   bool
		least, most            string
	}{
		{"in", `{}`, "21", true, "19.5", "20.5"},
		{"in", `{"mend":"2"}`, "21", false, "18", "22"},
		{"in", `{"mend":"2"}`, "22", false, "18", "22"},
		{"in", `{"mend":"2"}`, "22 1/8", true, "18", "22"},
		{"in", `{"mend":"1/4"}`, "20 3/8", false, "19.6", "20.4"},
		{"in", `{"mend":"1/4"}`, "20 7/16", true, "19.6", "20.4"},
		{"cm", `{}`, "21.4", true, "18.7", "21.3"},
		{"cm", `{"mend":"4"}`, "23.9", false, "16", "24"},
		{"cm", `{"mend":"4"}`, "24.1", true, "16", "24"},
	} {
		p := planOf(t, `{"unit":"`+c.unit+`","center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"limits":`+c.limits+`}`)
		measured, err := calc.ParseLength(c.measured, p.Unit)
		if err != nil {
			t.Fatal(err)
		}
		question, asked := p.Limits.Doubt(p.Center.Width, measured)
		if asked != c.asks {
			t.Errorf("limits %s: %s for 20 %s asks %q; want asked %t", c.limits, c.measured, c.unit, question, c.asks)
		}
		least, most := p.Limits.Plausible(p.Center.Width)
		if got := least.Value(p.Unit) + " to " + most.Value(p.Unit); got != c.least+" to "+c.most {
			t.Errorf("limits %s: 20 %s is plausible from %s; want %s to %s", c.limits, c.unit, got, c.least, c.most)
		}
	}
}
