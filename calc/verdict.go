package calc

// A Verdict is what a measure says, in words for a tablet.
type Verdict struct {
	Kind string `json:"kind"` // one of the constants of the file that gives it
	Text string `json:"text"` // what is so, in a sentence or two
	Act  string `json:"act"`  // what to do, as a command; "" where nothing is to be done
}

// A Named is a figure with what it is of.
type Named struct {
	Name   string `json:"name"`
	Figure Figure `json:"figure"`
}

// A WayOut is one way to save the work. Kinds: narrower, trim-all, joined, new-strip,
// redo, ease, trim, block, needle, smaller, leave.
type WayOut struct {
	ID    string   `json:"id,omitempty"` // among the ways of one answer; given by who shows them
	Kind  string   `json:"kind"`
	Title string   `json:"title"`
	Acts  []string `json:"acts"` // what to do, in order
	// Then is what follows them, in order: what the ticks that open again have done.
	Then    []string `json:"then,omitempty"`
	Figures []Named  `json:"figures"`
	// Redo are the ticks that open again, as the procedure names them, with {corner},
	// {edge}, {border} to be filled in; what needs them opens too.
	Redo []string `json:"redo,omitempty"`
	// Change is what becomes of the plan; nil: it stays.
	Change *Change `json:"change,omitempty"`
	// First is how it was in the procedure's first edition, where that was otherwise.
	First *First `json:"-"`
}

// First is what a way out opened, and in how many deeds it was told, at first. One that was
// taken then keeps to that.
type First struct {
	Deeds  int
	Redo   []string // nil: as now
	Change *Change  // nil: as now
}

// A Change is a border's new cut width on these edges.
type Change struct {
	Border int     `json:"border"` // 1 is innermost
	Edges  []Edges `json:"edges"`
	Cut    Figure  `json:"cut"`
}

// Apply is the plan with the change made.
func (c Change) Apply(p Plan) Plan {
	p.Borders = append([]Border(nil), p.Borders...)
	b := &p.Borders[c.Border-1]
	for _, e := range c.Edges {
		if e == TopBottom {
			b.CutTopBottom = c.Cut.Length
		} else {
			b.Cut = c.Cut.Length
		}
	}
	return p
}

func (u Unit) nearest(l Length) Figure { return Figure{l, u, Nearest} }

// abs is the length without its sign.
func (l Length) abs() Length {
	if l.Sign() < 0 {
		return Length{}.Sub(l)
	}
	return l
}

// squared is l², as so many inches along one inch.
func (l Length) squared() Length { return l.Scale(l, Of(1, 1, Inch)) }

// fine shows what is less than a ruler's line: in mm to one place, and in inches to
// thousandths where those are the unit.
func fine(l Length, u Unit) string { return Figure{l, u, Fine}.Shown() }

// telling is the figure on the ruler's lines, or finer where those say nothing: where it
// is not 0 and would show as that.
func (u Unit) telling(l Length) Figure {
	if l.Sign() != 0 && l.Round(u, Nearest).Sign() == 0 {
		return Figure{l, u, Fine}
	}
	return u.nearest(l)
}

// exactly is the figure on the ruler's lines where it lies on one, else finer.
func (u Unit) exactly(l Length) Figure {
	if !l.Equal(l.Round(u, Nearest)) {
		return Figure{l, u, Fine}
	}
	return u.nearest(l)
}
