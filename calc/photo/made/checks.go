package made

import "math"

func (d *draw) check(name string, p, q float64, ground, c Color) {
	d.add(Fabric{Name: name, Along: Truth{Period: p, Mirror: true, Axis: p / 4},
		Across: Truth{Period: q, Mirror: true, Axis: q / 4},
		At: func(u, v float64) Color {
			k := 0.0
			if wrap(u, p) < p/2 {
				k += 0.5
			}
			if wrap(v, q) < q/2 {
				k += 0.5
			}
			return mix(ground, c, k)
		}})
}

func (d *draw) checks() {
	g := d.about(0.5)
	d.check("small gingham", g, g, cream, red)
	g = d.about(1.1)
	d.check("gingham", g, g*1.05, cream, navy)
	d.add(d.all[len(d.all)-1].turned("gingham aslant", 15+20*d.rng.Float64()))
	warp, pw := striped([]line{{d.about(0.8), red}, {0.1, cream}, {d.about(0.5), navy},
		{d.about(0.9), green}, {0.15, cream}})
	weft, pf := striped([]line{{d.about(0.6), red}, {0.1, cream}, {d.about(0.8), navy},
		{d.about(1.4), green}, {0.2, cream}})
	d.add(Fabric{Name: "plaid", Along: Truth{Period: pf}, Across: Truth{Period: pw},
		At: func(u, v float64) Color { return mix(warp(v), weft(u), 0.5) }})
	d.dots("dots", d.about(0.9), false)
	d.dots("dots between dots", d.about(1.3), true)
}

func (d *draw) dots(name string, p float64, between bool) {
	truth := Truth{Period: p, Mirror: true}
	d.add(Fabric{Name: name, Along: truth, Across: truth, At: func(u, v float64) Color {
		far := func(a, b float64) float64 {
			return math.Hypot(wrap(u-a+p/2, p)-p/2, wrap(v-b+p/2, p)-p/2)
		}
		r := far(0, 0)
		if between {
			r = min(r, far(p/2, p/2))
		}
		return mix(cream, navy, min(1, max(0, (r-p*0.2)*60+0.5)))
	}})
}
