package draw

import "fmt"

// bandSewn is the seam between two borders of one band, close by.
func (q Quilt) bandSewn(p *pen, s Scene) string {
	p.onEdge(s.Edge)
	e, i, seam := edgesOf(s.Edge), s.Border-1, q.seam()
	inner, outer := q.Plan.Borders[i].Name, q.Plan.Borders[i+1].Name
	at := q.seams(e)[i+1]
	own, next := q.cutOn(i, e), q.cutOn(i+1, e)

	deep, long, base := 320.0, 560.0, 72.0
	if upright(s.Edge) {
		deep, long, base = 300, 460, width-72
	}
	switch s.Act {
	case "press":
		return q.bandPressed(p, s, own, next, deep, long)
	case "check":
		return q.bandChecked(p, s)
	}
	k := max(deep/max(own, next), 9/seam)
	f := lay(s.Edge, height/2, base, k)
	if !upright(s.Edge) {
		f = lay(s.Edge, width/2, base, k)
	}
	f = f.of(move(0, -at-seam)) // the raw edges, together, at base
	half := long / 2 / k
	low := at + seam - deep/k
	cutaway := half * 0.36

	under := box{-half, max(low, at-own+seam), half, at + seam}
	if i > 0 {
		under.top = low
	}
	q.bandUpTo(p, i+1, e, f, under.corners())
	over := box{-half, max(low, at+seam-next), cutaway, at + seam}
	p.shape("wrong", f.all(over.corners())...)
	var rims []pt
	if over.top > low {
		rims = append(rims, f.at(-half, over.top), f.at(cutaway, over.top))
	}
	if under.top > low {
		rims = append(rims, f.at(-half, under.top), f.at(half, under.top))
	}
	p.lines("raw", append(rims, f.at(-half, at+seam), f.at(half, at+seam))...)
	p.line("raw", f.at(cutaway, over.top), f.at(cutaway, at+seam))
	if s.Act == "sew" {
		p.line("stitch", f.at(-half, at), f.at(cutaway, at))
		from, to := -0.6*half, 0.1*half
		if i%2 == 1 { // every second seam is sewn the other way
			from, to = to, from
		}
		p.arrow("arrow", f.at(from, at-26/k), f.at(to, at-26/k))
	} else {
		for _, x := range []float64{-0.84, -0.42, 0, 0.25} {
			p.pin(f.at(x*half, at), f.at(0, 0).minus(f.at(0, 1)))
		}
	}
	p.lines("chalk", f.at(0, at+seam+18/k), f.at(0, at+seam-8/k))
	if upright(s.Edge) {
		p.torn(f.at(-half+8/k, low), f.at(-half+8/k, at+seam+20/k))
		p.torn(f.at(half-8/k, at+seam+20/k), f.at(half-8/k, low))
		p.words(pt{20, 80}, after, word{"tn", q.Sheet.Seam.Exactly()}, word{"t", "seam"})
	} else {
		p.torn(f.at(-half+8/k, low), f.at(-half+8/k, at+seam+20/k))
		p.torn(f.at(half-8/k, at+seam+20/k), f.at(half-8/k, low))
		p.text("tn", pt{24, 450}, after, q.Sheet.Seam.Exactly()+" seam")
		p.text("ts", pt{width / 2, 24}, amid, "middle")
	}
	if s.Act == "pin" {
		return fmt.Sprintf("%s band: %s wrong side up on %s, right sides together, middles matched, pins across the raw edges", s.Edge, outer, inner)
	}
	return fmt.Sprintf("%s band: %s wrong side up on %s, right sides together, the seam %s in from the raw edges",
		s.Edge, outer, inner, q.Sheet.Seam.Exactly())
}

// bandChecked is the whole band right side up, measured across in three places.
func (q Quilt) bandChecked(p *pen, s Scene) string {
	e, seam := edgesOf(s.Edge), q.seam()
	half, wide := q.half(e), q.band(e)+2*seam
	f, _, words := wholeStrip(s, 2*half, wide)
	f = f.of(move(0, seam))
	outline := box{-half, -seam, half, wide - seam}.corners()
	q.bandFabric(p, e, f, outline)
	p.shape("raw", f.all(outline)...)
	for _, x := range []float64{-0.84, 0, 0.84} {
		p.tape(f.at(x*half, -seam), f.at(x*half, wide-seam))
	}
	cut := q.Sheet.Bands.On(e).Cut.Shown()
	p.words(words, after, word{"tn", cut}, word{"t", "wide"})
	return fmt.Sprintf("The %s band, all its borders sewn together: measured across near both ends and in the middle, %s", s.Edge, cut)
}

// bandPressed is the same seam opened: on the sides its allowances outward, on top and
// bottom inward, so that they nest where the miter folds one on the other.
func (q Quilt) bandPressed(p *pen, s Scene, own, next, deep, long float64) string {
	e, i, seam := edgesOf(s.Edge), s.Border-1, q.seam()
	at := q.seams(e)[i+1]
	k := min(deep/(own+next-3*seam), 60/seam)
	k = max(k, 3/seam)
	middle, base := width/2, 40+deep/2
	if upright(s.Edge) {
		middle, base = height/2, width-40-deep/2
	}
	f := lay(s.Edge, middle, base, k)
	// The picture is centered on the two borders, or on their seam where one is too wide.
	low, high := max(at-own+seam, at-deep/2/k), min(at+next-seam, at+deep/2/k)
	if deep/k >= own+next-3*seam {
		low, high = at-own+seam, at+next-seam
	}
	f = f.of(move(0, -(low+high)/2))
	half := long / 2 / k
	q.bandUpTo(p, i+2, e, f, box{-half, low, half, high}.corners())
	p.line("stitch", f.at(-half, at), f.at(half, at))
	p.lines("raw", f.at(-half, high), f.at(half, high), f.at(-half, low), f.at(half, low))
	p.torn(f.at(-half+8/k, low-12/k), f.at(-half+8/k, high+12/k))
	p.torn(f.at(half-8/k, high+12/k), f.at(half-8/k, low-12/k))
	on := f.at(0, at)
	out := f.at(0, 1).minus(f.at(0, 0)).unit()
	along := f.at(1, 0).minus(f.at(0, 0)).unit()
	p.iron(on.minus(along.times(20)), along, 1)
	if upright(s.Edge) {
		p.arrow("arrow", on.minus(along.times(110)).minus(out.times(34)), on.minus(along.times(110)).plus(out.times(46)))
		p.text("t", pt{20, 60}, after, "outward")
		return fmt.Sprintf("%s band opened: the seam from %s to %s pressed outward, away from the center", s.Edge, q.Plan.Borders[i].Name, q.Plan.Borders[i+1].Name)
	}
	p.arrow("arrow", on.minus(along.times(110)).plus(out.times(34)), on.minus(along.times(110)).minus(out.times(46)))
	p.text("t", pt{width / 2, 450}, amid, "inward")
	return fmt.Sprintf("%s band opened: the seam from %s to %s pressed inward, toward the center", s.Edge, q.Plan.Borders[i].Name, q.Plan.Borders[i+1].Name)
}
