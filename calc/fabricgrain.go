package calc

import "math/big"

// A grain is a length that goes a whole even number of times into every length of
// one fabric, so that they are packed as whole numbers, exactly, halves too.
type grain struct{ one Length }

// finestPerInch is how many of the finest grain an inch has, about a million of
// millions: for lengths that have no common measure worth counting in (1/9973 in beside
// 1/9967 in).
var finestPerInch = big.NewInt(1 << 40)

// newGrain is the grain of lengths that are not all 0.
func newGrain(lengths []Length) grain {
	den, num := big.NewInt(1), new(big.Int)
	for _, l := range lengths {
		d := l.rat().Denom()
		g := new(big.Int).GCD(nil, nil, den, d)
		den.Mul(den, new(big.Int).Quo(d, g))
	}
	if den.Cmp(finestPerInch) > 0 {
		return grain{Length{new(big.Rat).SetFrac(big.NewInt(1), finestPerInch)}}
	}
	for _, l := range lengths {
		n := new(big.Int).Mul(l.rat().Num(), new(big.Int).Quo(den, l.rat().Denom()))
		num.GCD(nil, nil, num, n)
	}
	return grain{Length{new(big.Rat).SetFrac(num, den.Mul(den, big.NewInt(2)))}}
}

// up is the length in whole grains, and an even number of them; more rather than
// less where the grain is only the finest.
func (g grain) up(l Length) int64 {
	n, rest := l.wholes(Length{new(big.Rat).Mul(g.one.rat(), big.NewRat(2, 1))})
	if rest {
		n.Add(n, big.NewInt(1))
	}
	return 2 * n.Int64()
}

// over is the length in whole grains, more rather than less.
func (g grain) over(l Length) int64 {
	n, rest := l.wholes(g.one)
	if rest {
		n.Add(n, big.NewInt(1))
	}
	return n.Int64()
}

// down is the length in grains, less rather than more: what there is of the fabric.
func (g grain) down(l Length) int64 {
	n, _ := l.wholes(g.one)
	return n.Int64()
}

func (g grain) length(n int64) Length { return g.one.Times(n) }
