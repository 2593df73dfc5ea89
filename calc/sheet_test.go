package calc_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// Whatever the plan, its pieces close: what is cut, less its seam allowances,
// adds up to what is finished, both ways.
func TestAnyPlansPiecesClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sheetOf(t, plans(calc.MaxBorders).Draw(t, "plan"))
		allowances := s.Seam.Length.Times(2)
		for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
			var sewn calc.Length
			for _, strip := range s.Strips {
				if strip.Edges == e {
					sewn = sewn.Add(strip.CutWidth.Length.Sub(allowances))
				}
			}
			band := s.Bands.On(e)
			same(t, "strips less their allowances, "+string(e), sewn, band.Finished.Length)
			same(t, "band less its allowances, "+string(e), band.Cut.Length.Sub(allowances), band.Finished.Length)

			center := s.Center.Along(e).Length
			across := center.Sub(allowances).Add(s.Bands.On(e.Neighbor()).Finished.Length.Times(2))
			same(t, "center and two bands, along "+string(e), across, s.Finished.Along(e).Length)
			same(t, "finished and two allowances, along "+string(e), across.Add(allowances), s.Raw.Along(e).Length)

			marks := s.Marks.On(e)
			same(t, "both ways to the end, "+string(e), marks.ToEnd.Length.Times(2), center)
			same(t, "dot and allowance, "+string(e), marks.ToDot.Length.Add(s.Seam.Length), marks.ToEnd.Length)
		}
	})
}

func same(t rapid.TB, what string, got, want calc.Length) {
	t.Helper()
	if !got.Equal(want) {
		t.Errorf("%s: %s in; want %s in", what, got.Value(calc.Inch), want.Value(calc.Inch))
	}
}

var (
	plainDecimal = regexp.MustCompile(`^(0|[1-9][0-9]*)(\.[0-9]*[1-9])?$`)
	onARuler     = regexp.MustCompile(`^((0|[1-9][0-9]*)( [1-9][0-9]*/(2|4|8|16))?|[1-9][0-9]*/(2|4|8|16)) in$|^(0|[1-9][0-9]*)(\.[1-9])? cm$`)
)

// bySold is how fabric to buy is shown: in eighths of a yard or tenths of a meter.
var bySold = regexp.MustCompile(`^((0|[1-9][0-9]*)( [1-9]/(2|4|8))?|[1-9]/(2|4|8)) yd$|^(0|[1-9][0-9]*)(\.[1-9])? m$`)

// Whatever the plan, each length in the JSON is a plain decimal and a line of
// the ruler, in the plan's unit; fabric to buy is told as it is sold.
func TestAnySheetsFiguresAreReadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sheetOf(t, plans(4).Draw(t, "plan"))
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatalf("json.Marshal(sheet) = %v", err)
		}
		var tree any
		if err := json.Unmarshal(text, &tree); err != nil {
			t.Fatalf("the sheet's JSON does not read back: %v\n%s", err, text)
		}
		figures, sold := 0, 0
		walk(tree, func(value, shown string) {
			if bySold.MatchString(shown) && strings.HasSuffix(shown, map[calc.Unit]string{calc.Inch: " yd", calc.Centimeter: " m"}[s.Unit]) && plainDecimal.MatchString(value) {
				sold++
				return
			}
			figures++
			if !plainDecimal.MatchString(value) || !onARuler.MatchString(shown) || shown[len(shown)-2:] != string(s.Unit) {
				t.Errorf("a figure of a plan in %s is %q, shown %q", s.Unit, value, shown)
			}
		})
		// Next has 12 figures beside what is bought of two fabrics, and 2 more of wide fabric.
		want, ways := 22+3*len(s.Strips)+12, 2
		if s.Next.Backing.Wide != nil {
			want, ways = want+2, ways+1
		}
		for _, m := range s.Match {
			if m.Possible {
				want += 3
			}
		}
		count := func(w *calc.Way) {
			if w != nil && w.Fits {
				want, ways = want+1+4*len(w.Layout), ways+1
			}
		}
		for _, c := range s.Fabric {
			count(c.Lengthwise)
			count(c.Crosswise)
		}
		if figures != want || sold != ways {
			t.Errorf("the sheet has %d figures, %d of fabric to buy; want %d and %d", figures, sold, want, ways)
		}
	})
}

func walk(node any, figure func(value, shown string)) {
	switch n := node.(type) {
	case []any:
		for _, child := range n {
			walk(child, figure)
		}
	case map[string]any:
		if value, ok := n["value"].(string); ok {
			shown, _ := n["shown"].(string)
			figure(value, shown)
			return
		}
		for _, child := range n {
			walk(child, figure)
		}
	}
}

func BenchmarkSheet4Borders(b *testing.B) {
	plan := []byte(`{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[
		{"cut":"1 1/2"},{"cut":"5 1/2","cutTopBottom":"6 1/2"},{"cut":"1"},{"cut":"4 1/4","cutTopBottom":"4 3/8"}]}`)
	for b.Loop() {
		p, err := calc.ParsePlan(plan)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := json.Marshal(calc.NewSheet(p)); err != nil {
			b.Fatal(err)
		}
	}
}
