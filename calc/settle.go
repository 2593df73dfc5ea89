package calc

// A Settled is a size to build on, and where it came from.
type Settled struct {
	Length Length
	Spread Length // between the least and the most of the three
	Ease   bool   // the three lie so near their mean that edges are eased to it
}

// Settle gives the size to build on from three measures of one direction: their mean, to
// the nearest 1/8 in or 1 mm. Where it does not ease a seam is off, and until that is found
// the mean stands. Three that agree are taken as they are.
func (lim Limits) Settle(three [3]Length) Settled {
	least, mean, far, spread := gather(three)
	s := Settled{Length: least, Spread: spread, Ease: lim.eases(mean, far, spread)}
	if spread.Sign() > 0 {
		s.Length = mean.toNearest(ruled(lim.Unit))
	}
	return s
}

// SettleTrimmed is how Settle was until the procedure's second edition, for centers that
// were trimmed by it: the mean where the three differ by no more than Apart, else the
// least, to which they were trimmed.
func (lim Limits) SettleTrimmed(three [3]Length) Settled {
	least, mean, _, spread := gather(three)
	s := Settled{Length: least, Spread: spread, Ease: !lim.Apart.Less(spread)}
	if s.Ease && spread.Sign() > 0 {
		s.Length = mean.toNearest(ruled(lim.Unit))
	}
	return s
}

// gather is the least of three, their mean, how far the farthest lies from the mean, and
// the most less the least.
func gather(three [3]Length) (least, mean, far, spread Length) {
	least, most := three[0], three[0]
	for _, l := range three {
		least, most, mean = lesser(least, l), longer(most, l), mean.Add(l)
	}
	mean = mean.Scale(Of(1, 3, Inch), Of(1, 1, Inch))
	return least, mean, longer(most.Sub(mean), mean.Sub(least)), most.Sub(least)
}

// MayLie is how far an edge of this length may lie from the mean of three measures and
// still be eased to it: Apart, or half of what eases where that is more (cp) and a plan
// sets no Apart of its own.
func (lim Limits) MayLie(mean Length) Length {
	if lim.ApartOwn {
		return lim.Apart
	}
	return longer(lim.Apart, lim.Easing(mean).Half())
}

// eases tells whether measures that far from their mean are eased to it. A Mend that the plan
// sets holds however long the edge. Apart and Mend may be alike: then up to them is eased.
func (lim Limits) eases(mean, far, spread Length) bool {
	return !lim.MayLie(mean).Less(far) && (!lim.MendOwn || spread.Less(lim.Mend) || !lim.Apart.Less(spread))
}
