package draw

// A fill paints an outline with one fabric.
type fill func(outline ...pt)

func (p *pen) filled(class string) fill {
	return func(outline ...pt) { p.shape(class, outline...) }
}

// sections are two side views of a seam opened right side up, from the top of its fabric: before,
// its two allowances standing; after, both lying beneath the fabric on the side that they were
// pressed toward, 1 to the right. They stand side by side, or one below the other.
func (p *pen) sections(before, after pt, left, right fill, toward float64) {
	const reach, thick, deep, gap = 96.0, 10.0, 42.0, 5.0 // a gap parts the layers on any color
	for _, side := range []struct {
		way  float64
		fill fill
	}{{-1, left}, {1, right}} {
		f := frame{side.way, 0, 0, 1, before.x + side.way*gap/2, before.y}
		p.section(side.fill, f.all([]pt{{0, 0}, {reach, 0}, {reach, thick}, {thick, thick}, {thick, deep}, {0, deep}}))
	}
	near, far := right, left // the fabric that the allowances lie beneath, and the other
	if toward < 0 {
		near, far = left, right
	}
	const second, third = thick + gap, 2 * (thick + gap) // how deep the allowances lie
	f := frame{toward, 0, 0, 1, after.x, after.y}
	p.section(far, f.all([]pt{{-reach, 0}, {-gap, 0}, {-gap, third}, {deep, third}, {deep, third + thick}, {-gap - thick, third + thick}, {-gap - thick, thick}, {-reach, thick}}))
	p.section(near, f.all([]pt{{0, 0}, {reach, 0}, {reach, thick}, {thick, thick}, {thick, second}, {deep, second}, {deep, second + thick}, {0, second + thick}}))
	from, to := before.plus(pt{reach + 24, thick}), after.plus(pt{-reach - 24, thick})
	if before.x == after.x {
		from, to = before.plus(pt{0, deep + 16}), after.plus(pt{0, -16})
	}
	p.arrow("arrow", from, to)
}

func (p *pen) section(fill fill, outline []pt) {
	fill(outline...)
	p.shape("rawthin", outline...)
}
