package calc

import "fmt"

// An InMiter is what makes a motif lie whole in every miter, half of it on either strip: its
// middle then stands on the miter in the middle of the border's finished width.
//
// On a finished side of length A, with the border's inner seam i outside the center's and its
// finished width w, that place is A/2 + i + w/2 from the strip's middle. There a motif of repeat P
// has its middle when that is a whole number of P, or with the gap on the strip's middle half a P
// more. Derived; no source. How the motif lies across the strip is for the eye: see Plan.Start.
type InMiter struct {
	Centering   Pair[Centering] `json:"centering"`
	AddToWidth  Addition        `json:"addToWidth"` // for the strips on top and bottom; 0 where nothing is needed
	AddToLength Addition        `json:"addToLength"`
}

// newInMiter reckons it for border i (from 0), which has a motif; nil where its strips are not
// alike all round, so that their middles do not meet on the miter.
func newInMiter(p Plan, i int) *InMiter {
	inner, width := finishedTo(p, Sides, i-1), finishedTo(p, Sides, i).Sub(finishedTo(p, Sides, i-1))
	if !inner.Equal(finishedTo(p, TopBottom, i-1)) || !p.Borders[i].Cut.Equal(p.Borders[i].CutTopBottom) {
		return nil
	}
	motif := p.Borders[i].Motif
	least := func(e Edges) (Centering, Length) {
		at := p.Center.along(e).Half().Sub(p.Seam).Add(inner).Add(width.Half())
		on := motif.Sub(at.mod(motif)).mod(motif)
		gap := motif.Sub(at.Add(motif.Half()).mod(motif)).mod(motif)
		if gap.Less(on) {
			return OnGap, gap.Times(2)
		}
		return OnMotif, on.Times(2)
	}
	sides, length := least(Sides)
	topBottom, wide := least(TopBottom)
	return &InMiter{Pair[Centering]{sides, topBottom}, newAddition(p, Sides, wide), newAddition(p, TopBottom, length)}
}

// An inMiterOf is one direction of an InMiter.
type inMiterOf struct {
	path, name string
	e          Edges // of the strips
	centering  Centering
	a          Addition
}

func (m *InMiter) additions() []inMiterOf {
	if m == nil {
		return nil
	}
	return []inMiterOf{
		{"addToWidth", "width", TopBottom, m.Centering.TopBottom, m.AddToWidth},
		{"addToLength", "length", Sides, m.Centering.Sides, m.AddToLength},
	}
}

// how is the reckoning in words.
func (x inMiterOf) how(p Plan, border int) string {
	nearest := func(l Length) string { return p.Unit.nearest(l).Bare() }
	b := p.Borders[border-1]
	side := p.Center.along(x.e).Sub(p.Seam.Times(2))
	inner := finishedTo(p, x.e, border-2)
	width := finishedTo(p, x.e, border-1).Sub(inner)
	at := side.Half().Add(inner).Add(width.Half())
	how := fmt.Sprintf("The miter's middle lies %s ÷ 2 + %s + %s ÷ 2 = %s from the middle of the strips on %s", nearest(side),
		nearest(inner), nearest(width), nearest(at), x.e.words())
	phase := "a whole number of repeats"
	if x.centering == OnGap {
		phase = "half a repeat and a whole number of them"
	}
	return how + fmt.Sprintf("; with a %s there it must be %s of %s: %s more on each side.", x.centering, phase,
		nearest(b.Motif), nearest(x.a.Total.Length.Half()))
}

// Words say what makes it so, for the strips as their centers say it; planned is the centering
// that the plan settled on.
func (m InMiter) Words(p Plan, planned Pair[Centering]) string {
	middles := fmt.Sprintf("a %s on the middle of the side strips and a %s on that of top and bottom",
		m.Centering.Sides, m.Centering.TopBottom)
	wide, long := m.AddToWidth.Total.Length, m.AddToLength.Total.Length
	if wide.Sign() == 0 && long.Sign() == 0 {
		if planned == m.Centering {
			return "A motif lies whole in every corner."
		}
		return "A motif would lie whole in every corner with " + middles + "."
	}
	size := func(l Length) string { return p.Unit.nearest(l).Exactly() }
	return fmt.Sprintf("For a whole motif in every corner: a center of %s × %s, with %s.",
		size(p.Center.Width.Add(wide)), size(p.Center.Length.Add(long)), middles)
}
