package calc_test

import (
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
