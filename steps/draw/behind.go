package draw

import "fmt"

// behind is the corner wrong side up, turned over like a page: the allowances of the edges lie
// on the border, those of the miter are spread open.
func (q Quilt) behind(p *pen, s Scene) string {
	v := q.cornerAtTable(s)
	room := box{200, 12, width - 12, 428}
	v = v.lies(room, v.shown(0.12, 0.5), true)
	v.flatBehind(p)
	v.flapsOpen(p)
	p.dot(v.at(0, 0))
	q.turnedInset(p, box{26, 280, 186, 430}, q.cornerAt(s.Corner), "")
	p.text("ts", pt{width / 2, 466}, amid, "wrong side up")
	m := v.miter()
	if s.Act == "behind" {
		p.iron(v.to(m.times(0.3)), v.to(m.times(-1)).minus(v.at(0, 0)), 1)
		return ", turned over like a page, wrong side up: the iron's tip on the open miter seam"
	}
	mid := v.to(m.times(0.55))
	across := facing(v.to(m).minus(v.at(0, 0))).at(0, 1)
	for _, way := range []float64{-1, 1} {
		p.arrow("arrow", mid.plus(across.times(way*8)), mid.plus(across.times(way*66)))
	}
	return fmt.Sprintf(", turned over like a page, wrong side up: the miter's two allowances, %s each, spread open", q.Sheet.Seam.Exactly())
}

// flatBehind is the trimmed corner flat: the strips end a seam allowance beyond the miter.
func (v cornerView) flatBehind(p *pen) {
	s, out, down := v.seam(), -v.wide-v.seam(), -v.deep-v.seam()
	end := v.miter().times(2)
	edge := box{out, down, far, far}
	v.placeIn(p, edge, v.under, []pt{{far, down}, end, {0, 0}, {far, 0}})
	v.placeIn(p, edge, v.over, []pt{{0, 0}, end, {out, far}, {0, far}})
	v.place(p, "center", still, []pt{{0, 0}, {far, 0}, {far, far}, {0, far}})
	for _, outline := range [][]pt{{{0, 0}, {-s, -s}, {-s, far}, {0, far}}, {{0, 0}, {-s, -s}, {far, -s}, {far, 0}}} {
		p.shape("allow", v.room.in(v.f.all(outline))...)
		v.line(p, "rawthin", still, outline[1], outline[2])
	}
	v.line(p, "stitch", still, pt{far, 0}, pt{}, pt{0, far})
	v.line(p, "raw", still, pt{far, down}, pt{out, down}, pt{out, far})
}

// overTail and underTail are what of a strip lies beyond the miter, up to so far from it.
func (v cornerView) overTail(strip []pt, most float64) []pt {
	m := v.miter()
	strip = side(strip, m.y, -m.x, 0)
	return side(strip, -m.y, m.x, most*m.long())
}

func (v cornerView) underTail(strip []pt, most float64) []pt {
	m := v.miter()
	strip = side(strip, -m.y, m.x, 0)
	return side(strip, m.y, -m.x, most*m.long())
}

// flaps are the allowances of the trimmed miter, each folded back on its own strip. At their
// outer ends they reach beyond the other strip's raw edge: two ears.
func (v cornerView) flaps(p *pen) {
	s, d := v.seam(), v.miter().unit()
	over, under := v.tails()
	from := -min(0.4*s, 0.4*v.miter().long())
	for _, flap := range []struct {
		part    string
		outline []pt
	}{{v.over, v.overTail(v.overStrip(over), s)}, {v.under, v.underTail(v.underStrip(under), s)}} {
		outline := side(flap.outline, -d.x, -d.y, from)
		v.place(p, flap.part, v.folded(), outline)
		v.outlined(p, v.folded(), outline)
	}
}

// outlined draws the raw edges all round an outline.
func (v cornerView) outlined(p *pen, moved frame, outline []pt) {
	if len(outline) > 2 {
		v.line(p, "rawthin", moved, append(outline[:len(outline):len(outline)], outline[0])...)
	}
}

// flapsOpen are they from behind: their right sides show, and the seam lies between them.
func (v cornerView) flapsOpen(p *pen) {
	v.flaps(p)
	over, under := v.ends()
	d := v.miter().unit()
	start := d.times(min(0.4*v.seam(), 0.4*v.miter().long()))
	v.line(p, "stitch", still, pt{}, start)
	v.line(p, "seam", still, start, d.times(min(over.long(), under.long())))
}
