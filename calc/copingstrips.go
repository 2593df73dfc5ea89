package calc

import "fmt"

// CopingStrips are what is cut to bring the center to the size that the print
// asks for: Count of them, sewn to opposite edges before the borders.
type CopingStrips struct {
	Edges     Edges  `json:"edges"`
	Count     int    `json:"count"`
	CutWidth  Figure `json:"cutWidth"`
	CutLength Figure `json:"cutLength"` // the pieced center's side there
	Total     Figure `json:"total"`     // what both add, finished
	// Fabric is of the usual width, crosswise joined straight where a strip is too
	// long for it. Its pieces are of border 0.
	Fabric Ways `json:"fabric"`
}

func newCopingStrips(p Plan) *CopingStrips {
	c := p.Coping
	if c == nil {
		return nil
	}
	s := &CopingStrips{
		Edges:     c.Edges,
		Count:     2,
		CutWidth:  Figure{c.Cut, p.Unit, Nearest},
		CutLength: Figure{p.Pieced.along(c.Edges), p.Unit, CutUp},
		Total:     Figure{c.total(p.Seam), p.Unit, Nearest},
	}
	s.Fabric = s.fabric(p)
	return s
}

// fabric lays the two strips out as if they were the border of a plan of their own.
func (s *CopingStrips) fabric(p Plan) Ways {
	r := &reader{unit: p.Unit}
	usual := r.fabric("", nil, Border{})
	usual.Join = "straight"
	p.Borders = []Border{{Name: "the coping", Cut: s.CutWidth.Length, CutTopBottom: s.CutWidth.Length, Fabric: usual}}
	strip := Strip{Border: 1, Edges: s.Edges, Count: 2, CutWidth: s.CutWidth, CutLength: s.CutLength}
	b := newBolt(p, []Strip{strip}, nil, []int{0})
	for i := range b.strips { // it has no dots, so its joins keep off its ends
		b.strips[i].tail = b.grain.over(p.Limits.Clear)
	}
	ways := b.ways()
	for _, w := range []*Way{ways.Lengthwise, ways.Crosswise} {
		for i := range w.Layout {
			w.Layout[i].Border = 0
		}
	}
	return ways
}

// notes tell of strips that are fussy to sew because the plan wants them so.
func (s *CopingStrips) notes() []string {
	if s == nil {
		return nil
	}
	u := s.Total.Unit
	finished := Figure{s.Total.Length.Half(), u, Nearest}
	if !finished.Length.Less(fussyUnder(u)) {
		return nil
	}
	return []string{fmt.Sprintf("The coping strips on the %s finish at %s each, and one under %s is fussy to sew.",
		s.Edges.words(), finished.Exactly(), Figure{fussyUnder(u), u, Nearest}.Shown())}
}
