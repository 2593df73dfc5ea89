package draw

import "cornerwise/calc"

// opened is the corner right side up as it lies on the table: looked at before the trim, when
// the tails still lie beneath one strip and stick out beyond it, or pressed at the end.
func (q Quilt) opened(p *pen, s Scene) string {
	look := s.Act != "front"
	v := q.cornerAtTable(s)
	shown := v.shown(0.12, 0.62)
	over, under := v.tails()
	if out := v.wide + v.seam(); look {
		shown.left = -min(max(under, out), 1.9*out) - 0.06*out
	}
	room := box{24, 12, width - 24, 428}
	if s.Corner > 2 {
		room = box{24, 72, width - 24, height - 12}
	}
	v = v.lies(room, shown, false)
	v.room = box{12, room.top, width - 12, room.bottom}
	end, beneath := v.ends()
	if beneath.long() > end.long() {
		end = beneath
	}
	out, down := -v.wide-v.seam(), -v.deep-v.seam()
	edge := box{out, down, far, far}
	v.place(p, "center", still, []pt{{0, 0}, {far, 0}, {far, far}, {0, far}})
	if look { // only the half with the strip over was turned back: both tails lie beneath it
		v.place(p, v.under, still, v.underStrip(under))
		v.rawUnder(p, under)
		v.place(p, v.over, v.folded(), v.overTail(v.overStrip(over), far))
		v.outlined(p, v.folded(), v.overTail(v.overStrip(over), far))
	} else {
		v.flaps(p) // whose ears show beyond the strips
		v.placeIn(p, edge, v.under, []pt{{far, down}, end.times(2), {0, 0}, {far, 0}})
	}
	v.placeIn(p, edge, v.over, []pt{{0, 0}, end.times(2), {out, far}, {0, far}})
	if look {
		v.line(p, "raw", still, pt{out, max(end.y, out*v.deep/v.wide)}, pt{out, far})
	} else {
		v.line(p, "raw", still, pt{far, down}, pt{out, down}, pt{out, far})
	}
	v.line(p, "seam", still, pt{far, 0}, pt{0, 0}, pt{0, far})
	a, b, _ := box{out, down, far, far}.line(pt{}, end.times(1.5))
	v.line(p, "seam", still, a, b)
	words := pt{width / 2, 464}
	if s.Corner > 2 {
		words.y = 36
	}
	if !look {
		p.iron(v.to(v.miter().times(0.2)), v.to(v.miter().times(-1)).minus(v.at(0, 0)), 1)
		p.text("t", words, amid, "set down, lift")
		return ", finished, right side up, pressed from the front" + q.atMiter("turn at the miter")
	}
	p.circle("loupe", v.at(0, 0), 34)
	p.text("t", words, amid, "no pucker, no gap, flat")
	return ", opened, right side up, before any trim: both tails lie beneath the " + v.name(v.over) + " and stick out beyond it, wrong side up, the dot lies flat" + q.atMiter("meet in the miter")
}

// placeIn lays what of a part lies in a box of the corner's places.
func (v cornerView) placeIn(p *pen, b box, part string, outline []pt) {
	v.place(p, part, still, b.in(outline))
}

// atMiter says what stripes and prints do there, as they are drawn.
func (q Quilt) atMiter(met string) string {
	switch {
	case !q.turns():
		return ""
	case !q.Sheet.Corner.Equal() || !q.Plan.BordersAlike():
		return "; the bands differ, so lines along them meet at the miter only by chance"
	}
	said, what := "", q.Plan.Meet()
	for _, m := range q.Sheet.Match {
		if m.Seen() {
			said = "; the print misses by " + m.Mismatch.Shown() + " there"
		}
	}
	if said != "" && what == "prints" {
		return said
	}
	return "; the " + what + " " + met + said
}

// turns tells whether a stripe or a print turns the corner; with heads up it does not.
func (q Quilt) turns() bool {
	for _, b := range q.Plan.Borders {
		if b.Stripe.Sign() > 0 || b.Motif.Sign() > 0 && b.Fabric.Heads != calc.Up {
			return true
		}
	}
	return false
}
