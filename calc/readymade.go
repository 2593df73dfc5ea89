package calc

// A ReadyMade is a stripe to begin with, for one who does not want to measure every
// line: its lines as shares of the repeat. The names and colors are our own.
type ReadyMade struct {
	Name   string // "ticking": the trade's word for such a fabric
	shares []share
}

type share struct {
	name, color string
	part        int64
}

// ReadyMades are stripes as they are woven, each from its inner edge outward.
var ReadyMades = []ReadyMade{
	{"ticking", []share{{"cream", "#f2ead8", 5}, {"navy", "#23395b", 1}, {"cream", "#f2ead8", 1}, {"navy", "#23395b", 1}}},
	{"awning", []share{{"sand", "#efe3c8", 1}, {"brick", "#a8432f", 1}}},
	{"pinstripe", []share{{"slate", "#3f4a52", 7}, {"chalk", "#f4f1e8", 1}}},
	{"graded", []share{{"deep sea", "#17405a", 4}, {"lagoon", "#3f7f97", 3}, {"mist", "#a9c9d1", 2}, {"foam", "#eef4f2", 1}}},
	{"bordered", []share{{"moss", "#44603f", 1}, {"straw", "#e3c877", 1}, {"rose", "#c9746a", 4}, {"straw", "#e3c877", 1}, {"moss", "#44603f", 1}}},
}

// Lines are the stripe's lines in one repeat of that length; they fill it exactly.
func (m ReadyMade) Lines(repeat Length) []Line {
	var whole int64
	for _, s := range m.shares {
		whole += s.part
	}
	lines := make([]Line, len(m.shares))
	for i, s := range m.shares {
		lines[i] = Line{Name: s.name, Width: repeat.Scale(Of(s.part, 1, Inch), Of(whole, 1, Inch)), Color: s.color}
	}
	return lines
}

// ReadyMadeNamed is the one of that name, false where there is none.
func ReadyMadeNamed(name string) (ReadyMade, bool) {
	for _, m := range ReadyMades {
		if m.Name == name {
			return m, true
		}
	}
	return ReadyMade{}, false
}

// Written is the length as it is typed: whole and fraction on any line that halves
// can draw, as "1 3/32"; else as a fraction, or in the unit's decimals.
func (l Length) Written(u Unit) string {
	if u == Centimeter {
		return l.Value(u) + " cm"
	}
	r := l.in(u)
	whole, rest := l.wholes(Of(1, 1, Inch))
	if !rest {
		return whole.String()
	}
	if len(r.Denom().String()) > 4 {
		return l.Value(u)
	}
	part := l.mod(Of(1, 1, Inch)).in(u)
	text := part.Num().String() + "/" + part.Denom().String()
	if whole.Sign() > 0 {
		text = whole.String() + " " + text
	}
	return text
}
