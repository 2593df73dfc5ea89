package calc

// A Trim is how much comes off at one point of an edge.
type Trim struct {
	Edge  string `json:"edge"`  // left, right, top, bottom
	Where string `json:"where"` // "at corner 2", "at the middle"
	Off   Figure `json:"off"`
}

// trims are what comes off where a direction may be trimmed.
func (s SquareUp) trims(m Measured, lim Limits) []Trim {
	t := &trimmer{lim: lim, list: []Trim{}}
	across := s.Width.trimmable(lim)
	switch {
	case across && s.Width.uneven(lim):
		right, left := s.split(s.Width, true)
		t.slanted([2][3]string{{"left", "4", "1"}, {"right", "2", "3"}}, left, right)
	case across:
		t.bowed(m.Widths, s.Width.least, [2][3]string{{"left", "1", "4"}, {"right", "2", "3"}})
	}
	switch {
	case !s.Length.trimmable(lim):
	case s.Length.uneven(lim):
		// What rises at corner 2 makes the right edge the longer one.
		bottom, top := s.split(s.Length, !across)
		t.slanted([2][3]string{{"top", "2", "1"}, {"bottom", "4", "3"}}, top, bottom)
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

// slanted trims one end of each of two opposite edges: out at the one corner, or else in
// at the other.
func (t *trimmer) slanted(edges [2][3]string, first, second Length) {
	at := [2]string{"at corner " + edges[0][1], "at corner " + edges[1][1]}
	for i, by := range []Length{first, second} {
		if by.Sign() < 0 {
			at[i] = "at corner " + edges[i][2]
		}
	}
	t.share([2]string{edges[0][0], edges[1][0]}, at, first.abs(), second.abs())
}

// bowed trims from two opposite edges where ends or middle stand out beyond the least.
func (t *trimmer) bowed(three [3]Length, least Length, edges [2][3]string) {
	for i := range three {
		if three[i].Sign() == 0 {
			continue
		}
		at := func(e [3]string) string {
			return []string{"at corner " + e[1], "at the middle", "at corner " + e[2]}[i]
		}
		half := three[i].Sub(least).Half()
		t.share([2]string{edges[0][0], edges[1][0]}, [2]string{at(edges[0]), at(edges[1])}, half, half)
	}
}

// share puts what comes off two opposite edges on the ruler's lines so that together it
// is neither more nor less than was measured. What no line shows is left out.
func (t *trimmer) share(edges, at [2]string, first, second Length) {
	u := t.lim.Unit
	whole := first.Add(second).Round(u, Nearest)
	if first = first.Round(u, Nearest); whole.Less(first) {
		first = whole
	}
	for i, off := range []Length{first, whole.Sub(first)} {
		if off.Sign() > 0 {
			t.list = append(t.list, Trim{edges[i], at[i], u.nearest(off)})
		}
	}
}
