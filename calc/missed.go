package calc

import "fmt"

// missedSeams notes each seam between two borders that jumps at the miter. On
// its way out the miter crosses such a seam at the same share of both bands, or
// else the seam of one strip arrives beside the seam of the other.
func missedSeams(p Plan, bands Pair[Band]) []string {
	s, t := bands.Sides.Finished.Length, bands.TopBottom.Finished.Length
	line := Hypot(s, t)
	var notes []string
	for i, b := range p.Borders[:len(p.Borders)-1] {
		onSides := line.Scale(finishedTo(p, Sides, i), s)
		onTopBottom := line.Scale(finishedTo(p, TopBottom, i), t)
		if onSides.Equal(onTopBottom) {
			continue
		}
		about := Figure{onSides.Sub(onTopBottom).abs(), p.Unit, LeastUp}
		notes = append(notes, fmt.Sprintf(
			"The seam between %s and %s jumps by about %s at each miter, because it lies at another share of the band on the sides than on top and bottom. It meets when every border is as wide on all edges, or all are wider on one pair of edges in the same proportion.",
			b.Name, p.Borders[i+1].Name, about.Shown()))
	}
	return notes
}

// missedLines notes each stripe whose lines can't meet at the miter. A line so far
// from the center's seam reaches the miter at that share of its band, and lines of one
// fabric lie equally far on all four strips: they meet only where the bands are as wide,
// and the strips as far from the center. Derived; no source.
func missedLines(p Plan, bands Pair[Band]) []string {
	var notes []string
	for i, b := range p.Borders {
		if b.Stripe.Sign() == 0 {
			continue
		}
		s, t, whose := bands.Sides.Finished, bands.TopBottom.Finished, "the bands finish at"
		if s.Length.Equal(t.Length) && i > 0 {
			s, t, whose = p.Unit.nearest(finishedTo(p, Sides, i-1)), p.Unit.nearest(finishedTo(p, TopBottom, i-1)), "it begins at"
		}
		if s.Length.Equal(t.Length) {
			continue
		}
		notes = append(notes, fmt.Sprintf(
			"%s: %s %s on the sides and %s on top and bottom, so the lines of the stripe reach the miter at different places and can't meet there. They could with borders of one width all round.",
			b.Name, whose, s.Exactly(), t.Exactly()))
	}
	return notes
}
