package calc

import "fmt"

// An Outcome is the bordered top as measured, beside what was to be expected.
type Outcome struct {
	Verdict Verdict  `json:"verdict"` // all in all: Right, or the kind of what is the matter
	Width   Compared `json:"width"`
	Length  Compared `json:"length"`
	Shape   Shape    `json:"shape"`
	Flat    Verdict  `json:"flat"` // Right, Ease, Wavy or Pulled: edges against the middle; Missing
}

// A Compared is one way across, raw edge to raw edge. Parts add up to Off.
type Compared struct {
	Expected Figure `json:"expected"` // by the first plan
	Measured Figure `json:"measured"` // the mean of what was taken; 0: nothing was
	Off      Figure `json:"off"`      // measured less expected, under 0 when smaller
	Parts    []Part `json:"parts"`    // where it comes from; those of nothing are left out
	// Flat is how the two outer edges lie beside the middle; Missing where one was not measured.
	Flat Verdict `json:"flat"`
}

// A Part is one reason for a difference. Kinds: center, borders, seams, rest.
type Part struct {
	Kind string `json:"kind"`
	By   Figure `json:"by"` // under 0: it makes the top smaller
	Text string `json:"text"`
}

// NewOutcome compares a bordered top with its plan. planned is the plan as first made,
// built the one worked to at last: another center, other borders. real is the
// allowance that the seam test showed; 0: it was not tested.
func NewOutcome(planned, built Plan, m Measured, real Length, lim Limits) Outcome {
	o := Outcome{
		Width:  compare(planned, built, m.Widths, real, TopBottom),
		Length: compare(planned, built, m.Lengths, real, Sides),
	}
	want := finishedSize(built)
	seams := built.Seam.Times(2)
	s := NewSquareUp(m, Size{want.Width.Add(seams), want.Length.Add(seams)}, lim)
	o.Width.Flat = flatness(m.Widths, edgesOf(TopBottom), built.Unit, lim)
	o.Length.Flat = flatness(m.Lengths, edgesOf(Sides), built.Unit, lim)
	o.Shape, o.Flat = s.Shape, flatter(o.Width.Flat, o.Length.Flat)
	o.Verdict = o.verdict()
	return o
}

// compare reckons along the edges e. What is not explained by center, borders and
// seams is the rest: pressing, stretching, the tape.
func compare(planned, built Plan, three [3]Length, real Length, e Edges) Compared {
	fig := planned.Unit.nearest
	raw := func(p Plan) Length {
		return p.Center.along(e).Add(finishedTo(p, e.Neighbor(), len(p.Borders)-1).Times(2))
	}
	mean, _, n := meanOf(three)
	c := Compared{Expected: fig(raw(planned)), Measured: fig(mean), Off: fig(Length{}), Parts: []Part{}}
	if n == 0 {
		return c
	}
	off := mean.Sub(raw(planned))
	c.Off = planned.Unit.telling(off)
	rest := off
	add := func(kind string, by Length, told string) {
		if rest = rest.Sub(by); by.Sign() != 0 {
			c.Parts = append(c.Parts, Part{kind, planned.Unit.telling(by), told + ": " + moreOrLess(by, planned.Unit) + "."})
		}
	}
	center := built.Center.along(e).Sub(planned.Center.along(e))
	add("center", center, fmt.Sprintf("The center was built on at %s instead of %s", fig(built.Center.along(e)).Exactly(), fig(planned.Center.along(e)).Exactly()))
	add("borders", raw(built).Sub(raw(planned)).Sub(center), "The borders are cut at other widths than first planned")
	if real.Sign() > 0 {
		// Every border is sewn on at both ends, each seam taking two allowances.
		seams := 2 * int64(len(built.Borders))
		add("seams", built.Seam.Sub(real).Times(2*seams), fmt.Sprintf("%d seams at %s instead of %s", seams, fine(real, built.Unit), fig(built.Seam).Exactly()))
	}
	if rest.Sign() != 0 {
		c.Parts = append(c.Parts, Part{"rest", planned.Unit.telling(rest), restTold(rest, len(c.Parts) > 0, planned.Unit)})
	}
	return c
}

// restTold tells of a difference that nothing else explains.
func restTold(rest Length, other bool, u Unit) string {
	if other {
		return fmt.Sprintf("The other %s comes from pressing, stretching or the tape.", u.telling(rest.abs()).Shown())
	}
	return fmt.Sprintf("%s: it comes from pressing, stretching or the tape.", moreOrLess(rest, u))
}

// moreOrLess tells a difference.
func moreOrLess(by Length, u Unit) string {
	words := u.telling(by.abs()).Shown()
	if by.Sign() < 0 {
		return words + " less"
	}
	return words + " more"
}

// flatter is the worse of two verdicts about flatness.
func flatter(widths, lengths Verdict) Verdict {
	grades := map[string]int{Missing: 0, Right: 1, Ease: 2, Pulled: 3, Wavy: 3}
	if grades[widths.Kind] < grades[lengths.Kind] {
		return lengths
	}
	return widths
}

// flatness holds two opposite outer edges to the middle: as long, off by what eases in, or
// by more, so that it ripples or pulls.
func flatness(three [3]Length, edges []string, u Unit, lim Limits) Verdict {
	for _, l := range three {
		if l.Sign() == 0 {
			return Verdict{Missing, "Whether it lies flat is not known: measure near both edges and across the middle.", ""}
		}
	}
	return besideMiddle(three, [2]string(edges), u, lim)
}

// besideMiddle is how two opposite outer edges lie beside the middle between them. The one
// that is farther off is told, both where they are off alike.
func besideMiddle(three [3]Length, edges [2]string, u Unit, lim Limits) Verdict {
	middle, first, last := three[1], three[0].Sub(three[1]), three[2].Sub(three[1])
	off, who := first, fmt.Sprintf("The %s edge is", edges[0])
	switch {
	case first.Equal(last):
		who = fmt.Sprintf("The %s and %s edges are", edges[0], edges[1])
	case first.abs().Less(last.abs()):
		off, who = last, fmt.Sprintf("The %s edge is", edges[1])
	}
	told, eases := u.nearest(off.abs()).Exactly(), !lim.Easing(middle).Less(off.abs())
	may := u.nearest(lim.Easing(middle)).Shown()
	switch {
	case off.Sign() == 0:
		return Verdict{Right, "It lies flat: the edges are as long as the middle.", ""}
	case off.Sign() > 0 && eases:
		return Verdict{Ease, fmt.Sprintf("%s %s longer than the middle. Up to %s eases in; left as it is, it may ripple once it is quilted and hung.", who, told, may),
			"Ease the edges to the middle's measure when you quilt and bind."}
	case off.Sign() > 0:
		return Verdict{Wavy, fmt.Sprintf("%s %s longer than the middle, and only %s eases in: it ripples, the more once it is quilted and hung.", who, told, may),
			"Unpick that border between its dots and ease it on anew, or pin the binding to the middle's measure."}
	case eases:
		return Verdict{Ease, fmt.Sprintf("%s %s shorter than the middle. Up to %s eases in; left as it is, the middle may stand up a little.", who, told, may),
			"Steam the edges from the back and pat them out, before it is quilted."}
	}
	return Verdict{Pulled, fmt.Sprintf("%s %s shorter than the middle, and only %s eases in: the middle stands up.", who, told, may),
		"Unpick that border between its dots and pin it on anew, to the middle's measure."}
}

func (o Outcome) verdict() Verdict {
	switch {
	case o.Shape.Verdict.Kind == Slip || o.Shape.Verdict.Kind == Leaning || o.Shape.Verdict.Kind == Trapezoid:
		return o.Shape.Verdict
	case o.Flat.Kind == Wavy || o.Flat.Kind == Pulled:
		return o.Flat
	case o.Flat.Kind == Ease:
		return o.Flat
	case o.Shape.Verdict.Kind == Ease:
		return o.Shape.Verdict
	case o.Shape.Verdict.Kind == Unknown || o.Flat.Kind == Missing:
		return Verdict{Unknown, "Whether it is flat and square is not known yet.", "Measure three widths, three lengths and both diagonals."}
	}
	return Verdict{Right, "It lies flat and square.", ""}
}
