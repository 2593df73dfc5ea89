package calc

import "fmt"

// Measured is what the tape said of a top, bordered or not, raw edge to raw edge. A
// measure that was not taken is 0. Corners go round from the top left: 1, 2, 3, 4.
type Measured struct {
	Widths    [3]Length // near the top, across the middle, near the bottom
	Lengths   [3]Length // near the left, down the middle, near the right
	Diagonals [2]Length // corner 1 to 3, corner 2 to 4
}

// A SquareUp is what the measures of a center come to.
type SquareUp struct {
	Width  Direction `json:"width"`
	Length Direction `json:"length"`
	Shape  Shape     `json:"shape"`
	// Trims are what sticks out beyond a true rectangle, where that is to be trimmed.
	Trims []Trim `json:"trims"`
}

// Kinds of a direction's verdict.
const (
	Right   = "right"   // all agree
	Ease    = "ease"    // what little they differ is eased
	TrimOff = "trim"    // trim to the least
	Mend    = "mend"    // a seam is off: find it first
	Missing = "missing" // not measured
)

// A Direction is one to three measures of the same way across.
type Direction struct {
	Taken   int     `json:"taken"` // of three
	Mean    Figure  `json:"mean"`
	Spread  Figure  `json:"spread"`  // between the least and the most
	BuildOn Figure  `json:"buildOn"` // as Settle has it
	Verdict Verdict `json:"verdict"`

	least Length
	edges [2]Length // the two outer measures; 0: not taken
	set   bool      // both are there
}

// NewSquareUp judges a center by its measures. planned is what it should be, for
// telling which number is a slip; a zero Size: nobody knows.
func NewSquareUp(m Measured, planned Size, lim Limits) SquareUp {
	s := SquareUp{
		Width:  newDirection(m.Widths, [3]string{"near the top", "across the middle", "near the bottom"}, lim),
		Length: newDirection(m.Lengths, [3]string{"near the left", "down the middle", "near the right"}, lim),
	}
	s.Shape = newShape(m, s.Width, s.Length, planned, lim)
	s.Trims = s.trims(m, lim)
	return s
}

func newDirection(three [3]Length, where [3]string, lim Limits) Direction {
	fig := lim.Unit.nearest
	d := Direction{Mean: fig(Length{}), Spread: fig(Length{}), BuildOn: fig(Length{})}
	var sum Length
	var all [3]Length
	least, most := 0, 0
	for i, l := range three {
		if l.Sign() == 0 {
			continue
		}
		d.Taken++
		sum = sum.Add(l)
		if three[least].Sign() == 0 || l.Less(three[least]) {
			least = i
		}
		if three[most].Less(l) {
			most = i
		}
	}
	if d.Taken == 0 {
		d.Verdict = Verdict{Missing, "Not measured yet.", "Measure at both edges and across the middle."}
		return d
	}
	// What was not measured is not known: it is assumed to lie between the others.
	mean := sum.Scale(Of(1, 1, Inch), Of(int64(d.Taken), 1, Inch))
	for i, l := range three {
		if all[i] = l; l.Sign() == 0 {
			all[i] = mean
		}
	}
	settled := lim.Settle(all)
	d.Mean, d.Spread, d.BuildOn = fig(mean), fig(settled.Spread), fig(settled.Length)
	d.least, d.edges = three[least], [2]Length{three[0], three[2]}
	d.set = three[0].Sign() > 0 && three[2].Sign() > 0
	d.Verdict = d.verdict(three, [2]string{where[least], where[most]}, lim)
	return d
}

func (d Direction) verdict(three [3]Length, at [2]string, lim Limits) Verdict {
	apart := d.Spread.Exactly()
	switch {
	case d.Spread.Length.Sign() == 0:
		return Verdict{Right, fmt.Sprintf("All at %s.", d.BuildOn.Exactly()), ""}
	case !lim.Apart.Less(d.Spread.Length):
		return Verdict{Ease, fmt.Sprintf("They differ by %s: easing takes that up.", apart), fmt.Sprintf("Build on %s.", d.BuildOn.Exactly())}
	case !d.Spread.Length.Less(lim.Mend):
		return Verdict{Mend, fmt.Sprintf("They are %s apart: least %s, most %s. A seam is off, or the tape slipped.", apart, at[0], at[1]),
			"Measure both again. If they stay apart, mend the seam before you go on."}
	}
	eased := lim.Easing(d.least)
	may := ""
	if !eased.Less(d.Spread.Length) {
		may = fmt.Sprintf(" It could also be eased: up to %s goes into such an edge.", lim.Unit.nearest(eased).Shown())
	}
	text := fmt.Sprintf("They are %s apart, widest %s.", apart, at[1])
	act := fmt.Sprintf("Trim to %s.", d.BuildOn.Exactly())
	if three[0].Sign() > 0 && three[1].Sign() > 0 && three[2].Sign() > 0 {
		first, last := three[0].Sub(three[1]), three[2].Sub(three[1])
		switch {
		case first.Sign() > 0 && last.Sign() > 0:
			text = fmt.Sprintf("Both edges are wider than the middle, by up to %s: edges stretch.", apart)
			act = fmt.Sprintf("Press the edges without stretching and measure again. Then trim to %s.", d.BuildOn.Exactly())
		case first.Sign() < 0 && last.Sign() < 0:
			text = fmt.Sprintf("The middle is wider than both edges, by up to %s: it bulges.", apart)
			act = fmt.Sprintf("Trim the bulge off both sides, to %s.", d.BuildOn.Exactly())
		}
	}
	return Verdict{TrimOff, text + may, act}
}

// uneven tells whether the two outer measures, which are opposite edges, differ by
// more than easing takes up.
func (d Direction) uneven(lim Limits) bool {
	return d.set && lim.Apart.Less(d.edges[0].Sub(d.edges[1]).abs())
}
