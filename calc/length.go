package calc

import "math/big"

// A Unit is what bare numbers are in, and what results are shown in.
type Unit string

const (
	Inch       Unit = "in"
	Centimeter Unit = "cm"
)

// Other is the unit shown small beside this one.
func (u Unit) Other() Unit {
	if u == Centimeter {
		return Inch
	}
	return Centimeter
}

// inches is how many inches one of the unit is. 1 in = 2.54 cm exactly
// (NBS Circular 572, addendum of 22 January 1960).
func (u Unit) inches() *big.Rat {
	if u == Centimeter {
		return big.NewRat(100, 254)
	}
	return big.NewRat(1, 1)
}

// A Length is an exact length. The zero value is no length at all, 0.
// It is a fraction, not a decimal: a third of a yard and 92.7 cm in inches have
// no end as decimals, and a sum of them must still come out even.
type Length struct{ inches *big.Rat }

var zero = new(big.Rat)

func (l Length) rat() *big.Rat {
	if l.inches == nil {
		return zero
	}
	return l.inches
}

// Of is n/d of a unit.
func Of(n, d int64, u Unit) Length {
	r := big.NewRat(n, d)
	return Length{r.Mul(r, u.inches())}
}

func (l Length) Add(m Length) Length { return Length{new(big.Rat).Add(l.rat(), m.rat())} }
func (l Length) Sub(m Length) Length { return Length{new(big.Rat).Sub(l.rat(), m.rat())} }

// Times is n lengths end to end.
func (l Length) Times(n int64) Length {
	return Length{new(big.Rat).Mul(l.rat(), big.NewRat(n, 1))}
}

func (l Length) Half() Length { return Length{new(big.Rat).Mul(l.rat(), big.NewRat(1, 2))} }

// Scale is l × a / b; b is not 0.
func (l Length) Scale(a, b Length) Length {
	r := new(big.Rat).Mul(l.rat(), a.rat())
	return Length{r.Quo(r, b.rat())}
}

func (l Length) Cmp(m Length) int    { return l.rat().Cmp(m.rat()) }
func (l Length) Equal(m Length) bool { return l.Cmp(m) == 0 }
func (l Length) Less(m Length) bool  { return l.Cmp(m) < 0 }
func (l Length) Sign() int           { return l.rat().Sign() }

// Float is the length in a unit, for drawing and for angles only.
func (l Length) Float(u Unit) float64 {
	f, _ := l.in(u).Float64()
	return f
}

func (l Length) in(u Unit) *big.Rat {
	if u == Inch {
		return new(big.Rat).Set(l.rat())
	}
	return new(big.Rat).Quo(l.rat(), u.inches())
}

// rootScale carries a root that does not come out to 40 decimals.
var rootScale = new(big.Int).Exp(big.NewInt(10), big.NewInt(40), nil)

// Hypot is √(a² + b²): exact where it is rational, else good to 40 decimals.
func Hypot(a, b Length) Length {
	q := new(big.Rat).Mul(a.rat(), a.rat())
	q.Add(q, new(big.Rat).Mul(b.rat(), b.rat()))
	return root(q)
}

// root is √q of square inches, q not negative: exact where it is rational, else good
// to 40 decimals.
func root(q *big.Rat) Length {
	n, d := new(big.Int).Sqrt(q.Num()), new(big.Int).Sqrt(q.Denom())
	exact := new(big.Rat).SetFrac(n, d)
	if new(big.Rat).Mul(exact, exact).Cmp(q) == 0 {
		return Length{exact}
	}
	scaled := new(big.Int).Mul(q.Num(), new(big.Int).Mul(rootScale, rootScale))
	n.Sqrt(scaled.Quo(scaled, q.Denom()))
	return Length{new(big.Rat).SetFrac(n, rootScale)}
}
