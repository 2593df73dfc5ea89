package calc_test

import (
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func TestParseLengthReadsWhatQuiltersWrite(t *testing.T) {
	half := calc.Of(73, 2, calc.Inch)
	for _, c := range []struct {
		written string
		unit    calc.Unit
		want    calc.Length
	}{
		{"36 1/2", calc.Inch, half},
		{"36-1/2", calc.Inch, half},
		{"36½", calc.Inch, half},
		{"36 ½", calc.Inch, half},
		{"36-½", calc.Inch, half},
		{"36.5", calc.Inch, half},
		{"36,5", calc.Inch, half},
		{`36 1/2"`, calc.Inch, half},
		{"36 1/2″", calc.Inch, half},
		{"36 1/2''", calc.Inch, half},
		{"36 1⁄2 in.", calc.Inch, half},
		{"  36  1 / 2  inches ", calc.Inch, half},
		{"36\u00a01/2\u202fIN", calc.Centimeter, half},
		{"36 – 1/2", calc.Inch, half},
		{"36.", calc.Inch, calc.Of(36, 1, calc.Inch)},
		{".5", calc.Inch, calc.Of(1, 2, calc.Inch)},
		{"½", calc.Inch, calc.Of(1, 2, calc.Inch)},
		{"3/2", calc.Inch, calc.Of(3, 2, calc.Inch)},
		{"0", calc.Inch, calc.Length{}},
		{"0 1/2", calc.Inch, calc.Of(1, 2, calc.Inch)},
		{"92,7 cm", calc.Inch, calc.Of(927, 10, calc.Centimeter)},
		{"92.7cm", calc.Inch, calc.Of(927, 10, calc.Centimeter)},
		{"92,7", calc.Centimeter, calc.Of(927, 10, calc.Centimeter)},
		{"365 mm", calc.Inch, calc.Of(365, 10, calc.Centimeter)},
		{"1 m", calc.Inch, calc.Of(100, 1, calc.Centimeter)},
		{"1 yd", calc.Inch, calc.Of(36, 1, calc.Inch)},
		{"1 1/3 yards", calc.Inch, calc.Of(48, 1, calc.Inch)},
		{"⅓ yd", calc.Inch, calc.Of(12, 1, calc.Inch)},
		{"3'", calc.Inch, calc.Of(36, 1, calc.Inch)},
		{"36,", calc.Inch, calc.Of(36, 1, calc.Inch)},
		{"36" + strings.Repeat(" ", 35) + "1/2", calc.Inch, calc.Of(73, 2, calc.Inch)}, // 40 characters
		{"999999.999999", calc.Inch, calc.Of(999999999999, 1000000, calc.Inch)},
	} {
		got, err := calc.ParseLength(c.written, c.unit)
		if err != nil || !got.Equal(c.want) {
			t.Errorf("ParseLength(%q, %s) = %s in, %v; want %s in",
				c.written, c.unit, got.Value(calc.Inch), err, c.want.Value(calc.Inch))
		}
	}
}

func TestParseLengthRefusesWithASentence(t *testing.T) {
	for _, c := range []struct{ written, want string }{
		{"", "is empty"},
		{"   ", "is empty"},
		{"wide", "not a length"},
		{"in", "not a length"},
		{".", "not a length"},
		{"-5", "less than nothing"},
		{"−5 cm", "less than nothing"},
		{"36 furlongs", "not a length"},
		{"36 1/0", "over nothing"},
		{"36 3/2", "did a digit slip"},
		{"36 2/2", "did a digit slip"},
		{"36.5 1/2", "not a length"},
		{"36½½", "not a length"},
		{"3½6", "not a length"}, // not 3 1/26
		{"½6", "not a length"},
		{"1½/2", "not a length"},
		{"1/½", "not a length"},
		{"1/2/3", "not a length"},
		{"/2", "not a length"},
		{"1/", "not a length"},
		{"1,234.5", "not a length"},
		{"1e9", "not a length"},
		{"0x10", "not a length"},
		{"1_000", "not a length"},
		{"٣٦", "not a length"},
		{"NaN", "not a length"},
		{"Inf", "not a length"},
		{"5' 6\"", "not a length"},
		{"3 6", "not a length"},
		{"1000000", "more than 6 digits"},
		{"1.1234567", "more than 6 places"},
		{"1/10000", "more than 4 digits"},
		{strings.Repeat("9", 41), "longer than 40 characters"},
		{strings.Repeat("9", 1<<20), "longer than 40 characters"},
		{"36\x00", "not a length"},
		{"36\xff", "not readable"},
	} {
		got, err := calc.ParseLength(c.written, calc.Inch)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("ParseLength(%.50q, in) = %s in, %v; want a fault with %q",
				c.written, got.Value(calc.Inch), err, c.want)
			continue
		}
		if len(err.Error()) > 300 || strings.ContainsAny(err.Error(), "\n\x00") {
			t.Errorf("ParseLength(%.50q, in): the message is not one short line: %q", c.written, err)
		}
	}
}

func TestUnitsAgreeWithTheBooks(t *testing.T) {
	for _, c := range []struct{ written, unit, want, source string }{
		{"1 yd", "cm", "91.44", "NBS Circular 572, addendum of 22 January 1960"},
		{"1 in", "cm", "2.54", "the same: 1 in = 25.4 mm; UCUM [in_i] = 2.54 cm"},
		{"25.4 mm", "in", "1", "the same"},
		{"1 ft", "in", "12", "UCUM ucum-essence.xml: [ft_i] = 12 [in_i]"},
		{"1 yd", "in", "36", "UCUM: [yd_i] = 3 [ft_i]"},
		{"1/8 yd", "in", "4.5", "M. McNeil, Catbird Quilt Studio, 7 February 2014"},
		{"1/4 yd", "in", "9", "the same"},
		{"3/8 yd", "in", "13.5", "the same"},
		{"1/2 yd", "in", "18", "the same"},
		{"5/8 yd", "in", "22.5", "the same"},
		{"3/4 yd", "in", "27", "the same"},
		{"7/8 yd", "in", "31.5", "the same"},
		{"1/3 yd", "in", "12", "the same"},
		{"2/3 yd", "in", "24", "the same"},
		{"1/6 yd", "in", "6", "the same"},
		{"1/16", "in", "0.0625", "the same, sixteenths as decimals"},
		{"3/16", "in", "0.1875", "the same"},
		{"5/16", "in", "0.3125", "the same"},
		{"7/16", "in", "0.4375", "the same"},
		{"9/16", "in", "0.5625", "the same"},
		{"11/16", "in", "0.6875", "the same"},
		{"13/16", "in", "0.8125", "the same"},
		{"15/16", "in", "0.9375", "the same"},
		{"1/3 in", "in", "0.333333", "(derived) no finite decimal: 6 places"},
		{"2/3 in", "in", "0.666667", "(derived)"},
		{"1 cm", "in", "0.393701", "(derived) 50/127"},
	} {
		if got := length(t, c.written).Value(calc.Unit(c.unit)); got != c.want {
			t.Errorf("%s in %s = %s; want %s (%s)", c.written, c.unit, got, c.want, c.source)
		}
	}
}

// GNU units is a general-purpose oracle. The checks install it; a machine
// without it skips only outside them.
func TestUnitsAgreeWithGNUUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("GNU units is not installed, and these are the checks: %v", err)
		}
		t.Skip("GNU units is not installed")
	}
	for _, written := range []string{"36.5 in", "1 yd", "0.625 yd", "92.7 cm", "365 mm", "1.5 m", "7 ft", "0.0625 in", "999999 mm"} {
		for _, unit := range []calc.Unit{calc.Inch, calc.Centimeter} {
			out, err := exec.Command(program, "-t", "-o", "%.17g", written, string(unit)).Output()
			if err != nil {
				t.Fatalf("units %q %s: %v", written, unit, err)
			}
			want, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
			if err != nil {
				t.Fatalf("units %q %s answers %q: %v", written, unit, out, err)
			}
			if got := length(t, written).Float(unit); !near(got, want, 1e-12*want) {
				t.Errorf("%s in %s = %.17g; GNU units has %.17g", written, unit, got, want)
			}
		}
	}
}

func TestHypotIsExactWhereItCan(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"3", "4", "5"}, {"5", "12", "13"}, {"60", "80", "100"}, // triangles that come out (derived)
		{"3/16", "1/4", "5/16"}, {"7.62 cm", "10.16 cm", "5"}, {"2/3", "1/2", "5/6"}, {"0", "7", "7"},
	} {
		if got := calc.Hypot(length(t, c.a), length(t, c.b)); !got.Equal(length(t, c.want)) {
			t.Errorf("Hypot(%s, %s) = %s in; want exactly %s", c.a, c.b, got.Value(calc.Inch), c.want)
		}
	}
	const root2 = "1.414214" // √2 = 1.41421356… (memory)
	if got := calc.Hypot(calc.Of(1, 1, calc.Inch), calc.Of(1, 1, calc.Inch)).Value(calc.Inch); got != root2 {
		t.Errorf("Hypot(1, 1) = %s; want %s, not passed off as exact", got, root2)
	}
}

// The square of a root lies within its last place of what it is the root of.
func TestHypotIsGoodTo39Places(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) calc.Length {
			return calc.Of(rapid.Int64Range(1, 1e12).Draw(t, name), rapid.Int64Range(1, 1e6).Draw(t, name+" over"), calc.Inch)
		}
		a, b := draw("a"), draw("b")
		h := calc.Hypot(a, b)
		step := calc.Of(1, 1, calc.Inch)
		for range 13 { // 10^-39
			step = step.Scale(calc.Of(1, 1000, calc.Inch), calc.Of(1, 1, calc.Inch))
		}
		one := calc.Of(1, 1, calc.Inch)
		square := func(l calc.Length) calc.Length { return l.Scale(l, one) }
		want := square(a).Add(square(b))
		if want.Less(square(h.Sub(step))) || square(h.Add(step)).Less(want) {
			t.Errorf("Hypot(%s, %s) = %s is off by more than 1e-39", a.Value("in"), b.Value("in"), h.Value("in"))
		}
	})
}

// What was entered stands in the message whole up to 40 characters, and cut after that.
func TestAMessageQuotesWhatWasEntered(t *testing.T) {
	forty := strings.Repeat("w", 40)
	if _, err := calc.ParseLength(forty, calc.Inch); err == nil || !strings.Contains(err.Error(), `"`+forty+`"`) {
		t.Errorf("40 characters: %v; want all of them", err)
	}
	long := `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4"}],"` + forty + `w":1}`
	if _, err := calc.ParsePlan([]byte(long)); err == nil || !strings.Contains(err.Error(), forty+"…") || strings.Contains(err.Error(), forty+"w") {
		t.Errorf("a field of 41 characters: %v; want 40 and a sign that there were more", err)
	}
}
