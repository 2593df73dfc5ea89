package calc

// A Settled is a size to build on, and where it came from.
type Settled struct {
	Length Length
	Spread Length // between the least and the most of the three
	Ease   bool   // the three differ by so little that easing takes it up
}

// Settle gives the size to build on from three measures of one direction: their
// mean where they differ by no more than Apart, to the nearest 1/8 in or 1 mm; else
// the least, to which the rest is trimmed. Three that agree are taken as they are.
func (lim Limits) Settle(three [3]Length) Settled {
	least, most, sum := three[0], three[0], Length{}
	for _, l := range three {
		least, most, sum = lesser(least, l), longer(most, l), sum.Add(l)
	}
	s := Settled{Length: least, Spread: most.Sub(least)}
	s.Ease = !lim.Apart.Less(s.Spread)
	if s.Ease && s.Spread.Sign() > 0 {
		grain := Of(1, 8, Inch)
		if lim.Unit == Centimeter {
			grain = Of(1, 10, Centimeter)
		}
		s.Length = sum.Scale(Of(1, 3, Inch), Of(1, 1, Inch)).toNearest(grain)
	}
	return s
}
