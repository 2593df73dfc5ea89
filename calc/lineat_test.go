package calc_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
)

// The inner raw edge lies Start into the repeat, the outer one a cut width on; which
// line that is, is counted out by hand.
func TestTheLineUnderARawEdge(t *testing.T) {
	const lined = `{"center":{"width":"20","length":"20"},"borders":[{"cut":"5 1/2","cutTopBottom":"4","start":"3/8","lines":[
		{"name":"cream","width":"5/8","color":"#f2ead8"},{"name":"navy","width":"1/8","color":"#23395b"},
		{"width":"3/8","color":"#a8432f"}]}]}`
	p := planOf(t, lined)
	for _, c := range []struct {
		edges        calc.Edges
		inner, outer string
	}{
		// The repeat is 1 1/8. 3/8 + 5 1/2 = 5 7/8 = 5 repeats (5 5/8) and 1/4.
		{calc.Sides, "3/8 in into the cream", "1/4 in into the cream"},
		// 3/8 + 4 = 4 3/8 = 3 repeats (3 3/8) and 1: 1/4 past the navy's start at 5/8 and 1/8 wide, so 1/4 into the third line.
		{calc.TopBottom, "3/8 in into the cream", "1/4 in into the line of #a8432f"},
	} {
		inner, outer, ok := calc.LinesAt(p, 1, c.edges)
		if !ok || inner.String() != c.inner || outer.String() != c.outer {
			t.Errorf("%s: %t, %q and %q; want %q and %q", c.edges, ok, inner, outer, c.inner, c.outer)
		}
	}
	if _, _, ok := calc.LinesAt(planOf(t, `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4","stripe":"1"}]}`), 1, calc.Sides); ok {
		t.Error("a stripe without lines has lines")
	}
	begins := planOf(t, `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4","lines":[{"name":"navy","width":"1","color":"#23395b"}]}]}`)
	if inner, _, _ := calc.LinesAt(begins, 1, calc.Sides); inner.String() != "where the navy begins" {
		t.Errorf("at the beginning: %q", inner)
	}
	// 5/8 is where the cream ends: what lies there is the next line.
	ends := planOf(t, strings.Replace(lined, `"start":"3/8"`, `"start":"5/8"`, 1))
	if inner, _, _ := calc.LinesAt(ends, 1, calc.Sides); inner.String() != "where the navy begins" {
		t.Errorf("where the cream ends: %q", inner)
	}
}
