package calc

// A SeamTest is three strips sewn side by side to see what allowance is really
// taken.
type SeamTest struct {
	Cut    Figure // of each strip
	Across Figure // all three, sewn: 3 × cut − 4 × seam
	Middle Figure // the middle one then: cut − 2 × seam
}

// NewSeamTest takes strips of 1 1/2 in or 4 cm, wider where the allowance asks for
// it, so that every strip shows.
func NewSeamTest(p Plan) SeamTest {
	cut := Of(3, 2, Inch)
	if p.Unit == Centimeter {
		cut = Of(4, 1, Centimeter)
	}
	if least := p.Seam.Times(3); cut.Less(least) {
		cut = least.Round(p.Unit, CutUp)
	}
	nearest := func(l Length) Figure { return Figure{l, p.Unit, Nearest} }
	return SeamTest{
		Cut:    nearest(cut),
		Across: nearest(cut.Times(3).Sub(p.Seam.Times(4))),
		Middle: nearest(cut.Sub(p.Seam.Times(2))),
	}
}
