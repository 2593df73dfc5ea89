package calc

// InJoins is a border whose strips are joined, and what would spare it the joins. The figures
// are the sheet's own: the fabric is laid out anew with strips along the selvage, and the strips
// are cut anew for a smaller center.
type InJoins struct {
	Across  Figure // the longest strip that one width of the fabric gives
	Longest Figure // the longest of those that are joined
	// Lengthwise is what cutting lengthwise asks to buy, and More so much more than now; nil where
	// it does not fit. Shared fabric counts with all its borders.
	Lengthwise *Figure
	More       Figure
	// Narrower and Shorter are by how much the center would have to be less in width and in length
	// for strips in one; 0 where a side needs nothing. Smaller tells that this is all it takes.
	Narrower, Shorter Figure
	Smaller           bool
	// Whole is what the same cutting asks to buy without joins, where every strip fits one width
	// and the joins only save fabric; nil elsewhere.
	Whole *Figure
}

// NewInJoins looks at border i, from 0, of a plan and its sheet; false where its strips are
// cut in one.
func NewInJoins(p Plan, s Sheet, i int) (InJoins, bool) {
	now := s.ways(i).Picked()
	if now == nil || now.Join == "" {
		return InJoins{}, false
	}
	borders := sharing(p, i)
	width := p.Borders[borders[0]-1].Fabric.UsableWidth
	length := func(l Length) Figure { return Figure{l, p.Unit, CutUp} }
	j := InJoins{Across: Figure{width, p.Unit, Nearest}, Longest: length(Length{}),
		Narrower: length(Length{}), Shorter: length(Length{}), Smaller: p.Coping == nil}
	for _, strip := range s.of(i + 1) {
		pair := edgesOf(strip.Edges)
		if len(now.parts(i+1, pair[0])) < 2 && len(now.parts(i+1, pair[1])) < 2 {
			continue
		}
		j.Longest.Length = longer(j.Longest.Length, strip.CutLength.Length)
		over := strip.CutLength.Length.Sub(width).Round(p.Unit, CutUp)
		if over.Sign() <= 0 {
			continue
		}
		if strip.Edges == Sides {
			j.Shorter.Length = over
		} else {
			j.Narrower.Length = over
		}
	}
	if j.Longest.Length.Sign() == 0 {
		return InJoins{}, false
	}
	other := func(change func(*Fabric)) Ways {
		q := p
		q.Borders = append([]Border(nil), p.Borders...)
		for _, border := range borders {
			change(&q.Borders[border-1].Fabric)
		}
		return waysFrom(q, i, width)
	}
	along := other(func(f *Fabric) { f.Runs = lengthwise }).Lengthwise
	if along != nil && along.Fits && along.Join == "" {
		j.Lengthwise = along.Buy
		j.More = Figure{along.Buy.Length.Sub(now.Buy.Length), p.Unit, FabricUp}
	}
	if j.Shorter.Length.Sign() == 0 && j.Narrower.Length.Sign() == 0 {
		j.Smaller = false
		ways := other(func(f *Fabric) { f.Runs, f.Join = crosswise, "none" })
		whole := ways.Crosswise
		if ways.Mixed != nil {
			whole = ways.Mixed
		}
		if whole != nil && whole.Fits {
			j.Whole = whole.Buy
		}
	} else if j.Smaller {
		j.Smaller = j.serves(p, i, width)
	}
	return j, true
}

// serves tells whether a center that is so much less leaves a border strips in one, and a center
// still: at most an eighth of a side may go (ours).
func (j InJoins) serves(p Plan, i int, width Length) bool {
	if p.Center.Width.Less(j.Narrower.Length.Times(8)) || p.Center.Length.Less(j.Shorter.Length.Times(8)) {
		return false
	}
	p.Center = Size{p.Center.Width.Sub(j.Narrower.Length), p.Center.Length.Sub(j.Shorter.Length)}
	bands := Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}
	for _, e := range allEdges {
		if strip, _ := newStrip(p, bands, i, e); width.Less(strip.CutLength.Length) {
			return false
		}
	}
	return true
}

// ways are how border i, from 0, is cut: with the others of its fabric, where it shares one.
func (s Sheet) ways(i int) Ways {
	for _, shared := range s.Together {
		for _, border := range shared.Borders {
			if border == i+1 {
				return shared.Ways
			}
		}
	}
	return s.Fabric[i].Ways
}
