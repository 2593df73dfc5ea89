package calc

// An AtHand is whether a piece of fabric that is there already does for a border,
// or for all borders that are cut from one fabric.
type AtHand struct {
	Enough  bool
	Borders []int  // that the piece is for, 1 being the innermost
	Pick    string // the way to cut that takes less; empty where neither fits the width
	// ShortBy is how much more length it would take; 0 where it is enough, and
	// where it does not fit, which no length mends.
	ShortBy Figure
	// Widest is the widest cut of the border on the sides that the piece allows, top
	// and bottom being wider or narrower by as much as now, and other borders of the
	// fabric as they are; 0 where it allows none.
	Widest Figure
}

// Enough tells whether a piece so wide, selvages cut off, and so long does for a
// border, 1 being the innermost, and for the borders of the same fabric. Squaring the ends and
// shrinkage count as they do for fabric to buy, but nothing is rounded: what is there is there.
// The widest cut takes a dozen layouts to find: once nobody wants it any more it is not gone on.
func Enough(p Plan, border int, width, length Length, wanted func() bool) AtHand {
	ways := waysFrom(p, border-1, width)
	a := AtHand{Borders: sharing(p, border-1), Pick: ways.Pick, ShortBy: Figure{Unit: p.Unit, Rounding: LeastUp}}
	if need, ok := ways.least(); ok {
		// The pick is by what is bought; here the last inch decides.
		if a.Pick = lengthwise; ways.Mixed != nil {
			a.Pick = mixed
		}
		if c := ways.Crosswise; c != nil && c.Fits && c.needs.Equal(need) && (ways.Lengthwise == nil || !ways.Lengthwise.Fits || need.Less(ways.Lengthwise.needs)) {
			a.Pick = crosswise
		}
		a.Enough = !length.Less(need)
		if !a.Enough {
			a.ShortBy.Length = need.Sub(length)
		}
	}
	a.Widest = Figure{widestFrom(p, border-1, width, length, wanted), p.Unit, CutUp}
	return a
}

// widestFrom is the widest cut on a ruler's line that the piece allows. A narrower
// border never takes more fabric, so it is found by halving.
func widestFrom(p Plan, i int, width, length Length, wanted func() bool) Length {
	line := ruled(p.Unit)
	seams := p.Seam.Times(2)
	more := p.Borders[i].CutTopBottom.Sub(p.Borders[i].Cut)
	does := func(n int64) bool {
		q := p
		q.Borders = append([]Border(nil), p.Borders...)
		b := &q.Borders[i]
		b.Cut = line.Times(n)
		b.CutTopBottom = b.Cut.Add(more)
		need, ok := waysFrom(q, i, width).least()
		return ok && !length.Less(need)
	}
	narrowest := seams
	if more.Sign() < 0 {
		narrowest = seams.Sub(more)
	}
	from, _ := narrowest.wholes(line)
	low := from.Int64()
	widest, _ := maxWidth.wholes(line)
	high := max(low, widest.Int64()) + 1
	for low+1 < high && wanted() {
		if mid := low + (high-low)/2; does(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	if low == from.Int64() {
		return Length{}
	}
	return line.Times(low)
}

// least is the least length of the ways that fit, before it is rounded up.
func (w Ways) least() (need Length, fits bool) {
	for _, x := range w.All() {
		if x.Fits && (!fits || x.needs.Less(need)) {
			need, fits = x.needs, true
		}
	}
	return need, fits
}

// sharing are the borders, from 1, cut from the fabric of border i (from 0).
func sharing(p Plan, i int) []int {
	name := p.Borders[i].Fabric.Name
	if name == "" {
		return []int{i + 1}
	}
	var all []int
	for k, b := range p.Borders {
		if b.Fabric.Name == name {
			all = append(all, k+1)
		}
	}
	return all
}

// waysFrom is how border i (from 0) is cut from fabric of that width, with all that
// share it.
func waysFrom(p Plan, i int, width Length) Ways {
	borders := sharing(p, i)
	p.Borders = append([]Border(nil), p.Borders...)
	bands := Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}
	var strips []Strip
	var matches []Match
	for k, border := range borders {
		of := border - 1
		borders[k] = of
		p.Borders[of].Fabric.UsableWidth = width
		for _, e := range allEdges {
			s, _ := newStrip(p, bands, of, e)
			strips = append(strips, s)
		}
		if p.Borders[of].Motif.Sign() > 0 {
			matches = append(matches, newMatch(p, bands, of))
		}
	}
	if len(borders) > 1 { // what is cut from one fabric is centered as the steps say it
		for k := range matches {
			matches[k].adopt(newBolt(p, strips, matches, []int{matches[k].Border - 1}).ways().Picked())
		}
	}
	return newBolt(p, strips, matches, borders).ways()
}
