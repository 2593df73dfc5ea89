package calc

// A Pitch is how strips of one width are cut side by side from striped fabric,
// each from the same line of the stripe.
type Pitch struct {
	Step   Figure // from a line of one strip to the same line of the next
	Waste  Figure // between two neighbors
	Across int    // how many lie across the usable width
}

// Pitches are how a border's strips lie side by side on striped fabric, 1 being the innermost;
// false where it has no stripe, and where its print asks for strips across.
func Pitches(p Plan, border int) (Pair[Pitch], bool) {
	b := p.Borders[border-1]
	if b.Stripe.Sign() == 0 || b.Fabric.Heads != "" {
		return Pair[Pitch]{}, false
	}
	return Pair[Pitch]{newPitch(p.Unit, b, Sides), newPitch(p.Unit, b, TopBottom)}, true
}

// newPitch steps by the least whole number of repeats that a strip's cut width
// fits in. The first strip begins wherever the wanted line is first met, up to a
// repeat in from the usable edge: the whole repeat is set aside, unless the plan knows better.
func newPitch(u Unit, b Border, e Edges) Pitch {
	cut := b.CutOn(e)
	step := cut.upTo(b.Stripe)
	pitch := Pitch{
		Step:  Figure{step, u, Nearest},
		Waste: Figure{step.Sub(cut), u, Nearest},
	}
	aside := b.Stripe
	switch {
	case b.Fabric.First != nil:
		aside = *b.Fabric.First
	case b.Fabric.Across > 0:
		aside = Length{}
	}
	if room := b.Fabric.UsableWidth.Sub(aside).Sub(cut); room.Sign() >= 0 {
		n, _ := room.wholes(step)
		pitch.Across = int(n.Int64()) + 1
		if most := b.Fabric.Across; most > 0 {
			repeats, _ := step.wholes(b.Stripe)
			pitch.Across = min(pitch.Across, most/int(repeats.Int64()))
		}
	}
	return pitch
}

// upTo is the least whole number of grains that the length fits in.
func (l Length) upTo(grain Length) Length {
	return l.Add(Length{}.Sub(l).mod(grain))
}

// A Width is another cut width for a striped border, and what it changes.
type Width struct {
	Edges    []Edges // the pairs cut so
	Cut      Figure
	Repeats  int  // of the stripe from seam to seam
	Finished Area // the bordered top after binding, its other borders as they are
}

// NearestWidths are the next narrower and the next wider cut width of a border,
// 1 being the innermost, with both seams on the same line of the stripe: a whole
// number of repeats from seam to seam. Strips of one width all round stay so;
// else each pair has its own two. A pair whose seams lie so already gets none,
// and there is none narrower than one repeat.
func NearestWidths(p Plan, border int) []Width {
	b := p.Borders[border-1]
	if b.Stripe.Sign() == 0 {
		return nil
	}
	pairs := [][]Edges{{Sides}, {TopBottom}}
	if b.Cut.Equal(b.CutTopBottom) {
		pairs = [][]Edges{{Sides, TopBottom}}
	}
	var list []Width
	for _, pair := range pairs {
		finished := b.CutOn(pair[0]).Sub(p.Seam.Times(2))
		n, between := finished.wholes(b.Stripe)
		if !between {
			continue
		}
		for _, repeats := range []int64{n.Int64(), n.Int64() + 1} {
			cut := b.Stripe.Times(repeats).Add(p.Seam.Times(2))
			if repeats > 0 && !maxWidth.Less(cut) {
				list = append(list, newWidth(p, border, pair, cut, int(repeats)))
			}
		}
	}
	return list
}

func newWidth(p Plan, border int, pair []Edges, cut Length, repeats int) Width {
	p.Borders = append([]Border(nil), p.Borders...)
	b := &p.Borders[border-1]
	for _, e := range pair {
		if e == TopBottom {
			b.CutTopBottom = cut
		} else {
			b.Cut = cut
		}
	}
	finished := finishedSize(p)
	return Width{
		Edges:    pair,
		Cut:      Figure{cut, p.Unit, Nearest},
		Repeats:  repeats,
		Finished: Area{Figure{finished.Width, p.Unit, Nearest}, Figure{finished.Length, p.Unit, Nearest}},
	}
}
