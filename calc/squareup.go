package calc

import (
	"fmt"
	"strings"
)

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
	// Trims are what sticks out beyond the least measure, where more than eases does and
	// so little that it may be trimmed, should no seam be found that is off.
	Trims []Trim `json:"trims"`
}

// Kinds of a direction's verdict.
const (
	Right   = "right"   // all agree
	Ease    = "ease"    // what little they differ is eased
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
	at    [2]string // where it is least, and where most
	more  string    // "wider" or "longer"
	edges [2]Length // the two outer measures; 0: not taken
	set   bool      // both are there
}

// NewSquareUp judges a center by its measures. planned is what it should be, for
// telling which number is a slip; a zero Size: nobody knows.
func NewSquareUp(m Measured, planned Size, lim Limits) SquareUp {
	s := SquareUp{
		Width:  newDirection(m.Widths, "wider", [3]string{"near the top", "across the middle", "near the bottom"}, lim),
		Length: newDirection(m.Lengths, "longer", [3]string{"near the left", "down the middle", "near the right"}, lim),
	}
	s.Shape = newShape(m, s.Width, s.Length, planned, lim)
	s.Trims = s.trims(m, lim)
	return s
}

func newDirection(three [3]Length, more string, where [3]string, lim Limits) Direction {
	fig := lim.Unit.nearest
	d := Direction{Mean: fig(Length{}), Spread: fig(Length{}), BuildOn: fig(Length{}), more: more}
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
	d.at = [2]string{where[least], where[most]}
	d.least, d.edges = three[least], [2]Length{three[0], three[2]}
	d.set = three[0].Sign() > 0 && three[2].Sign() > 0
	d.Verdict = d.verdict(three, settled.Ease, lim)
	return d
}

func (d Direction) verdict(three [3]Length, ease bool, lim Limits) Verdict {
	apart := d.Spread.Exactly()
	switch {
	case d.Spread.Length.Sign() == 0:
		return Verdict{Right, fmt.Sprintf("All at %s.", d.BuildOn.Exactly()), ""}
	case ease:
		return Verdict{Ease, fmt.Sprintf("They differ by %s: easing takes that up.", apart),
			fmt.Sprintf("Build on %s, and ease the edges to it.", d.mean())}
	}
	until := fmt.Sprintf(" Until that is settled the numbers go by the mean, %s.", d.BuildOn.Exactly())
	if d.Taken < 3 {
		until = ""
	}
	text := fmt.Sprintf("They are %s apart, more than eases in: least %s, most %s. A seam is off, or the tape slipped.", apart, d.at[0], d.at[1])
	if three[0].Sign() > 0 && three[1].Sign() > 0 && three[2].Sign() > 0 {
		first, last := three[0].Sub(three[1]), three[2].Sub(three[1])
		switch {
		case first.Sign() > 0 && last.Sign() > 0:
			return Verdict{Mend, fmt.Sprintf("Both edges are %s than the middle, by up to %s, more than eases in: they have stretched, or seams are off.", d.more, apart),
				"Press the edges without stretching and measure again. If it stays so, find the seam that is off." + until}
		case first.Sign() < 0 && last.Sign() < 0:
			text = fmt.Sprintf("The middle is %s than both edges, by up to %s, more than eases in: a seam is off, or the tape slipped.", d.more, apart)
		}
	}
	return Verdict{Mend, text, "Measure again. If they stay apart, find the seam that is off and sew it anew." + until}
}

// mean is the size to build on, and how near it is to the mean that it comes from.
func (d Direction) mean() string {
	if d.Mean.Length.Equal(d.BuildOn.Length) {
		return "their mean, " + d.BuildOn.Exactly()
	}
	return fmt.Sprintf("%s, their mean to the nearest %s", d.BuildOn.Exactly(), d.BuildOn.Unit.nearest(ruled(d.BuildOn.Unit)).Shown())
}

// uneven tells whether the two outer measures, which are opposite edges, differ by more
// than passes for equal.
func (d Direction) uneven(lim Limits) bool {
	return d.set && lim.Apart.Less(d.edges[0].Sub(d.edges[1]).abs())
}

// farApart tells whether they differ by as much as a seam that is off makes them.
func (d Direction) farApart(lim Limits) bool {
	return d.set && !d.edges[0].Sub(d.edges[1]).abs().Less(lim.Mend)
}

// trimmable tells whether so little sticks out that it may be trimmed, where no seam is
// found.
func (d Direction) trimmable(lim Limits) bool {
	return d.Verdict.Kind == Mend && d.Spread.Length.Less(lim.Mend)
}

// Ways are the ways out of measures that are more apart than eases in: the seam that is
// off, and last the ruler. across: widths, else lengths. redo are the ticks that measure
// them again. There are none where nothing is to be mended.
func (s SquareUp) Ways(across bool, seam Figure, redo ...string) []WayOut {
	d, edges := s.Width, []string{"left", "right"}
	if !across {
		d, edges = s.Length, []string{"top", "bottom"}
	}
	if d.Verdict.Kind != Mend {
		return nil
	}
	ways := []WayOut{{Kind: "seam", Title: "Find the seam that is off", Redo: redo, Figures: []Named{{"seam allowance", seam.Unit.exactly(seam.Length)}},
		Acts: []string{
			fmt.Sprintf("Measure from seam to seam %s.", d.at[1]),
			fmt.Sprintf("Measure the same pieces %s, and compare.", d.at[0]),
			"Unpick the seam where the two differ.",
			"Press both pieces flat.",
			"Pin that seam again, right sides together.",
			fmt.Sprintf("Sew that seam again at %s.", seam.Exactly()),
			"Press the seam."}, First: &First{Deeds: 6}}}
	trim := WayOut{Kind: "trim", Title: "Trim it, if no seam is off", Redo: redo, Figures: []Named{},
		Acts: []string{"The ruler is for plain fabric only: a cut through blocks takes off their points.",
			"A trim that runs out to nothing takes half as much across the middle."}}
	deeds := 1
	for _, edge := range edges {
		var marks []string
		for _, t := range s.Trims {
			if t.Edge == edge {
				marks = append(marks, fmt.Sprintf("%s %s", t.Off.Shown(), t.Where))
				trim.Figures = append(trim.Figures, Named{edge + " edge, " + t.Where, t.Off})
				deeds++
			}
		}
		if len(marks) > 0 {
			trim.Acts = append(trim.Acts,
				fmt.Sprintf("Mark in from the %s edge: %s.", edge, strings.Join(marks, ", ")),
				fmt.Sprintf("Draw the new %s edge through the marks, running out to nothing.", edge),
				fmt.Sprintf("Trim the %s edge on the line.", edge))
		}
	}
	trim.First = &First{Deeds: deeds}
	if len(trim.Figures) > 0 {
		ways = append(ways, trim)
	}
	return ways
}
