package calc_test

import (
	"testing"

	"cornerwise/calc"
)

// Near an edge is 4 in or 10 cm in from it (cp), less where that is a fifth of the center.
func TestNearAnEdgeIsNeverFarIn(t *testing.T) {
	for size, want := range map[string]string{
		"20 in": "4 in", "19 7/8 in": "2 in", "10 in": "2 in", "9 in": "1 in", "4 in": "1/2 in", "1 in": "3/16 in",
		"50 cm": "10 cm", "49 cm": "5 cm", "24 cm": "2 cm", "9 cm": "1 cm", "4 cm": "0.8 cm",
	} {
		l, err := calc.ParseLength(size, calc.Inch)
		if err != nil {
			t.Fatal(err)
		}
		p := calc.Plan{Unit: calc.Inch, Pieced: calc.Size{Width: l, Length: l.Times(2)}}
		if size[len(size)-2:] == "cm" {
			p.Unit = calc.Centimeter
		}
		if got := calc.NearEdge(p); got.Shown() != want || !got.Length.Times(5).Less(l.Add(calc.Of(1, 64, calc.Inch))) {
			t.Errorf("a center %s wide: near is %s, want %s", size, got.Shown(), want)
		}
	}
}
