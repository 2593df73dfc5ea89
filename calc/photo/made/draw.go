package made

import "math/rand/v2"

// draw collects the fabrics of a seed.
type draw struct {
	rng *rand.Rand
	all []Fabric
}

func newDraw(seed uint64) *draw { return &draw{rng: rand.New(rand.NewPCG(seed, 7))} }

// about is a length near x: no round numbers.
func (d *draw) about(x float64) float64 { return x * (0.9 + 0.2*d.rng.Float64()) }

func (d *draw) add(f Fabric) { d.all = append(d.all, f) }
