package calc

// A Band is all borders of one edge sewn side by side. Each seam takes two
// allowances: n strips give Σcut − 2s(n−1) to cut and Σcut − 2sn finished.
type Band struct {
	Cut      Figure `json:"cut"`
	Finished Figure `json:"finished"`
}

func newBand(p Plan, e Edges) Band {
	finished := finishedTo(p, e, len(p.Borders)-1)
	return Band{
		Cut:      Figure{finished.Add(p.Seam.Times(2)), p.Unit, Nearest},
		Finished: Figure{finished, p.Unit, Nearest},
	}
}

// finishedTo is the finished width from the center's seam to the outer seam of
// border i, counted from 0.
func finishedTo(p Plan, e Edges, i int) Length {
	var sum Length
	for _, b := range p.Borders[:i+1] {
		sum = sum.Add(b.CutOn(e)).Sub(p.Seam.Times(2))
	}
	return sum
}
