package calc

// A Strip is what is cut for one border on one pair of edges: Count of them.
type Strip struct {
	Border      int    `json:"border"` // 1 is innermost
	Name        string `json:"name"`
	Edges       Edges  `json:"edges"`
	Count       int    `json:"count"`
	CutWidth    Figure `json:"cutWidth"`
	CutLength   Figure `json:"cutLength"`
	LeastLength Figure `json:"leastLength"`
}

// newStrip reckons border i (from 0) on edges e. Its length looks at the
// neighboring band, which is what the tail must cross:
// side + 2 × the neighbor's cut width + spare. Where that is under the least
// length, the strip is lengthened to it and the second result is true. Where the plan asks
// for the least lengths, the strip has its least length and the spare, if that is less.
func newStrip(p Plan, bands Pair[Band], i int, e Edges) (Strip, bool) {
	side := p.Center.along(e)
	cut := side.Add(bands.On(e.Neighbor()).Cut.Length.Times(2)).Add(p.Spare)
	least := leastLength(p, bands, i, e)
	lengthened := cut.Less(least)
	if lengthened {
		cut = least.Round(p.Unit, CutUp)
	}
	if shorter := least.Add(p.Spare).Round(p.Unit, CutUp); p.Borders[i].Lengths == LeastLengths && shorter.Less(cut) {
		cut = shorter
	}
	return Strip{
		Border:      i + 1,
		Name:        p.Borders[i].Name,
		Edges:       e,
		Count:       2,
		CutWidth:    Figure{p.Borders[i].CutOn(e), p.Unit, Nearest},
		CutLength:   Figure{cut, p.Unit, CutUp},
		LeastLength: Figure{least, p.Unit, LeastUp},
	}, lengthened
}

// leastLength is the shortest that a strip can be, centered, and still cover its
// miter with the seam allowance beyond it. The miter's far edge, an allowance s
// off the line, lies at (y + s) × N/O + s × H/O along the strip from the dot,
// where O is the finished width of the strip's own band, N the neighbor's,
// H = √(O² + N²), and y the strip's outer seam. For equal bands it is the
// familiar side + 2 × cut − s(4 − 2√2). Derived; no source.
func leastLength(p Plan, bands Pair[Band], i int, e Edges) Length {
	own, next := bands.On(e).Finished.Length, bands.On(e.Neighbor()).Finished.Length
	outer := finishedTo(p, e, i).Add(p.Seam)
	tail := outer.Scale(next, own).Add(p.Seam.Scale(Hypot(own, next), own))
	toDot := p.Center.along(e).Half().Sub(p.Seam)
	return toDot.Add(tail).Times(2)
}

// along is the side of the center that runs along these edges.
func (s Size) along(e Edges) Length {
	if e == TopBottom {
		return s.Width
	}
	return s.Length
}
