package calc

// A Trim is how much comes off at one point of an edge.
type Trim struct {
	Edge  string `json:"edge"`  // left, right, top, bottom
	Where string `json:"where"` // "at corner 2", "at the middle"
	Off   Figure `json:"off"`
}

// trims are what comes off where a direction is to be trimmed.
func (s SquareUp) trims(m Measured, lim Limits) []Trim {
	t := &trimmer{lim: lim, list: []Trim{}}
	across := s.Width.Verdict.Kind == TrimOff
	switch {
	case across && s.Width.uneven(lim):
		right, left := s.split(s.Width, true)
		t.slanted("left", "4", "1", left)
		t.slanted("right", "2", "3", right)
	case across:
		t.bowed(m.Widths, s.Width.least, [2][3]string{{"left", "1", "4"}, {"right", "2", "3"}})
	}
	switch {
	case s.Length.Verdict.Kind != TrimOff:
	case s.Length.uneven(lim):
		// What rises at corner 2 makes the right edge the longer one.
		bottom, top := s.split(s.Length, !across)
		t.slanted("top", "2", "1", top)
		t.slanted("bottom", "4", "3", bottom)
	default:
		t.bowed(m.Lengths, s.Length.least, [2][3]string{{"top", "1", "2"}, {"bottom", "4", "3"}})
	}
	return t.list
}

// split is how far each of two opposite edges slants to make the other pair unequal.
//
// With the bottom c wide and the top a, the right edge leans out at the top by r, and
// the left one, the same way, by l: r − l = a − c, and by the diagonals
// r + l = (d2² − d1²)/(a + c), exactly where top and bottom run alike. Without
// diagonals both are assumed to slant alike. What leans beyond that is not cut off, it is
// pulled true. Turned by a quarter it is the same for lengths; the lean is counted
// once. Derived; no source.
func (s SquareUp) split(d Direction, lean bool) (first, second Length) {
	var sum Length
	apart := d.edges[0].Sub(d.edges[1])
	if law := s.Shape.law; lean && law != nil && s.Shape.Verdict.Kind != Slip {
		sum = law.skew().Scale(Of(1, 1, Inch), d.edges[0].Add(d.edges[1]))
		if bound := apart.abs(); bound.Less(sum.abs()) {
			sum = bound.Scale(sum, sum.abs())
		}
	}
	return sum.Add(apart).Half(), sum.Sub(apart).Half()
}

type trimmer struct {
	lim  Limits
	list []Trim
}

// slanted trims one end of an edge: out at the one corner, or else at the other.
func (t *trimmer) slanted(edge, out, in string, by Length) {
	if by.Sign() < 0 {
		out = in
	}
	t.add(edge, "at corner "+out, by.abs())
}

// bowed trims alike from two edges where ends or middle stand out beyond the least.
func (t *trimmer) bowed(three [3]Length, least Length, edges [2][3]string) {
	for _, e := range edges {
		for i, where := range []string{"at corner " + e[1], "at the middle", "at corner " + e[2]} {
			t.add(e[0], where, three[i].Sub(least).Half())
		}
	}
}

// add leaves out what a ruler does not show, and what was not measured: it is under 0.
func (t *trimmer) add(edge, where string, off Length) {
	if f := t.lim.Unit.nearest(off); off.Round(t.lim.Unit, Nearest).Sign() > 0 {
		t.list = append(t.list, Trim{edge, where, f})
	}
}
