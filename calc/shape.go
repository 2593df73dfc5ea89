package calc

import (
	"fmt"
	"math/big"
)

// Kinds of a shape.
const (
	Unknown   = "unknown"   // too little is measured
	Rectangle = "rectangle" // true
	Leaning   = "leaning"   // a parallelogram: opposite edges agree, diagonals don't
	Trapezoid = "trapezoid" // opposite edges differ by more than eases, whatever the diagonals say
	Slip      = "slip"      // no fabric can measure so: a number is wrong
)

// A Shape is what a top's measures together make it.
type Shape struct {
	Verdict Verdict `json:"verdict"` // its Kind is the shape
	Lean    *Lean   `json:"lean,omitempty"`
	// Suspects are what may be wrong in a slip, the likeliest first.
	Suspects []Suspect `json:"suspects,omitempty"`

	law *law
}

// A Lean is how far a rectangle has gone over. For sides a, b and diagonals d1, d2
// it leans by |d1² − d2²| / 4a over b. Derived: with the top edge moved by k to the
// right, d2² = (a + k)² + h², d1² = (a − k)² + h², and their difference is 4ak.
type Lean struct {
	Corner     int    `json:"corner"`     // that is drawn out at the top: 1 (left) or 2 (right)
	OverLength Figure `json:"overLength"` // the top edge lies so far sideways of the bottom one
	OverWidth  Figure `json:"overWidth"`  // one side lies so much higher than the other
	Apart      Figure `json:"apart"`      // of the diagonals
}

// A Suspect is a measure that may be wrong, and what it would have to be.
type Suspect struct {
	Measure string `json:"measure"` // width-top, length-left, diagonal-1 …
	Was     Figure `json:"was"`
	About   Figure `json:"about"`
}

// newShape tells the shape. A slip comes first: what no fabric can measure says
// nothing about the fabric. Then opposite edges, as an isosceles trapezoid has equal
// diagonals too (Sonoma State University, Math 150, Theorem 6), then the diagonals.
func newShape(m Measured, w, l Direction, planned Size, lim Limits) Shape {
	s := Shape{law: newLaw(m)}
	uneven := w.uneven(lim) || l.uneven(lim)
	mend := w.uneven(lim) && w.Verdict.Kind == Mend || l.uneven(lim) && l.Verdict.Kind == Mend
	far := w.farApart(lim) || l.farApart(lim)
	if s.law != nil && s.law.broken(lim) {
		return s.slip(planned, lim)
	}
	if s.law != nil {
		s.Lean = s.law.lean(lim)
	}
	leans := s.Lean != nil && lim.Square(m.Diagonals[0].Add(m.Diagonals[1]).Half()).Less(s.Lean.Apart.Length)
	switch {
	case mend, far, uneven && !leans && s.law != nil && w.set && l.set:
		text := "Opposite edges differ"
		if w.uneven(lim) {
			text += fmt.Sprintf(": top and bottom by %s", lim.Unit.nearest(w.edges[0].Sub(w.edges[1]).abs()).Exactly())
		}
		if l.uneven(lim) {
			text += fmt.Sprintf(": left and right by %s", lim.Unit.nearest(l.edges[0].Sub(l.edges[1]).abs()).Exactly())
		}
		text += "."
		if !mend && !far {
			s.Verdict = Verdict{Ease, text + " Easing takes that up.", "Ease opposite edges to one size, and they come out equal."}
			break
		}
		if s.Lean != nil && !leans {
			text += " Equal diagonals do not make that true."
		}
		act := "Find the seam that is off and mend it. Then measure again."
		if !mend {
			act = "Edges so long ease to their mean. Look all the same whether a seam is off."
		}
		s.Verdict = Verdict{Trapezoid, text, act}
	case s.law == nil || !w.set || !l.set:
		text := "Whether it is a rectangle is not known yet."
		if leans {
			text = fmt.Sprintf("Its diagonals are %s apart: it leans, or opposite edges differ.", s.Lean.Apart.Exactly())
		}
		s.Verdict = Verdict{Unknown, text, "Measure all three widths, all three lengths and both diagonals."}
	case leans:
		s.Verdict = Verdict{Leaning,
			fmt.Sprintf("It leans: the top lies %s to the %s of the bottom.", s.Lean.OverLength.Shown(), s.Lean.side()),
			fmt.Sprintf("Pull corners %s apart, gently; pin, steam and let it cool. Then measure again.", s.Lean.short())}
	default:
		s.Verdict = Verdict{Rectangle, "A true rectangle.", ""}
	}
	return s
}

func (l Lean) side() string {
	if l.Corner == 1 {
		return "left"
	}
	return "right"
}

// short are the corners of the short diagonal.
func (l Lean) short() string {
	if l.Corner == 1 {
		return "2 and 4"
	}
	return "1 and 3"
}

// A law holds four lengths to the parallelogram law, 2a² + 2b² = d1² + d2²: a and b
// the means of what was taken. Edges that differ a little, as in a trapezoid, break
// it only by the square of the difference. A bowed top, its middle longer or shorter
// than both edges, is no flat shape: its diagonals go with either, or with what lies
// between. Derived; no source.
type law struct {
	m             Measured
	a, b          Length
	nA, nB        int64 // measures taken
	first, second Length
}

// newLaw is nil unless both ways and both diagonals are measured.
func newLaw(m Measured) *law {
	k := &law{m: m, first: m.Diagonals[0], second: m.Diagonals[1]}
	k.a, _, k.nA = meanOf(m.Widths)
	k.b, _, k.nB = meanOf(m.Lengths)
	if k.nA == 0 || k.nB == 0 || k.first.Sign() == 0 || k.second.Sign() == 0 {
		return nil
	}
	return k
}

// meanOf is the mean of what was taken, its spread and how many that is.
func meanOf(three [3]Length) (mean, spread Length, n int64) {
	var least, most Length
	for _, l := range three {
		if l.Sign() == 0 {
			continue
		}
		if n == 0 {
			least = l
		}
		least, most = lesser(least, l), longer(most, l)
		mean, n = mean.Add(l), n+1
	}
	if n == 0 {
		return
	}
	return mean.Scale(Of(1, 1, Inch), Of(n, 1, Inch)), most.Sub(least), n
}

// over is by how much sides a and b have it over the diagonals, in square inches.
func (k *law) over(a, b Length) Length {
	return a.squared().Add(b.squared()).Times(2).Sub(k.first.squared()).Sub(k.second.squared())
}

// skew is d2² − d1² in square inches: more than 0 leans to the right.
func (k *law) skew() Length { return k.second.squared().Sub(k.first.squared()) }

// broken tells whether the law is broken by more than measuring explains. An error of
// e in each of the four moves the sum by 4ae, 4be, 2·d1·e and 2·d2·e; errors apart
// from each other add as squares do.
func (k *law) broken(lim Limits) bool {
	sides := Hypot(k.a.Times(4), k.b.Times(4))
	diagonals := Hypot(k.first.Times(2), k.second.Times(2))
	may := Hypot(sides, diagonals).Scale(lim.Tape, Of(1, 1, Inch))
	leastA, mostA := bowed(k.m.Widths, k.a, lim)
	leastB, mostB := bowed(k.m.Lengths, k.b, lim)
	return may.Less(k.over(leastA, leastB)) || k.over(mostA, mostB).Add(may).Sign() < 0
}

// bowed is the least and the most of edges and middle where both edges are alike and
// the middle is not, by what fabric may do: twice what eases. Else it is the mean.
func bowed(three [3]Length, mean Length, lim Limits) (least, most Length) {
	first, middle, last := three[0], three[1], three[2]
	edge := first.Add(last).Half()
	// Where one of them was not measured, it is 0 and far from the others.
	if lim.Apart.Less(first.Sub(last).abs()) || lim.Easing(middle).Times(2).Less(edge.Sub(middle).abs()) {
		return mean, mean
	}
	return lesser(middle, edge), longer(middle, edge)
}

func (k *law) lean(lim Limits) *Lean {
	fig := lim.Unit.nearest
	skew := k.skew()
	over := func(side Length) Figure { return fig(skew.abs().Scale(Of(1, 1, Inch), side.Times(4))) }
	l := &Lean{Corner: 2, OverLength: over(k.a), OverWidth: over(k.b), Apart: fig(k.second.Sub(k.first).abs())}
	if skew.Sign() < 0 {
		l.Corner = 1
	}
	return l
}

// rootOf is √ of square inches, false where there is none.
func rootOf(q Length) (Length, bool) {
	if q.Sign() < 0 {
		return Length{}, false
	}
	return root(new(big.Rat).Set(q.rat())), true
}
