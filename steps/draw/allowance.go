package draw

// allowanceTurned is the dot close by, before and after: the allowance on the border as it was
// pressed, then folded back onto the center and pinned, the way of the miter clear.
func (q Quilt) allowanceTurned(p *pen, s Scene) string {
	v := q.cornerAtTable(s)
	flat := !q.Sheet.Corner.Equal() // its lines are drawn before it is folded
	reach := 3.6 * q.seam()
	for i, room := range []box{{12, 12, 290, 342}, {310, 12, 588, 342}} {
		back := i == 1
		if flat {
			near := v.lies(room, box{-reach, -reach, reach, reach}, true)
			near.spreadNear(p, back)
		} else {
			near := v.lies(room, box{-reach, -reach, reach, reach}, false)
			near.foldedLayers(p, back)
			near.line(p, "ghost", still, pt{}, v.miter().times(far))
			if back {
				near.pinBack(p, near.f.of(near.folded()))
			}
			p.dot(near.at(0, 0))
		}
		p.shape("frame", room.corners()...)
		p.text("ts", pt{room.left + 12, 40}, after, []string{"1", "2"}[i])
	}
	p.text("t", pt{151, 378}, amid, "on the border")
	p.text("t", pt{449, 378}, amid, "on the center")
	lines := []word{{"ts", "wrong side up"}}
	if !flat {
		lines = append(lines, word{"ts", "both layers, above and beneath"})
	}
	p.words(pt{width / 2, 448}, amid, lines...)
	if flat {
		return ", wrong side up and flat, the dot close by. 1: the seams' allowances lie on the border, as they were pressed. 2: both are folded back onto the center and pinned"
	}
	return ", folded, the " + v.name(v.over) + " wrong side up, the dot close by. 1: the seam's allowance lies on the border, as it was pressed. 2: it is folded back onto the center and pinned"
}

// pinBack holds an allowance on the center: its frame is of the strip over.
func (v cornerView) pinBack(p *pen, f frame) {
	s := v.seam()
	at := f.at(0.6*s, 1.3*s)
	p.pin(at, f.at(0.6*s, 0).minus(at))
}

// spreadNear is the dot wrong side up before the corner is folded: both strips flat.
func (v cornerView) spreadNear(p *pen, back bool) {
	s := v.seam()
	v.place(p, v.over, still, v.overStrip(far))
	v.rawOver(p, still, far)
	v.place(p, v.under, still, v.underStrip(far))
	v.rawUnder(p, far)
	v.place(p, "center", still, []pt{{0, 0}, {far, 0}, {far, far}, {0, far}})
	v.flatAllowances(p, 2.4*s, back)
	if back {
		for _, way := range eitherSeam {
			v.pinBack(p, v.f.of(way))
		}
	}
	p.dot(v.at(0, 0))
}

// eitherSeam are the frames of the two seams at a corner: for the one above, x and y exchange.
var eitherSeam = []frame{still, {0, 1, 1, 0, 0, 0}}

// flatAllowances are those of both seams, wrong side up, with their stitches: on the border, or
// near the dot, up to turn, folded back onto the center.
func (v cornerView) flatAllowances(p *pen, turn float64, back bool) {
	s := v.seam()
	for _, way := range eitherSeam {
		f := v.f.of(way)
		on := []pt{{0, 0}, {-s, -s}, {-s, far}, {0, far}}
		if back {
			on = []pt{{0, turn}, {-s, 1.4 * turn}, {-s, far}, {0, far}}
			fold := []pt{{0, 0}, {s * 0.98, s * 0.5}, {s, 0.7 * turn}, {0, turn}}
			p.shape("allow", v.room.in(f.all(fold))...)
			p.lineIn("rawthin", v.room, f.all(fold[1:])...)
		}
		p.shape("allow", v.room.in(f.all(on))...)
		p.lineIn("rawthin", v.room, f.all(on[1:3])...)
		p.lineIn("stitch", v.room, f.at(0, 0), f.at(0, far))
	}
}
