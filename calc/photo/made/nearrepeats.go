package made

// nearRepeats are prints whose half or third looks almost like the whole.
func (d *draw) nearRepeats() {
	w, w1 := d.about(0.5), d.about(0.4)
	d.stripe("every other pair in yellow", w/2, line{w, cream}, line{w1, navy}, line{0.3, cream},
		line{w1, navy}, line{w, cream}, line{w1, navy}, line{0.3, Color{200, 190, 120}},
		line{w1, navy})
	third := 3.35
	d.stripe("every third line bluish", third, line{0.7, cream}, line{0.5, green},
		line{0.7, cream}, line{0.5, green}, line{0.7, cream}, line{0.5, Color{70, 120, 110}})
	w = d.about(0.6)
	d.stripe("widths almost alike", w/2, line{w, red}, line{0.4, cream}, line{w * 1.15, red},
		line{0.4, cream})
	c := dye(d.rng)
	w = d.about(0.8)
	d.stripe("shades almost alike", w/2, line{w, c}, line{0.5, cream},
		line{d.about(0.8), near(d.rng, c, 22)}, line{0.5, cream})

	d.everyOther("a flower in other colors", 0.42, red, Color{215, 160, 60})
	d.everyOther("a small flower in other colors", 0.25, red, Color{90, 60, 140})
	d.everyOther("a flower in other shades", 0.4, red, Color{200, 80, 60})

	// A motif and its mirror image by turns: half looks alike.
	p, q := d.about(2), d.about(2.5)
	t := newTile(2*p, q, cream)
	half := newTile(p, q, cream)
	half.scatter(d.rng, 8, 0.2, 0.6, dyes(d.rng, 4))
	half.mirror()
	half.blob(p*0.6, q/2, 0.3, 5, 0, 0.3, green)
	for y := range t.h {
		for x := range t.w {
			from := min(half.w-1, x*half.w*2/t.w)
			if x >= t.w/2 {
				from = min(half.w-1, (t.w-1-x)*half.w*2/t.w)
			}
			t.c[y*t.w+x] = half.c[y*half.w+from]
		}
	}
	d.add(Fabric{Name: "motif and mirror image", Along: Truth{Period: 2 * p, Mirror: true},
		Across: Truth{Period: q}, At: t.at})
}

// everyOther is a floral in which a flower has two colors by turns.
func (d *draw) everyOther(name string, r float64, a, b Color) {
	p, q := d.about(3), d.about(3.5)
	one := newTile(p, q, cream)
	one.scatter(d.rng, 24, 0.12, 0.45, dyes(d.rng, 5))
	two := one.copied()
	one.blob(p/2, q/2, r, 5, 0, 0.3, a)
	two.blob(p/2, q/2, r, 5, 0, 0.3, b)
	d.add(Fabric{Name: name, Along: Truth{Period: 2 * p}, Across: Truth{Period: q},
		At: func(u, v float64) Color {
			if wrap(u, 2*p) >= p {
				return two.at(u, v)
			}
			return one.at(u, v)
		}})
}
