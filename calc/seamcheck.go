package calc

import "fmt"

// Kinds of a seam check, beside Right.
const (
	Fat     = "fat"     // the allowance taken is wider than planned
	Scant   = "scant"   // narrower
	NoCheck = "nocheck" // no seam can measure so
)

// A SeamCheck is the allowance that is really taken, and what that does to the top.
type SeamCheck struct {
	Verdict   Verdict `json:"verdict"`
	Allowance Figure  `json:"allowance"`
	Off       Figure  `json:"off"`      // without its sign
	Told      string  `json:"told"`     // the allowance as it is told, to thousandths or 0.1 mm
	OffTold   string  `json:"offTold"`  // so far the needle, or the guide, moves
	Toward    string  `json:"toward"`   // "the raw edge" or "away from the raw edge"; "" when right
	InFour    Figure  `json:"inFour"`   // what four seams of that error come to
	Seams     int     `json:"seams"`    // border seams across this top
	Top       Figure  `json:"top"`      // by how much it comes out narrower and shorter, or more
	TopTold   string  `json:"topTold"`  // the same, told
	Expected  Area    `json:"expected"` // the raw top, sewn with this allowance throughout
}

// CheckSeam judges a test of strips of one cut width, sewn side by side, by what they
// measure across. k strips of cut width t that measure m have the allowance
// (k·t − m) / 2(k − 1), as each of the k − 1 seams takes two. Derived; the figures of
// J. Cahoon, Quiltcentric, 16 September 2012, agree. strips is 2 or more.
func CheckSeam(p Plan, strips int, cut, across Length, lim Limits) SeamCheck {
	fig := p.Unit.nearest
	seams := int64(strips - 1)
	real := cut.Times(int64(strips)).Sub(across).Scale(Of(1, 1, Inch), Of(2*seams, 1, Inch))
	off := real.Sub(p.Seam)

	// Every border is sewn on at both ends of the way across.
	n := 2 * int64(len(p.Borders))
	top := off.Times(2 * n)
	whole := finishedSize(p)
	raw := func(finished Length) Figure { return fig(finished.Add(p.Seam.Times(2)).Sub(top)) }
	c := SeamCheck{
		Allowance: p.Unit.exactly(real), Off: p.Unit.exactly(off.abs()),
		Told: fine(real, p.Unit), OffTold: fine(off.abs(), p.Unit),
		InFour: p.Unit.exactly(off.abs().Times(8)), Seams: int(n), Top: p.Unit.exactly(top.abs()), TopTold: fine(top.abs(), p.Unit),
		Expected: Area{raw(whole.Width), raw(whole.Length)},
	}
	c.Verdict = c.verdict(p, off, real, cut, lim)
	switch c.Verdict.Kind {
	case Fat:
		c.Toward = "the raw edge"
	case Scant:
		c.Toward = "away from the raw edge"
	}
	return c
}

func (c SeamCheck) verdict(p Plan, off, real, cut Length, lim Limits) Verdict {
	seam := p.Unit.nearest(p.Seam).Exactly()
	if p.Unit == Centimeter {
		seam = fine(p.Seam, p.Unit)
	}
	switch {
	case real.Sign() <= 0 || !real.Less(cut.Half()):
		return Verdict{NoCheck, "Strips of this width can't measure so, whatever the seams.", "Measure the cut width and across all strips again."}
	case off.abs().Less(lim.Seam):
		return Verdict{Right, fmt.Sprintf("The allowance is right: %s.", seam), ""}
	case off.Sign() > 0:
		return Verdict{Fat,
			fmt.Sprintf("The allowance is fat: %s instead of %s. Over this top's %d seams it would come out %s smaller.", c.Told, seam, c.Seams, c.TopTold),
			fmt.Sprintf("Move the needle %s toward the raw edge, or the guide toward the needle. Then test again.", c.OffTold)}
	}
	return Verdict{Scant,
		fmt.Sprintf("The allowance is scant: %s instead of %s. Over this top's %d seams it would come out %s larger.", c.Told, seam, c.Seams, c.TopTold),
		fmt.Sprintf("Move the needle %s away from the raw edge, or the guide away from the needle. Then test again.", c.OffTold)}
}

// Check judges the plan's own seam test by what its strips measure across.
func (t SeamTest) Check(p Plan, across Length, lim Limits) SeamCheck {
	return CheckSeam(p, 3, t.Cut.Length, across, lim)
}
