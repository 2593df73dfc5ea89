package calc

import "fmt"

// A Look is what is seen at a sewn corner before it is trimmed.
type Look string

const (
	LookFlat    Look = "flat"
	LookPucker  Look = "pucker"   // fabric is drawn up at the dot
	LookGap     Look = "gap"      // a hole at the dot
	LookStripes Look = "stripes"  // the lines of the two strips miss each other
	LookPleat   Look = "pleat"    // a fold is sewn in
	LookNotFlat Look = "not-flat" // the corner stands up or ripples
)

// Looks are all of them, what passes first.
var Looks = []Look{LookFlat, LookPucker, LookGap, LookStripes, LookPleat, LookNotFlat}

// A CornerLook is what a look means: whether the trim may follow, and what else it may
// come from, the likeliest cause first.
type CornerLook struct {
	Pass    bool    `json:"pass"`
	Verdict Verdict `json:"verdict"` // its Kind is the look
	Causes  []Cause `json:"causes"`
	Shift   *Shift  `json:"shift,omitempty"` // of stripes that miss by so much
}

// A Cause is where a fault may come from, how to tell, and what is done again. Redo are
// the first ticks that open, as the procedure names them, {corner} to be filled in.
type Cause struct {
	Text string   `json:"text"`
	Tell string   `json:"tell"`
	Acts []string `json:"acts"`
	Redo []string `json:"redo"`
}

// A Shift is how stripes that miss at a miter are brought together. A line y out from
// the inner seam of a band finished O wide meets the miter y × N/O along the strip, N
// the neighbor's width: where bands are equal, as far along as it lies out. A miss of
// m along a side strip is closed by moving its seam m × S/T, or the neighbor's by m,
// or both by half: one is taken in, the other let out. Derived; no source.
type Shift struct {
	Miss     Figure       `json:"miss"`
	EachSeam Pair[Figure] `json:"eachSeam"` // where both seams share it
	LetOut   Figure       `json:"letOut"`   // the most a seam can be let out and hold
	AtMiter  Figure       `json:"atMiter"`  // what the miter alone takes up from dot to edge
	RunOut   Figure       `json:"runOut"`   // over so much the moved seam goes back into the old one
}

// CheckCorner says what a look means. miss is how far stripes miss, along the strip, for
// stripes only.
func CheckCorner(p Plan, s Sheet, look Look, miss Length, lim Limits) CornerLook {
	again := []string{"miter.{corner}.sewn"}
	unpick := "Unpick the miter from the dot outward."
	seam := p.Unit.nearest(p.Seam).Exactly()
	verdict := func(text, act string) Verdict { return Verdict{string(look), text, act} }
	switch look {
	case LookFlat:
		return CornerLook{Pass: true, Verdict: verdict("No pucker, no gap, stripes meet: it may be trimmed.", ""), Causes: []Cause{}}
	case LookPucker:
		return CornerLook{Verdict: verdict("A seam goes past the dot and holds fabric that must be free.", "Do not trim. Look at the dot from the back."), Causes: []Cause{
			{"The miter starts inside the dot.", "Its first stitches lie in the center's allowance.",
				[]string{"Unpick the miter's first inch.", "Start again in the dot, and backstitch there."}, again},
			{"A border seam runs on past the dot.", fmt.Sprintf("It ends nearer than %s to the center's raw edge.", seam),
				[]string{unpick, "Unpick the border seam back to the dot and secure it there.", "Pin the corner and sew the miter again."},
				[]string{"miter.{corner}.pinned"}},
		}}
	case LookGap:
		return CornerLook{Verdict: verdict("A seam stops short of the dot.", "Do not trim. Hold the corner against the light."), Causes: []Cause{
			{"The miter starts outside the dot.", "The hole lies on the miter.",
				[]string{"Sew from the dot over the miter's first inch, on the same line."}, again},
			{"A border seam ends before the dot.", fmt.Sprintf("It ends more than %s from the center's raw edge.", seam),
				[]string{"Sew that seam on to the dot and backstitch.", "Then sew the miter's first inch again, from the dot."}, again},
		}}
	case LookPleat:
		return CornerLook{Verdict: verdict("Something is sewn in that must be free.", "Do not trim. Feel under the corner."), Causes: []Cause{
			{"The center's seam allowance is caught in the miter.", "At the dot three layers are sewn, not two.",
				[]string{unpick, fmt.Sprintf("Turn the %s allowance at the dot away and pin it.", seam), "Sew the miter again."},
				[]string{"miter.{corner}.turned"}},
			{"A tail was not flat when it was sewn.", "The pleat lies along the miter, away from the dot.",
				[]string{unpick, "Smooth both tails and pin across the line. Sew again."},
				[]string{"miter.{corner}.pinned"}},
		}}
	case LookNotFlat:
		return CornerLook{Verdict: verdict("The miter is not on the true diagonal, or its edge has stretched.", "Do not trim. Lay a ruler on the miter."), Causes: []Cause{
			{"The line is at the wrong angle.", fmt.Sprintf("From dot to finished corner it should be %s; the angle at a side's seam is %.1f°.", s.Corner.FinishedLine.Shown(), float64(s.Corner.AngleSides)),
				[]string{unpick, "Draw the line again from the dot and sew on it."},
				[]string{"miter.{corner}.folded"}},
			{"The bias edge is stretched.", "It lies flat when you pat it together.",
				[]string{"Press it from the back, the iron set down and lifted, with a little steam.", "If it still stands up, unpick and pin it again."},
				[]string{"miter.{corner}.pinned"}},
			{"The band is longer or shorter than the center.", "The ripple runs on along the edge.",
				[]string{"Measure the band along its seam and compare it with the center's side."}, []string{}},
		}}
	}
	return stripesMiss(p, s, miss, lim)
}

func stripesMiss(p Plan, s Sheet, miss Length, lim Limits) CornerLook {
	fig := p.Unit.nearest
	sides, ends := s.Bands.Sides.Finished.Length, s.Bands.TopBottom.Finished.Length
	half := miss.Half()
	sh := &Shift{
		Miss: fig(miss), EachSeam: Pair[Figure]{fig(half.Scale(sides, ends)), fig(half)},
		LetOut: fig(Length{}), AtMiter: fig(lim.Easing(s.Corner.FinishedLine.Length)),
		RunOut: fig(half.Scale(lim.EasedIn, lim.Eased)),
	}
	if out := p.Seam.Sub(lim.Held); out.Sign() > 0 {
		sh.LetOut.Length = out
	}
	told := fig(miss).Exactly()
	c := CornerLook{Shift: sh, Causes: []Cause{}}
	again := Cause{"The tails slipped when they were pinned.", "The raw edges of the two tails do not lie on each other.",
		[]string{"Unpick the miter.", fmt.Sprintf("Pin stripe on stripe, nothing moved at the dot and %s at the outer edge. Sew again.", told)},
		[]string{"miter.{corner}.pinned"}}
	each := fmt.Sprintf("Take one border seam in by %s and let the other out by as much. Both run back to nothing over %s.", sh.EachSeam.TopBottom.Shown(), sh.RunOut.Shown())
	if !sides.Equal(ends) {
		each = fmt.Sprintf("Move the side's seam by %s and the other by %s, one in and one out. Both run back to nothing over %s.", sh.EachSeam.Sides.Shown(), sh.EachSeam.TopBottom.Shown(), sh.RunOut.Shown())
	}
	seams := Cause{"A border seam is off, or a strip was cut on another line.", "The same line lies nearer to the seam on one strip than on the other.",
		[]string{"Unpick the miter.", each, "Sew the miter again."}, []string{"miter.{corner}.folded"}}
	cut := Cause{"A strip was cut on another line of the stripe.", "Along its whole length another line lies at the seam.",
		[]string{"No seam can be moved so far. Cut that strip again, or leave it and choose to see it as it is."}, []string{"cut.{border}.{edge}.measured"}}
	movable := lesser(sh.LetOut.Length.Times(2), sh.LetOut.Length.Times(2).Scale(ends, sides))
	switch {
	case !lim.Seen.Less(miss):
		c.Pass = true
		c.Verdict = Verdict{string(LookStripes), fmt.Sprintf("They miss by %s: up to %s is hardly seen.", told, fig(lim.Seen).Exactly()), ""}
	case !sh.AtMiter.Length.Less(miss):
		c.Verdict = Verdict{string(LookStripes), fmt.Sprintf("They miss by %s. The miter alone can take up to %s.", told, sh.AtMiter.Shown()), "Unpick the miter, pin stripe on stripe, sew again."}
		c.Causes = []Cause{again, seams}
	case !movable.Less(miss):
		c.Verdict = Verdict{string(LookStripes), fmt.Sprintf("They miss by %s, more than the miter alone takes up (%s).", told, sh.AtMiter.Shown()), "Look at both border seams first."}
		c.Causes = []Cause{seams, again}
	default:
		c.Verdict = Verdict{string(LookStripes), fmt.Sprintf("They miss by %s. Two seams together can be moved by %s at most.", told, fig(movable).Shown()), "Look where the line lies along the whole strip."}
		c.Causes = []Cause{again, cut}
	}
	return c
}
