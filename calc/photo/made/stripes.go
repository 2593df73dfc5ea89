package made

// A line is one line of a stripe.
type line struct {
	width float64
	color Color
}

func striped(lines []line) (at func(v float64) Color, period float64) {
	for _, l := range lines {
		period += l.width
	}
	return func(v float64) Color {
		v = wrap(v, period)
		for _, l := range lines {
			if v < l.width {
				return l.color
			}
			v -= l.width
		}
		return lines[len(lines)-1].color
	}, period
}

// stripe adds lines that run along; axis is where they mirror, 0: nowhere.
func (d *draw) stripe(name string, axis float64, lines ...line) {
	at, p := striped(lines)
	d.add(Fabric{Name: name, Along: Truth{Plain: true},
		Across: Truth{Period: p, Mirror: axis > 0, Axis: axis},
		At:     func(_, v float64) Color { return at(v) }})
}

func (d *draw) stripes() {
	w := d.about(0.5)
	d.stripe("two lines", w/2, line{w, cream}, line{d.about(0.5), navy})
	w1, w2, w3, w4 := d.about(0.9), d.about(0.25), d.about(0.12), d.about(0.6)
	d.stripe("seven lines", w1/2, line{w1, red}, line{w2, cream}, line{w3, navy}, line{w4, green},
		line{w3, navy}, line{w2, cream})
	w = d.about(0.12)
	d.stripe("fine ticking", w/2, line{w, cream}, line{w * 1.1, navy})
	w, w1 = d.about(0.22), d.about(0.04)
	d.stripe("ticking", w/2, line{w, cream}, line{w1, navy}, line{0.05, cream}, line{w1, navy})
	w = d.about(0.7)
	d.stripe("equal brightness", w/2, line{w, Color{178, 130, 130}},
		line{d.about(0.6), Color{120, 158, 132}})
	d.stripe("four colors in a row", 0, line{d.about(0.7), cream}, line{d.about(0.5), red},
		line{d.about(0.3), navy}, line{d.about(0.35), green})
	d.stripe("wide stripe", 2, line{4, cream}, line{0.4, navy}, line{d.about(1.6), red},
		line{0.4, navy})
	var lines []line
	for range 5 + d.rng.IntN(4) {
		lines = append(lines, line{d.about(0.1 + 0.7*d.rng.Float64()), dye(d.rng)})
	}
	d.stripe("any lines", 0, lines...)

	p, q := d.about(3), d.about(6)
	t := newTile(p, q, cream)
	t.scatter(d.rng, 26, 0.1, 0.45, dyes(d.rng, 5))
	t.mirror()
	d.add(Fabric{Name: "border print", Along: Truth{Period: p, Mirror: true},
		Across: Truth{Period: q}, At: func(u, v float64) Color {
			x := wrap(v, q)
			if x < 0.5 || x > q-0.5 {
				return navy
			}
			if x < 0.7 || x > q-0.7 {
				return red
			}
			return t.at(u, v)
		}})
}
