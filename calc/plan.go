package calc

import "slices"

// A Plan is what the quilter decided: the input of everything.
type Plan struct {
	Title   string
	Unit    Unit
	Seam    Length
	Pieced  Size     // the center as it is pieced
	Coping  *Coping  // sewn to it before the borders; nil: none
	Center  Size     // what the borders are sewn to: pieced, with its coping strips
	Borders []Border // innermost first, 1 to 12
	Spare   Length
	Limits  Limits // how far fabric and tape may be off before something is said
}

// A Coping is two strips sewn to opposite edges of the center, so that a print
// along the border comes out even.
type Coping struct {
	Edges    Edges  // of the center
	Cut      Length // cut width of each
	Reckoned bool   // the plan left Cut out: it is the least that makes the print match
}

// A Size is a width along the top and a length down the side.
type Size struct{ Width, Length Length }

// A Border is one border all round. Cut widths include both seam allowances.
type Border struct {
	Name         string
	Cut          Length // of the strips on the sides
	CutTopBottom Length // of the strips on top and bottom; equal to Cut when left out
	Stripe       Length // repeat across the strip; 0: none
	Lines        []Line // of one repeat, which they fill; none: the plan does not say
	Start        Length // from the first line's edge to the strip's inner raw edge; less than Stripe
	Motif        Length // repeat along the strip; 0: none
	Fabric       Fabric
	// Lengths is LeastLengths where the strips are cut to their least length and the spare;
	// "" where they are as long as the whole band asks for.
	Lengths string
	Photo   string // id of a photo of its fabric, or of a swatch of that; "": none
}

// LeastLengths cuts the strips of an inner border shorter than the whole band.
const LeastLengths = "least"

// A Line is one line of a stripe, from the inner edge of the strip outward.
type Line struct {
	Name  string // "navy"; "" where the plan has none
	Width Length
	Color string // #rrggbb
}

// HasSwatch tells whether its fabric can be drawn from its photo: one repeat is cut from it.
func (b Border) HasSwatch() bool { return len(b.Photo) > photoLetters }

// photoLetters are those of a photo's id; a swatch's begins with them.
const photoLetters = 32

// CutOn is the border's cut width on a pair of edges.
func (b Border) CutOn(e Edges) Length {
	if e == TopBottom {
		return b.CutTopBottom
	}
	return b.Cut
}

// A Fabric is what a border is cut from.
type Fabric struct {
	Name        string // the same name on several borders: one fabric
	UsableWidth Length
	Across      int     // a border stripe printed so many times across the usable width; 0: not known
	First       *Length // its first usable line from the usable edge; nil: not known
	Heads       Heads   // where those of a one-way print point; "": it may lie either way
	Runs        string  // "lengthwise", "crosswise" or "": both are compared
	Join        string  // "none", "straight" or "diagonal"
	Even        Length
	Shrink      string // percent, as written
}

// Edges is a pair of opposite edges of the center.
type Edges string

const (
	Sides     Edges = "sides"
	TopBottom Edges = "topBottom"
)

// Neighbor is the pair that these edges meet at the corners.
func (e Edges) Neighbor() Edges {
	if e == Sides {
		return TopBottom
	}
	return Sides
}

// Pair holds one thing for the sides and one for top and bottom.
type Pair[T any] struct {
	Sides     T `json:"sides"`
	TopBottom T `json:"topBottom"`
}

// On is the one for these edges.
func (p Pair[T]) On(e Edges) T {
	if e == TopBottom {
		return p.TopBottom
	}
	return p.Sides
}

// BordersAlike tells whether each border is as wide on the sides as on top and bottom, so that
// its seams and its print turn the corner: bands as wide as each other are not enough.
func (p Plan) BordersAlike() bool {
	return !slices.ContainsFunc(p.Borders, func(b Border) bool { return !b.CutOn(Sides).Equal(b.CutOn(TopBottom)) })
}

// FirstOfFabric is the first border that is cut from the same fabric as border i, both counted
// from 0.
func (p Plan) FirstOfFabric(i int) int {
	if name := p.Borders[i].Fabric.Name; name != "" {
		return slices.IndexFunc(p.Borders, func(b Border) bool { return b.Fabric.Name == name })
	}
	return i
}
