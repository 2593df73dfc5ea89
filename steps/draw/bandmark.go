package draw

import "math"
import "fmt"

// bandMarked is the whole band on an edge with its marks.
func (q Quilt) bandMarked(p *pen, s Scene) string {
	e, seam := edgesOf(s.Edge), q.seam()
	half, wide := q.half(e), q.band(e)+2*seam
	marks := q.Sheet.Marks.On(e)
	end := in(marks.ToEnd.Length)

	var f frame
	if upright(s.Edge) {
		k := min(228/half, 110/wide)
		right := width - 36.0
		if s.Act == "middle" {
			right -= 96
		}
		f = lay(s.Edge, height/2, right-(wide-seam)*k, k)
	} else {
		k := min(282/half, 130/wide)
		top := 30.0
		if s.Act == "middle" {
			top = 150
		}
		f = lay(s.Edge, width/2, top+(wide-seam)*k, k)
	}
	k := f.scale()
	q.lay(p, s.Edge, f.of(inverse(q.on(s.Edge))), q.bandOutline(s.Edge))
	p.shape("raw", f.all(box{-half, -seam, half, wide - seam}.corners())...)
	below := -seam - 34/k // where the chalk line of the distances lies
	tick := func(x, deep float64) {
		p.lines("chalk", f.at(x, -seam-18/k), f.at(x, -seam+deep/k))
	}
	if s.Act == "middle-found" {
		return q.middleFound(p, s, f)
	}
	deep := min(30, wide*k*0.6)
	tick(0, deep)
	if s.Act == "middle" {
		p.lines("fold", f.at(0, -seam), f.at(0, wide-seam))
		p.dim(f.at(-half, below), f.at(0, below))
		p.dim(f.at(0, below), f.at(half, below))
		var arch []pt
		for i := 0.0; i <= 12; i++ {
			a := math.Pi * i / 12
			arch = append(arch, f.at(math.Cos(a)*half*0.94, wide-seam+math.Sin(a)*80/k))
		}
		p.line("ghost", arch...)
		p.arrow("arrow", arch[10], arch[12])
		number := q.halfStrip(s.Edge)
		at := f.at(0, below)
		if upright(s.Edge) {
			p.words(at.plus(pt{-24, 0}), before, word{"tn", number}, word{"t", "each way"})
		} else {
			p.text("tn", at.plus(pt{0, 40}), amid, number+" each way")
		}
		return fmt.Sprintf("The %s band folded end to end, its middle marked on the inner edge, about %s from each end", s.Edge, number)
	}

	for _, way := range []float64{-1, 1} {
		tick(way*end, deep)
		p.dim(f.at(0, below), f.at(way*end, below))
	}
	at, eye := f.at(0, below), pt{462, 374}
	if upright(s.Edge) {
		eye = pt{150, 374}
	}
	p.line("leader", f.at(end, 0), eye)
	if upright(s.Edge) {
		p.words(at.plus(pt{-24, 0}), before, word{"tn", marks.ToEnd.Shown()}, word{"t", "each way"})
	} else {
		p.text("tn", at.plus(pt{0, 40}), amid, marks.ToEnd.Shown()+" each way")
	}
	p.into(eye, func() {
		kd := 58 / seam
		c := frame{kd, 0, 0, -kd, -kd * end, 20}
		if upright(s.Edge) {
			c = frame{0, kd, kd, 0, -20, -kd * end}
		}
		r := 3 * seam
		q.bandFabric(p, e, c, box{end - r, -seam, end + r, r}.corners())
		p.line("raw", c.at(end-r, -seam), c.at(end+r, -seam))
		p.lines("chalkrim", c.at(end, -seam), c.at(end, seam*0.6))
		p.lines("chalk", c.at(end, -seam), c.at(end, seam*0.6))
	})
	return fmt.Sprintf("The %s band: from its middle %s each way to where the center ends; beyond hang the tails", s.Edge, marks.ToEnd.Shown())
}

// halfStrip is half the cut length of the band's strips, as a ruler shows it.
func (q Quilt) halfStrip(edge string) string {
	f := q.strip(0, edgesOf(edge)).CutLength
	f.Length, f.Rounding = f.Length.Half(), 0
	return f.Shown()
}
