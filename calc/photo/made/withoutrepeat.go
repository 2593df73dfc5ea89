package made

import (
	"math"
	"math/rand/v2"
	"sync"
)

// withoutRepeat are prints that show none, or that nobody could tell.
func (d *draw) withoutRepeat() {
	marbled := d.wide(navy, 900, 0.2, 1.5, 8)
	d.add(Fabric{Name: "marbled", At: func(u, v float64) Color {
		return marbled().at(u+0.5*math.Sin(v), v+0.7*math.Sin(u*0.8))
	}})
	plain := Truth{Plain: true}
	c := near(d.rng, Color{120, 70, 80}, 40)
	d.add(Fabric{Name: "solid", Along: plain, Across: plain,
		At: func(_, _ float64) Color { return c }})
	d.add(linen(d.rng, c))
	var lines []line
	for range 150 {
		lines = append(lines, line{0.1 + 1.1*d.rng.Float64(), dye(d.rng)})
	}
	at, _ := striped(lines)
	d.add(Fabric{Name: "lines at random", Along: plain,
		At: func(_, v float64) Color { return at(v + 60) }})
	two := lines[:0:0]
	for i := range 150 {
		two = append(two, line{0.3 + 0.5*d.rng.Float64(), []Color{cream, navy}[i%2]})
	}
	at2, _ := striped(two)
	d.add(Fabric{Name: "two colors at random", Along: plain,
		At: func(_, v float64) Color { return at2(v + 60) }})
	tossed := d.wide(cream, 5000, 0.1, 0.3, 5)
	d.add(Fabric{Name: "tossed", At: func(u, v float64) Color { return tossed().at(u, v) }})
	f := newTile(3, 3, cream)
	f.scatter(d.rng, 20, 0.15, 0.5, dyes(d.rng, 4))
	d.add(Fabric{At: f.at}.turned("floral aslant", 12+20*d.rng.Float64()))
}

// wide is a print of 45 in that repeats nowhere in it, drawn when it is first looked at.
func (d *draw) wide(ground Color, n int, least, most float64, colors int) func() *tile {
	rng := rand.New(rand.NewPCG(d.rng.Uint64(), 1))
	return sync.OnceValue(func() *tile {
		t := newTile(45, 45, ground)
		t.scatter(rng, n, least, most, dyes(rng, colors))
		return t
	})
}

// linen is a weave only: threads of uneven thickness, about 30 to the inch.
func linen(rng *rand.Rand, c Color) Fabric {
	var warp, weft [2048]float64
	for i := range warp {
		warp[i], weft[i] = rng.NormFloat64(), rng.NormFloat64()
	}
	doubt := Truth{Plain: true}
	return Fabric{Name: "linen", Along: doubt, Across: doubt, At: func(u, v float64) Color {
		i, j := int(math.Floor(u*30)), int(math.Floor(v*30))
		shade := 1.0
		if (i+j)&1 == 0 {
			shade += 0.07 + 0.05*warp[i&2047]
		} else {
			shade += -0.07 + 0.05*weft[j&2047]
		}
		return Color{c[0] * shade, c[1] * shade, c[2] * shade}
	}}
}
