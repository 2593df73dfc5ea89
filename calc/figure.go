package calc

import (
	"encoding/json"
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"
)

// A Rounding says to which line of the ruler a length is shown, and which way.
type Rounding int

const (
	// Nearest is to the nearest 1/16 in or 1 mm, halves up.
	Nearest Rounding = iota
	// CutUp is up to 1/8 in or 1 mm: a strip is never cut short.
	CutUp
	// LeastUp is up to 1/16 in or 1 mm.
	LeastUp
	// FabricUp is up to 1/8 yd or 0.1 m, as fabric is sold, and shown in those.
	FabricUp
	// Shared is to the nearest 1/32 in or 0.5 mm: half of what a ruler shows.
	Shared
	// Fine is to the nearest 1/1000 in or 0.1 mm, for what is less than a ruler's line.
	Fine
)

func (r Rounding) grain(u Unit) *big.Rat {
	switch {
	case r == FabricUp && u == Centimeter:
		return big.NewRat(10, 1)
	case r == FabricUp:
		return big.NewRat(36, 8)
	case r == Shared && u == Centimeter:
		return big.NewRat(1, 20)
	case r == Shared:
		return big.NewRat(1, 32)
	case r == Fine && u == Centimeter:
		return big.NewRat(1, 100)
	case r == Fine:
		return big.NewRat(1, 1000)
	case u == Centimeter:
		return big.NewRat(1, 10)
	case r == CutUp:
		return big.NewRat(1, 8)
	}
	return big.NewRat(1, 16)
}

// Round is the length on the ruler's lines, exact.
func (l Length) Round(u Unit, r Rounding) Length {
	grain := r.grain(u)
	grain.Mul(grain, u.inches())
	if r == Nearest || r == Shared || r == Fine {
		return l.toNearest(Length{grain})
	}
	n, rest := l.wholes(Length{grain})
	if rest {
		n.Add(n, big.NewInt(1))
	}
	return Length{grain.Mul(grain, new(big.Rat).SetInt(n))}
}

// toNearest is the length on the nearest line of a ruler with this grain, halves up.
func (l Length) toNearest(grain Length) Length {
	if a, b, c, d, ok := small(l, grain); ok {
		n, _ := floor(2*a*d+b*c, 2*b*c)
		return Length{big.NewRat(n*c, d)}
	}
	n, _ := l.Add(grain.Half()).wholes(grain)
	return Length{new(big.Rat).Mul(grain.rat(), new(big.Rat).SetInt(n))}
}

// wholes counts the whole grains in the length; the second result tells whether
// something is left over.
func (l Length) wholes(grain Length) (*big.Int, bool) {
	if a, b, c, d, ok := small(l, grain); ok {
		n, rest := floor(a*d, b*c)
		return big.NewInt(n), rest
	}
	q := new(big.Rat).Quo(l.rat(), grain.rat())
	n, rest := new(big.Int).DivMod(q.Num(), q.Denom(), new(big.Int))
	return n, rest.Sign() != 0
}

// small are two lengths as a/b and c/d where all are so small that their products fit, as those
// of a ruler do, and c is over 0. Most of what is shown goes through here, and big numbers take ten times as long.
func small(l, m Length) (a, b, c, d int64, ok bool) {
	const most = 1 << 20
	parts := [4]*big.Int{l.rat().Num(), l.rat().Denom(), m.rat().Num(), m.rat().Denom()}
	var n [4]int64
	for i, p := range parts {
		if !p.IsInt64() {
			return 0, 0, 0, 0, false
		}
		if n[i] = p.Int64(); n[i] > most || n[i] < -most {
			return 0, 0, 0, 0, false
		}
	}
	return n[0], n[1], n[2], n[3], n[2] > 0
}

// floor is n/d rounded down, and whether something is left over; d is over 0.
func floor(n, d int64) (whole int64, rest bool) {
	whole = n / d
	if rest = n%d != 0; rest && n < 0 {
		whole--
	}
	return whole, rest
}

// exactPlaces is the longest finite decimal written out whole. Roots carry 40
// decimals (Hypot) and so never pass for exact; what people enter has far fewer.
const exactPlaces = 30

// Value is the length as a plain decimal in a unit: exact where it has a finite
// decimal, else rounded to 6 places.
func (l Length) Value(u Unit) string {
	r := l.in(u)
	n, d := decimal.NewFromBigInt(r.Num(), 0), decimal.NewFromBigInt(r.Denom(), 0)
	if q, rest := n.QuoRem(d, exactPlaces); rest.IsZero() {
		return q.String()
	}
	return n.DivRound(d, 6).String()
}

// Parts are the pieces of a shown length: the whole ("35"; "" when there is
// only a fraction), the fraction's two numbers ("1", "2"; "" when there is none)
// and the unit. Centimeters have a decimal whole and no fraction.
type Parts struct{ Whole, Num, Den, Unit string }

// Parts rounds the length to the ruler and takes it apart.
func (l Length) Parts(u Unit, r Rounding) Parts {
	on := l.Round(u, r).in(u)
	unit := string(u)
	switch {
	case r == FabricUp && u == Centimeter:
		on, unit = on.Mul(on, big.NewRat(1, 100)), "m"
	case r == FabricUp:
		on, unit = on.Mul(on, big.NewRat(1, 36)), "yd"
	}
	switch {
	case r == Fine && u == Centimeter:
		return Parts{Whole: decimal.NewFromBigRat(on.Mul(on, big.NewRat(10, 1)), 1).String(), Unit: "mm"}
	case r == Fine:
		return Parts{Whole: decimal.NewFromBigRat(on, 3).String(), Unit: unit}
	case u == Centimeter:
		return Parts{Whole: decimal.NewFromBigRat(on, 2).String(), Unit: unit}
	}
	p := Parts{Unit: unit}
	n, rest := new(big.Int).QuoRem(on.Num(), on.Denom(), new(big.Int))
	if rest.Sign() != 0 {
		p.Num, p.Den = new(big.Int).Abs(rest).String(), on.Denom().String()
	}
	if n.Sign() != 0 || p.Num == "" {
		p.Whole = n.String()
	} else if on.Sign() < 0 {
		p.Num = "-" + p.Num
	}
	return p
}

// String writes the parts as a quilter would: "35 1/2 in".
func (p Parts) String() string {
	words := make([]string, 0, 3)
	if p.Whole != "" {
		words = append(words, p.Whole)
	}
	if p.Num != "" {
		words = append(words, p.Num+"/"+p.Den)
	}
	return strings.Join(append(words, p.Unit), " ")
}

// A Figure is a length as the sheet gives it: exact, and as a ruler shows it.
type Figure struct {
	Length   Length
	Unit     Unit
	Rounding Rounding
}

func (f Figure) Value() string { return f.Length.Value(f.Unit) }
func (f Figure) Parts() Parts  { return f.Length.Parts(f.Unit, f.Rounding) }

// Shown is the figure as a ruler shows it: "35 1/2 in". What is less than a line of it is
// told in mm too, in which needles are moved: "0.016 in (0.4 mm)".
func (f Figure) Shown() string {
	if f.Rounding == Fine && f.Unit == Inch {
		return f.Parts().String() + " (" + f.Other() + ")"
	}
	return f.Parts().String()
}

// Other is the figure in the other unit, rounded the same way.
func (f Figure) Other() string {
	return f.Length.Parts(f.Unit.Other(), f.Rounding).String()
}

// Exactly is the figure as shown where the ruler has a line for it, else its value
// with the unit: a seam allowance of 0.75 cm is set on the machine, and must not
// be told as 0.8 cm.
func (f Figure) Exactly() string {
	if f.Rounding == Fine || f.Length.Equal(f.Length.Round(f.Unit, f.Rounding)) {
		return f.Shown()
	}
	return f.Value() + " " + string(f.Unit)
}

// MarshalJSON gives {"value": "35.5", "shown": "35 1/2 in"}.
func (f Figure) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Value string `json:"value"`
		Shown string `json:"shown"`
	}{f.Value(), f.Shown()})
}

// Degrees is an angle, shown to 4 places.
type Degrees float64

func (d Degrees) String() string { return fmt.Sprintf("%.4f", float64(d)) }

// MarshalJSON gives a plain number as a string: "45.0000".
func (d Degrees) MarshalJSON() ([]byte, error) { return json.Marshal(d.String()) }
