package calc

import (
	"fmt"
	"sort"
)

// slip finds the measure that is most likely wrong: the one which, put so that the
// parallelogram law holds again, leaves all others agreeing best, among themselves
// and with the plan.
func (s Shape) slip(planned Size, lim Limits) Shape {
	k := s.law
	type guess struct {
		Suspect
		odd, far Length // among themselves; from the plan
	}
	var guesses []guess
	try := func(measure string, was, about Length, m Measured) {
		if about.Sign() > 0 {
			odd, far := oddness(m, planned)
			guesses = append(guesses, guess{Suspect{measure, lim.Unit.nearest(was), lim.Unit.nearest(about)}, odd, far})
		}
	}
	diagonals := k.first.squared().Add(k.second.squared())
	sides := k.a.squared().Add(k.b.squared()).Times(2)

	// Of a mean of n, the one wrong measure is off by n times what the mean is.
	for i, id := range []string{"width-top", "width-middle", "width-bottom"} {
		if mean, ok := rootOf(diagonals.Half().Sub(k.b.squared())); ok && k.m.Widths[i].Sign() > 0 {
			m := k.m
			m.Widths[i] = m.Widths[i].Add(mean.Sub(k.a).Times(k.nA))
			try(id, k.m.Widths[i], m.Widths[i], m)
		}
	}
	for i, id := range []string{"length-left", "length-middle", "length-right"} {
		if mean, ok := rootOf(diagonals.Half().Sub(k.a.squared())); ok && k.m.Lengths[i].Sign() > 0 {
			m := k.m
			m.Lengths[i] = m.Lengths[i].Add(mean.Sub(k.b).Times(k.nB))
			try(id, k.m.Lengths[i], m.Lengths[i], m)
		}
	}
	for i, id := range []string{"diagonal-1", "diagonal-2"} {
		if d, ok := rootOf(sides.Sub(k.m.Diagonals[1-i].squared())); ok {
			m := k.m
			m.Diagonals[i] = d
			try(id, k.m.Diagonals[i], d, m)
		}
	}
	sort.SliceStable(guesses, func(i, j int) bool {
		return guesses[i].odd.Add(guesses[i].far).Less(guesses[j].odd.Add(guesses[j].far))
	})
	for _, g := range guesses[:min(3, len(guesses))] {
		s.Suspects = append(s.Suspects, g.Suspect)
	}
	s.Verdict = Verdict{Slip, "A flat top can't measure so: a number is wrong.", "Measure again."}
	// Two mends off even with the likeliest put right: it is not one alone.
	if len(guesses) == 0 || lim.Mend.Times(2).Less(guesses[0].odd) {
		s.Verdict.Text = "A flat top can't measure so, and one wrong number alone does not explain it."
		return s
	}
	first := guesses[0]
	s.Verdict.Text += fmt.Sprintf(" Most likely the %s: %s was written, about %s would fit.", measureWords[first.Measure], first.Was.Exactly(), first.About.Shown())
	s.Verdict.Act = fmt.Sprintf("Measure the %s again.", measureWords[first.Measure])
	return s
}

// measureWords name a measure in a sentence.
var measureWords = map[string]string{
	"width-top": "width near the top", "width-middle": "width across the middle", "width-bottom": "width near the bottom",
	"length-left": "length near the left", "length-middle": "length down the middle", "length-right": "length near the right",
	"diagonal-1": "diagonal from corner 1 to 3", "diagonal-2": "diagonal from corner 2 to 4",
}

// oddness is how badly measures agree: both spreads and the diagonals' difference
// among themselves, and how far the means are from the plan's size, where there is one.
func oddness(m Measured, planned Size) (odd, far Length) {
	a, spreadA, _ := meanOf(m.Widths)
	b, spreadB, _ := meanOf(m.Lengths)
	odd = spreadA.Add(spreadB).Add(m.Diagonals[0].Sub(m.Diagonals[1]).abs())
	if planned.Width.Sign() > 0 {
		far = a.Sub(planned.Width).abs()
	}
	if planned.Length.Sign() > 0 {
		far = far.Add(b.Sub(planned.Length).abs())
	}
	return odd, far
}
