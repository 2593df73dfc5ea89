package calc

import "fmt"

// Next is what comes when the borders are on: backing, batting and binding.
type Next struct {
	Top     Area    `json:"top"` // before binding
	Backing Backing `json:"backing"`
	Batting Area    `json:"batting"`
	Binding Binding `json:"binding"`
}

// A Backing is cut larger than the top, and pieced where the fabric is not wide enough.
type Backing struct {
	Area
	Widths
	// Wide is how it is pieced from wide backing fabric; nil where fabric of the usual
	// width takes no more than two lengths.
	Wide *Widths `json:"wide,omitempty"`
}

// Widths are lengths of one fabric, sewn side by side.
type Widths struct {
	Usable Figure `json:"usable"` // width of the fabric between selvages
	Pieces int    `json:"pieces"`
	Each   Figure `json:"each"` // how long each piece is
	Seams  int    `json:"seams"`
	Run    string `json:"run"` // of the lengths: "down" or "across" the quilt
	Buy    Figure `json:"buy"`
}

// A Binding is cut crosswise, its strips joined end to end on the diagonal to a ring.
type Binding struct {
	Perimeter Figure `json:"perimeter"`
	Needed    Figure `json:"needed"` // the perimeter, and what its corners and ends take
	Cut       Figure `json:"cut"`    // width of a strip
	Strips    int    `json:"strips"`
	Fabric    Figure `json:"fabric"` // all strips
	Buy       Figure `json:"buy"`
}

// Finishing is how the quilt is to be finished.
type Finishing struct {
	Around Length // backing and batting beyond the top, on every side
	Usable Length // width of the fabric between selvages
	Wide   Length // the same of wide backing fabric
	Seam   Length // allowance of a seam in the backing
	Even   Length // lost to squaring the ends of what is bought
	Strip  Length // cut width of the binding
	Joins  Length // of binding beyond the perimeter
}

// DefaultFinishing is common practice (cp): 4 in around, 40 in of usable width, binding
// cut 2 1/2 in and 10 in longer than the perimeter; in cm 10, 102, 6.5 and 25. Wide backing
// fabric is 108 in or 274 cm wide (cp); of that we reckon with 104 in or 264 cm.
func DefaultFinishing(u Unit) Finishing {
	if u == Centimeter {
		return Finishing{Of(10, 1, u), Of(102, 1, u), Of(264, 1, u), Of(15, 10, u), Of(5, 1, u), Of(65, 10, u), Of(25, 1, u)}
	}
	return Finishing{Of(4, 1, u), Of(40, 1, u), Of(104, 1, u), Of(1, 2, u), Of(2, 1, u), Of(5, 2, u), Of(10, 1, u)}
}

// NewNext reckons what comes next for a top of this raw size. The error is Faults of
// the field "usable" where the fabric is too narrow to be joined at all.
func NewNext(top Size, u Unit, f Finishing) (Next, error) {
	if least := longer(f.Strip, f.Seam.Times(2)); !least.Less(f.Usable) {
		return Next{}, Faults{{"usable", fmt.Sprintf("is %s; it must be more than what a join takes, %s", u.nearest(f.Usable).Exactly(), u.nearest(least).Exactly())}}
	}
	size := Size{top.Width.Add(f.Around.Times(2)), top.Length.Add(f.Around.Times(2))}
	area := func(s Size) Area { return Area{u.nearest(s.Width), u.nearest(s.Length)} }
	return Next{Top: area(top), Backing: newBacking(size, u, f), Batting: area(size), Binding: newBinding(top, u, f)}, nil
}

// manyLengths is how many lengths of the usual fabric make wide backing fabric a choice
// worth telling.
const manyLengths = 3

func newBacking(size Size, u Unit, f Finishing) Backing {
	b := Backing{Area: Area{u.nearest(size.Width), u.nearest(size.Length)}, Widths: newWidths(size, u, f, f.Usable)}
	if b.Pieces >= manyLengths && f.Usable.Less(f.Wide) {
		wide := newWidths(size, u, f, f.Wide)
		b.Wide = &wide
	}
	return b
}

// newWidths takes the way that needs less fabric: seams down the quilt or across it,
// down where they are alike.
func newWidths(size Size, u Unit, f Finishing, usable Length) Widths {
	// n widths with n − 1 seams between cover n × usable − (n − 1) × 2 × allowance.
	pieces := func(cover Length) int64 {
		return max(cover.Sub(f.Seam.Times(2)).times(usable.Sub(f.Seam.Times(2))), 1)
	}
	down, across := pieces(size.Width), pieces(size.Length)
	n, each, run := down, size.Length, "down"
	if size.Width.Times(across).Less(size.Length.Times(down)) {
		n, each, run = across, size.Width, "across"
	}
	return Widths{
		Usable: u.nearest(usable), Pieces: int(n), Each: Figure{each, u, CutUp}, Seams: int(n - 1), Run: run,
		Buy: Figure{each.Times(n).Add(f.Even).Round(u, FabricUp), u, FabricUp},
	}
}

// newBinding takes so many strips that they make the ring: each loses its width to one of
// the diagonal joins, of which there are as many as strips, with the one that closes it.
func newBinding(top Size, u Unit, f Finishing) Binding {
	around := top.Width.Add(top.Length).Times(2)
	needed := around.Add(f.Joins)
	strips := needed.times(f.Usable.Sub(f.Strip))
	fabric := f.Strip.Times(strips)
	return Binding{
		Perimeter: u.nearest(around), Needed: u.nearest(needed), Cut: u.nearest(f.Strip),
		Strips: int(strips), Fabric: Figure{fabric, u, LeastUp}, Buy: Figure{fabric.Add(f.Even).Round(u, FabricUp), u, FabricUp},
	}
}

// times is how often another length must be taken to be as long.
func (l Length) times(each Length) int64 {
	n, rest := l.wholes(each)
	if rest {
		return n.Int64() + 1
	}
	return n.Int64()
}

func longer(a, b Length) Length {
	if a.Less(b) {
		return b
	}
	return a
}
