package draw

// foot is the presser foot seen from above, as it lies on the fabric at the machine: its toes
// toward the person, who sits at the foot of the picture, the needle between them with its
// point down at a place, and the guide so many drawing units to the right of the needle, where
// the raw edges run; 0: no guide, where a line is followed. k is its size. It stands so whatever the pen's frame does to the fabric.
func (p *pen) foot(at pt, k, guide float64) {
	at = p.on.at(at.x, at.y)
	outer := p.on
	p.on = move(at.x, at.y)
	defer func() { p.on = outer }()
	slot, left, right := 7*k, -24*k, 24*k
	if guide > 0 {
		slot = min(slot, guide*0.4)
		right = max(guide-3*k, slot+3)
	}
	p.shape("foot",
		pt{left, -44 * k}, pt{right, -44 * k}, pt{right, 30 * k}, pt{(right + slot) / 2, 40 * k}, pt{slot, 36 * k},
		pt{slot, -16 * k}, pt{-slot, -16 * k}, pt{-slot, 36 * k}, pt{(left - slot) / 2, 40 * k}, pt{left, 30 * k})
	if guide > 0 {
		p.shape("guide", box{guide, -44 * k, guide + 9*k, 46 * k}.corners()...)
	}
	p.use("needle", scale(0.7*k))
}

// sewing is a seam on its way down: stitched from its start to the needle, still to sew from
// there to its end. guide is how far right of it the raw edges run.
func (p *pen) sewing(start pt, end, guide float64) {
	at := pt{start.x, start.y + min(130, 0.5*(end-start.y))}
	p.line("stitch", start, at)
	p.line("ghost", at, pt{start.x, end - 10})
	p.foot(at, clamp(guide/20, 0.8, 1.3), guide)
}
