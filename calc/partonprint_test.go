package calc_test

import (
	"math"
	"slices"
	"testing"

	"cornerwise/calc"
)

// (derived) A strip of 53 1/2 in has its middle at 26 3/4, which is three repeats of 8 and 2 3/4.
// Of parts of 21, 21 and 12 1/2, joined straight, the second begins at 20 1/2, 6 1/4 before the
// middle, and the third at 41, 14 1/4 past it: two repeats less 1 3/4.
func TestEveryPartOfAStripLiesOnOnePrint(t *testing.T) {
	in := func(eighths int64) calc.Length { return calc.Of(eighths, 8, calc.Inch) }
	got := calc.OnPrint([]calc.Length{in(168), in(168), in(100)}, in(4), in(428), in(64))
	if want := []calc.Length{in(22), in(50), in(14)}; !slices.EqualFunc(got, want, calc.Length.Equal) {
		t.Errorf("the motif lies %v from the ends, want %v", got, want)
	}
}

// The layout sets each part down where, on one print, that place is.
func TestThePartsLieOnThePrintWhereTheyAreLaid(t *testing.T) {
	for _, usable := range []string{"30", "34", "42", "50"} {
		s := sheetOf(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2","motif":"5","fabric":{"usableWidth":"`+usable+`","join":"straight","runs":"crosswise"}}]}`)
		for edge, long := range map[string]calc.Length{"left": calc.Of(131, 2, calc.Inch), "bottom": calc.Of(107, 2, calc.Inch)} {
			var laid []calc.Piece
			for _, x := range s.Fabric[0].Crosswise.Layout {
				if x.Edge == edge {
					laid = append(laid, x)
				}
			}
			slices.SortFunc(laid, func(a, b calc.Piece) int { return a.Part - b.Part })
			var parts []calc.Length
			for _, x := range laid {
				parts = append(parts, x.Width.Length)
			}
			var first float64
			for i, l := range calc.OnPrint(parts, calc.Of(1, 2, calc.Inch), long, calc.Of(5, 1, calc.Inch)) {
				at := math.Mod(laid[i].X.Length.Add(l).Float(calc.Inch), 5)
				if i == 0 {
					first = at
				} else if math.Abs(at-first) > 1e-9 {
					t.Errorf("%s in wide, %s: the print of part %d lies at %g, that of part 1 at %g", usable, edge, i+1, at, first)
				}
			}
		}
	}
}
