package calc

import "fmt"

// Kinds of a band's length, beside Right and Ease.
const (
	Wavy   = "wavy"   // the band is longer than its side of the center
	Pulled = "pulled" // shorter
)

// A BandLength is how a band, measured between the marks of its ends, fits its side of
// the center.
type BandLength struct {
	Verdict Verdict `json:"verdict"`
	Side    Figure  `json:"side"`    // the center's, raw edge to raw edge
	Off     Figure  `json:"off"`     // without its sign
	MayEase Figure  `json:"mayEase"` // goes into a seam of this length: 1/4 in 20 in (cp)
	Step    Figure  `json:"step"`    // so much is taken in, or let out,
	Every   Figure  `json:"every"`   // in every so many; 0 where nothing is to be done
}

// CheckBand judges the band on these edges, measured from the mark of one end to that
// of the other, along its inner edge.
func CheckBand(p Plan, e Edges, band Length, lim Limits) BandLength {
	fig := p.Unit.nearest
	side := p.Center.along(e)
	off := band.Sub(side)
	b := BandLength{Side: fig(side), Off: fig(off.abs()), MayEase: fig(lim.Easing(side)), Step: fig(lim.Apart), Every: fig(Length{})}
	told, may := b.Off.Exactly(), b.MayEase.Shown()
	switch {
	case off.Sign() == 0:
		b.Verdict = Verdict{Right, fmt.Sprintf("As long as its side: %s.", b.Side.Exactly()), ""}
		return b
	case !lim.Easing(side).Less(off.abs()):
		way, act := "longer", "Pin middle and ends, then halve between pins, and sew with the fuller layer below."
		if off.Sign() < 0 { // the fuller layer is the center, and its dots must be seen
			way, act = "shorter", "Pin middle and ends, then halve between pins. Sew with the center on top; ease it in with more pins."
		}
		b.Verdict = Verdict{Ease, fmt.Sprintf("The band is %s %s than its side; up to %s eases in.", told, way, may), act}
		return b
	}
	b.Every = fig(side.Scale(lim.Apart, off.abs()))
	if off.Sign() > 0 {
		b.Verdict = Verdict{Wavy, fmt.Sprintf("The band is %s longer than its side; only %s eases in. It would ripple.", told, may),
			fmt.Sprintf("Unpick it, mark it and pin it again: about %s comes out in every %s.", b.Step.Exactly(), b.every())}
		return b
	}
	b.Verdict = Verdict{Pulled, fmt.Sprintf("The band is %s shorter than its side; only %s eases in. It would pull.", told, may),
		fmt.Sprintf("Unpick it, mark it and pin it again: about %s more goes into every %s.", b.Step.Exactly(), b.every())}
	return b
}

// every is over how much so much goes in, told to a whole inch or centimeter.
func (b BandLength) every() string {
	whole := b.Every.Length.toNearest(Of(1, 1, b.Every.Unit))
	if whole.Sign() == 0 {
		return b.Every.Shown()
	}
	return b.Every.Unit.nearest(whole).Shown()
}
