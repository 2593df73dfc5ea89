package made

func (d *draw) floral(name string, p, q float64, n int, least, most float64, mirror bool,
	ground Color, colors []Color) {
	t := newTile(p, q, ground)
	t.scatter(d.rng, n, least, most, colors)
	if mirror {
		t.mirror()
	}
	d.add(Fabric{Name: name, Along: Truth{Period: p, Mirror: mirror}, Across: Truth{Period: q},
		At: t.at})
}

func (d *draw) florals() {
	a := d.about
	d.floral("one-way floral", a(4), a(4.2), 40, 0.1, 0.5, false, cream, dyes(d.rng, 5))
	d.floral("mirrored floral", a(6), a(5), 50, 0.15, 0.7, true, navy, dyes(d.rng, 6))
	d.floral("calico", a(2.2), a(2.1), 30, 0.06, 0.2, false, red, dyes(d.rng, 4))
	d.floral("mirrored calico", a(1.5), a(1.9), 24, 0.06, 0.2, true, green, dyes(d.rng, 4))
	d.floral("large floral", a(10), a(9), 60, 0.3, 1.2, false, cream, dyes(d.rng, 6))
	d.floral("tone on tone", a(3), a(3.3), 30, 0.15, 0.5, true, Color{150, 120, 130},
		[]Color{{166, 136, 146}, {140, 110, 122}})
	d.floral("tall motif", a(3), a(1.6), 16, 0.1, 0.35, false, cream, dyes(d.rng, 4))
	d.floral("24 in floral", 24, 24, 200, 0.4, 1.6, false, cream, dyes(d.rng, 7))
	last := &d.all[len(d.all)-1]
	last.Along, last.Across = Truth{Doubt: true}, Truth{Doubt: true}
	d.floral("pale on white", a(2.5), a(2.2), 24, 0.15, 0.4, false, Color{238, 238, 234},
		[]Color{{222, 226, 232}, {232, 218, 214}})

	p, q := a(5), a(4)
	t := newTile(p, q, Color{205, 215, 225})
	t.scatter(d.rng, 34, 0.12, 0.55, dyes(d.rng, 5))
	t.mirror()
	d.add(Fabric{Name: "half-drop", Along: Truth{Period: p, Mirror: true},
		Across: Truth{Period: 2 * q}, At: func(u, v float64) Color {
			if wrap(v, 2*q) >= q {
				u += p / 2
			}
			return t.at(u, v)
		}})
	r, s := a(2.4), a(2)
	drop := newTile(r, s, navy)
	drop.scatter(d.rng, 20, 0.1, 0.35, dyes(d.rng, 4))
	d.add(Fabric{Name: "half-drop along", Along: Truth{Period: 2 * r}, Across: Truth{Period: s},
		At: func(u, v float64) Color {
			if wrap(u, 2*r) >= r {
				v += s / 2
			}
			return drop.at(u, v)
		}})
}
