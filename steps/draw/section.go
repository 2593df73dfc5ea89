package draw

// A fill paints an outline with one fabric.
type fill func(outline ...pt)

func (p *pen) filled(class string) fill {
	return func(outline ...pt) { p.shape(class, outline...) }
}

// sections are two side views of a seam opened right side up: its two allowances standing, then
// both lying beneath the fabric on the side that they were pressed toward, 1 to the right.
func (p *pen) sections(at box, left, right fill, toward float64) {
	const reach, thick, deep = 96.0, 10.0, 40.0
	y := at.top + 14
	before, after := at.left+reach+4, at.right-reach-4
	for _, side := range []struct {
		way  float64
		fill fill
	}{{-1, left}, {1, right}} {
		f := frame{side.way, 0, 0, 1, before, y}
		p.section(side.fill, f.all([]pt{{0, 0}, {reach, 0}, {reach, thick}, {thick, thick}, {thick, deep}, {0, deep}}))
	}
	near, far := right, left // the fabric that the allowances lie beneath, and the other
	if toward < 0 {
		near, far = left, right
	}
	f := frame{toward, 0, 0, 1, after, y}
	p.section(far, f.all([]pt{{-reach, 0}, {0, 0}, {0, 2 * thick}, {deep, 2 * thick}, {deep, 3 * thick}, {-thick, 3 * thick}, {-thick, thick}, {-reach, thick}}))
	p.section(near, f.all([]pt{{0, 0}, {reach, 0}, {reach, thick}, {deep, thick}, {deep, 2 * thick}, {0, 2 * thick}}))
	p.line("rawthin", f.at(4, thick), f.at(deep, thick))
	p.arrow("arrow", pt{before + reach + 24, y + thick}, pt{after - reach - 24, y + thick})
}

func (p *pen) section(fill fill, outline []pt) {
	fill(outline...)
	p.shape("rawthin", outline...)
}
