package calc

// A Mattress is a nominal size of one, its foot at the bottom. They are those of the
// United States and Canada; elsewhere, and for any other bed, measure.
type Mattress struct {
	Name string
	Size Size
}

// Mattresses are the usual ones, in inches: crib from the Better Sleep Council, the
// others as sold, twin being 38 x 75 at the least.
var Mattresses = []Mattress{
	{"crib", inches(27, 52)},
	{"twin", inches(39, 75)},
	{"full", inches(54, 75)},
	{"queen", inches(60, 80)},
	{"king", inches(76, 80)},
	{"California king", inches(72, 84)},
}

func inches(w, l int64) Size { return Size{Of(w, 1, Inch), Of(l, 1, Inch)} }

// Covered is a quilt for a mattress: it hangs down so far on both sides and at the
// foot, and ends at the head.
func Covered(mattress Size, drop Length) Size {
	return Size{Width: mattress.Width.Add(drop.Times(2)), Length: mattress.Length.Add(drop)}
}

// MattressNamed is the one of that name, false where there is none.
func MattressNamed(name string) (Mattress, bool) {
	for _, m := range Mattresses {
		if m.Name == name {
			return m, true
		}
	}
	return Mattress{}, false
}
