package calc_test

import (
	"testing"

	"cornerwise/calc"
)

// Whoever cuts left before right, and top before bottom, goes on along the fabric.
func TestStripsLieInTheOrderInWhichTheyAreCut(t *testing.T) {
	for name, plan := range map[string]string{
		"side by side, striped": `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","stripe":"1 1/4"}]}`,
		"with a print":          `{"center":{"width":"30 1/2","length":"38 1/2"},"borders":[{"cut":"5 1/2","motif":"8"}]}`,
		"in rows":               `{"center":{"width":"16 1/2","length":"18 1/2"},"borders":[{"cut":"3","fabric":{"runs":"crosswise","join":"none"}}]}`,
	} {
		p, err := calc.ParsePlan([]byte(plan))
		if err != nil {
			t.Fatal(err)
		}
		way := calc.NewSheet(p).Fabric[0].Picked()
		if way == nil || len(way.Layout) != 4 {
			t.Fatalf("%s: got no layout of four strips", name)
		}
		at := map[string]int{}
		for i, piece := range way.Layout {
			at[piece.Edge] = i + 1
		}
		if at["left"] == 0 || at["top"] == 0 || at["left"] > at["right"] || at["top"] > at["bottom"] {
			t.Errorf("%s: the strips lie in the order %v, want left before right and top before bottom", name, at)
		}
	}
}
