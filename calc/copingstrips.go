package calc

import (
	"fmt"
	"slices"
)

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

// copingBorder is a plan whose only border are the coping strips, of fabric of the usual
// width and joined straight; and their strip.
func (s *CopingStrips) copingBorder(p Plan) (Plan, Strip) {
	r := &reader{unit: p.Unit}
	usual := r.fabric("", nil, Border{})
	usual.Join = "straight"
	p.Borders = []Border{{Name: "the coping", Cut: s.CutWidth.Length, CutTopBottom: s.CutWidth.Length, Fabric: usual}}
	return p, Strip{Border: 1, Name: "the coping", Edges: s.Edges, Count: 2, CutWidth: s.CutWidth, CutLength: s.CutLength}
}

// fabric lays the two strips out as if they were the border of a plan of their own.
func (s *CopingStrips) fabric(p Plan) Ways {
	p, strip := s.copingBorder(p)
	b := newBolt(p, []Strip{strip}, nil, []int{0})
	for i := range b.strips { // it has no dots, so its joins keep off its ends
		b.strips[i].tail = b.grain.over(p.Limits.Clear)
	}
	return b.ways().ofBorder(0)
}

// ofBorder is the same ways with their pieces of another border.
func (w Ways) ofBorder(border int) Ways {
	for _, way := range []**Way{&w.Lengthwise, &w.Crosswise, &w.Mixed} {
		if *way == nil {
			continue
		}
		other := **way
		other.Layout = slices.Clone(other.Layout)
		for i := range other.Layout {
			other.Layout[i].Border = border
		}
		*way = &other
	}
	return w
}

// AsBorder is the plan and the sheet with the coping strips as their only border, to show
// how these are cut.
func (s *CopingStrips) AsBorder(p Plan, sheet Sheet) (Plan, Sheet) {
	p, strip := s.copingBorder(p)
	sheet.Strips = []Strip{strip}
	sheet.Fabric = []FabricNeed{{1, strip.Name, s.Fabric.ofBorder(1)}}
	sheet.Together, sheet.Match = nil, nil
	return p, sheet
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
