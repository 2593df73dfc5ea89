package calc

// Limits are how far fabric and tape may be off before something is said. Each can be
// set; what a field does stands beside it.
type Limits struct {
	Unit Unit
	// Apart is how far any edge, however short, may lie from the mean of three measures
	// and still be eased to it; up to here opposite edges pass for equal.
	Apart Length
	// ApartOwn: a plan sets Apart, and no longer edge is eased by more.
	ApartOwn bool
	// MendOwn: a plan sets Mend, and no longer edge is eased where it is reached.
	MendOwn bool
	// Mend is how far three measures may be apart before a seam must be mended, however
	// long they are, and how far one measure may be from the plan before it is asked about.
	Mend Length
	// Diagonals is how far the two diagonals may differ in what passes for square, in
	// every DiagonalsIn of their length and at least once. With a DiagonalsIn of 0, where a
	// plan sets it, it holds for any length.
	Diagonals, DiagonalsIn Length
	// Tape is how far a careful measure with a tape may be off by itself.
	Tape Length
	// Seam is how far an allowance may be off and still be called right: less than
	// shows on the ruler across three strips.
	Seam Length
	// Seen is how far the lines of two strips may miss each other at a miter.
	Seen Length
	// Eased is how much fabric is taken up without a ripple in every EasedIn.
	Eased, EasedIn Length
	// Narrow is the least a border should finish at; under it sewing is fussy.
	Narrow Length
	// Clear is how far a join stays away from a miter.
	Clear Length
	// Held is the least allowance that still holds a seam.
	Held Length
}

// DefaultLimits are common practice (cp), in whole lines of the unit's ruler; Mend is
// from the Quilting Board, 10 February 2018 ("1/2 in apart: stop"). Tape, Seam, Clear
// and Held are our own.
func DefaultLimits(u Unit) Limits {
	if u == Centimeter {
		mm := func(n int64) Length { return Of(n, 10, Centimeter) }
		return Limits{
			Unit:  u,
			Apart: mm(3), Mend: mm(13), Diagonals: mm(3), DiagonalsIn: mm(1000), Tape: mm(3),
			Seam: Of(25, 1000, Centimeter), Seen: mm(3),
			Eased: mm(6), EasedIn: mm(500),
			Narrow: mm(13), Clear: mm(50), Held: mm(3),
		}
	}
	return Limits{
		Unit:  u,
		Apart: Of(1, 8, u), Mend: Of(1, 2, u), Diagonals: Of(1, 8, u), DiagonalsIn: Of(40, 1, u), Tape: Of(1, 8, u),
		Seam: Of(1, 64, u), Seen: Of(1, 8, u),
		Eased: Of(1, 4, u), EasedIn: Of(20, 1, u),
		Narrow: Of(1, 2, u), Clear: Of(2, 1, u), Held: Of(1, 8, u),
	}
}

// Easing is how much can be eased into a seam of this length.
func (lim Limits) Easing(seam Length) Length { return seam.Scale(lim.Eased, lim.EasedIn) }

// Square is how far two diagonals of this length may differ in what passes for square,
// to the nearest line of the ruler: 1/8 in for each 40 in of them, 3 mm for each meter, at
// least once that (cp). A tape is no better.
func (lim Limits) Square(diagonal Length) Length {
	if lim.DiagonalsIn.Sign() == 0 {
		return lim.Diagonals
	}
	return longer(lim.Diagonals, diagonal.Scale(lim.Diagonals, lim.DiagonalsIn).Round(lim.Unit, Nearest))
}
