package draw

import "fmt"

// behind is the corner wrong side up, turned over like a page: the allowances of the edges lie
// on the border, those of the miter are spread open.
func (q Quilt) behind(p *pen, s Scene) string {
	v := q.cornerAtTable(s)
	room := box{200, 12, width - 12, 428}
	v = v.lies(room, v.shown(0.06, 0.5), true)
	v.flatBehind(p)
	v.flapsOpen(p)
	p.dot(v.at(0, 0))
	q.turnedInset(p, box{12, 270, 190, 430}, q.cornerAt(s.Corner), "")
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

// flapsOpen are the allowances of the miter, each folded back on its own strip: so their right
// sides show, and the seam lies between them.
func (v cornerView) flapsOpen(p *pen) {
	s, out, down := v.seam(), -v.wide-v.seam(), -v.deep-v.seam()
	edge := box{out, down, far, far}
	d := v.miter().unit()
	end := d.times(far)
	start, n := d.times(min(0.4*s, 0.4*v.miter().long())), facing(d).at(0, s)
	if n.x*v.deep-n.y*v.wide < 0 { // toward the strip beneath
		n = n.times(-1)
	}
	for _, flap := range []struct {
		part string
		out  pt
	}{{v.over, n}, {v.under, n.times(-1)}} {
		// Cut where the strip that it lies on ends; unfolded, it goes on beyond the miter.
		a, b := start.plus(d.times(s)).minus(flap.out), end.minus(flap.out)
		lies := edge.in([]pt{start, end, b, a})
		v.place(p, flap.part, v.folded(), v.folded().all(lies))
		if a, b, ok := edge.line(a, b); ok {
			v.line(p, "rawthin", still, start, a, b)
		}
	}
	_, tip, _ := edge.line(pt{}, end)
	v.line(p, "stitch", still, pt{}, start)
	v.line(p, "seam", still, start, tip)
}
