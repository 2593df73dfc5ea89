package draw

// ironSet is an iron set down and lifted, not slid: the iron, its tip at a place and its body away
// along d, and the prints where it was set down before, each so far on from the last.
func (p *pen) ironSet(tip, d pt, k float64, on pt, prints int) {
	for i := prints; i > 0; i-- {
		at := tip.plus(on.times(float64(i)))
		p.use("ironprint", move(at.x, at.y).of(facing(d)).of(scale(k)))
	}
	p.iron(tip, d, k)
}
