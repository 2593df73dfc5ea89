package calc_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

var (
	units     = []calc.Unit{calc.Inch, calc.Centimeter}
	roundings = []calc.Rounding{calc.Nearest, calc.CutUp, calc.LeastUp}
)

// grain is what a ruler shows: 1/8 in for cut lengths, else
// 1/16 in; 1 mm.
func grain(u calc.Unit, r calc.Rounding) calc.Length {
	switch {
	case u == calc.Centimeter:
		return calc.Of(1, 10, u)
	case r == calc.CutUp:
		return calc.Of(1, 8, u)
	}
	return calc.Of(1, 16, u)
}

func TestShownIsWhatARulerHas(t *testing.T) {
	for _, c := range []struct {
		written  string
		unit     calc.Unit
		rounding calc.Rounding
		want     string
	}{
		{"35.5", calc.Inch, calc.Nearest, "35 1/2 in"},
		{"35", calc.Inch, calc.Nearest, "35 in"},
		{"0.5", calc.Inch, calc.Nearest, "1/2 in"},
		{"0", calc.Inch, calc.CutUp, "0 in"},
		{"1/32", calc.Inch, calc.Nearest, "1/16 in"}, // halves go up
		{"3/32", calc.Inch, calc.Shared, "3/32 in"},
		{"1/64", calc.Inch, calc.Shared, "1/32 in"},
		{"2.5 mm", calc.Centimeter, calc.Shared, "0.25 cm"},
		{"17/64", calc.Inch, calc.Fine, "0.266 in (6.7 mm)"},
		{"0.4 mm", calc.Centimeter, calc.Fine, "0.4 mm"},
		{"0.031", calc.Inch, calc.Nearest, "0 in"},
		{"0.0001", calc.Inch, calc.CutUp, "1/8 in"},
		{"0.0001", calc.Inch, calc.LeastUp, "1/16 in"},
		{"35 1/16", calc.Inch, calc.CutUp, "35 1/8 in"},
		{"35 1/8", calc.Inch, calc.CutUp, "35 1/8 in"},
		{"35.99", calc.Inch, calc.CutUp, "36 in"},
		{"92.7 cm", calc.Centimeter, calc.Nearest, "92.7 cm"},
		{"92.75 cm", calc.Centimeter, calc.Nearest, "92.8 cm"},
		{"92.71 cm", calc.Centimeter, calc.CutUp, "92.8 cm"},
		{"92.71 cm", calc.Centimeter, calc.LeastUp, "92.8 cm"},
		{"93 cm", calc.Centimeter, calc.Nearest, "93 cm"},
		{"0.2 mm", calc.Centimeter, calc.Nearest, "0 cm"},
		{"36.5", calc.Centimeter, calc.Nearest, "92.7 cm"}, // 92.71
	} {
		got := calc.Figure{Length: length(t, c.written), Unit: c.unit, Rounding: c.rounding}.Shown()
		if got != c.want {
			t.Errorf("Figure{%s, %s, rounding %d}.Shown() = %q; want %q", c.written, c.unit, c.rounding, got, c.want)
		}
	}
}

func TestEveryLineOfTheRulerReadsBack(t *testing.T) {
	for _, u := range units {
		for _, r := range roundings {
			var l calc.Length
			for range 3000 {
				checkReadsBack(t, l, u, r)
				l = l.Add(grain(u, r))
			}
		}
	}
}

// Any length, shown and read back, is that length on the ruler's lines; cut and
// least lengths never come out short, none is off by a line.
func TestAnyLengthReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := calc.Of(rapid.Int64Range(0, 3e5).Draw(t, "n"), rapid.Int64Range(1, 1e4).Draw(t, "d"),
			rapid.SampledFrom(units).Draw(t, "written in"))
		checkReadsBack(t, l, rapid.SampledFrom(units).Draw(t, "shown in"), rapid.SampledFrom(roundings).Draw(t, "rounding"))
	})
}

func checkReadsBack(t rapid.TB, l calc.Length, u calc.Unit, r calc.Rounding) {
	t.Helper()
	shown := calc.Figure{Length: l, Unit: u, Rounding: r}.Shown()
	back, err := calc.ParseLength(shown, u.Other()) // the unit is written, so a bare number's unit must not matter
	if err != nil || !back.Equal(l.Round(u, r)) {
		t.Fatalf("%s in: shown %q reads back as %s in, %v; want %s in",
			l.Value(calc.Inch), shown, back.Value(calc.Inch), err, l.Round(u, r).Value(calc.Inch))
	}
	if parts := l.Parts(u, r); strings.TrimSpace(parts.Whole+" "+strings.Trim(parts.Num+"/"+parts.Den, "/"))+" "+parts.Unit != shown {
		t.Fatalf("Parts of %q are %+v", shown, parts)
	}
	g := grain(u, r)
	if r == calc.Nearest {
		if half := g.Half(); half.Less(back.Sub(l)) || half.Less(l.Sub(back)) {
			t.Fatalf("%s in shown as %q is off by more than half a line", l.Value(calc.Inch), shown)
		}
		return
	}
	if back.Less(l) {
		t.Fatalf("%s in shown as %q is short", l.Value(calc.Inch), shown)
	}
	if !back.Sub(l).Less(g) {
		t.Fatalf("%s in shown as %q is a line too long", l.Value(calc.Inch), shown)
	}
}

func TestValueIsExactOrSixPlaces(t *testing.T) {
	for _, c := range []struct {
		n, d int64
		want string
	}{
		{71, 2, "35.5"},
		{1, 8192, "0.0001220703125"},
		{1, 1 << 30, "0.000000000931322574615478515625"},
		{1, 3, "0.333333"},
		{2, 3, "0.666667"},
		{500000, 1, "500000"},
		{0, 1, "0"},
	} {
		if got := calc.Of(c.n, c.d, calc.Inch).Value(calc.Inch); got != c.want {
			t.Errorf("Of(%d, %d, in).Value(in) = %q; want %q", c.n, c.d, got, c.want)
		}
	}
}

func TestOtherUnitRoundsTheSameWay(t *testing.T) {
	for _, c := range []struct {
		written  string
		unit     calc.Unit
		rounding calc.Rounding
		want     string
	}{
		{"66 1/2", calc.Inch, calc.CutUp, "169 cm"},          // 168.91 up
		{"66 1/2", calc.Inch, calc.Nearest, "168.9 cm"},      // 168.91
		{"100 cm", calc.Centimeter, calc.CutUp, "39 3/8 in"}, // 39.3701 up
	} {
		got := calc.Figure{Length: length(t, c.written), Unit: c.unit, Rounding: c.rounding}.Other()
		if got != c.want {
			t.Errorf("Figure{%s, %s}.Other() = %q; want %q", c.written, c.unit, got, c.want)
		}
	}
}

// Small lengths are rounded by another way than long ones, and to the same line: so many lines
// farther along, a length comes out so many lines farther.
func TestSmallLengthsAreRoundedAsLongOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]calc.Unit{calc.Inch, calc.Centimeter}).Draw(t, "unit")
		r := rapid.SampledFrom([]calc.Rounding{calc.Nearest, calc.CutUp, calc.LeastUp, calc.FabricUp, calc.Shared, calc.Fine}).Draw(t, "rounding")
		l := calc.Of(rapid.Int64Range(-100_000, 100_000).Draw(t, "n"), rapid.Int64Range(1, 1000).Draw(t, "d"), unit)
		// 2^40 × 36 in, or × 10 cm, are whole lines of every ruler.
		far := calc.Of(36<<40, 1, calc.Inch)
		if unit == calc.Centimeter {
			far = calc.Of(10<<40, 1, calc.Centimeter)
		}
		near, there := l.Round(unit, r), l.Add(far).Round(unit, r).Sub(far)
		if !near.Equal(there) {
			t.Fatalf("%s rounded: %s, and far along %s", l.Value(unit), near.Value(unit), there.Value(unit))
		}
	})
}
