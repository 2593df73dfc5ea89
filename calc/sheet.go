package calc

import (
	"fmt"
	"slices"
)

// A Sheet is all that follows from a plan. Its JSON is the project's interface.
type Sheet struct {
	Title    string         `json:"title"`
	Unit     Unit           `json:"unit"`
	Seam     Figure         `json:"seam"`
	Pieced   Area           `json:"pieced"` // the center before its coping strips
	Coping   *CopingStrips  `json:"coping,omitempty"`
	Center   Area           `json:"center"` // what the borders are sewn to
	Bands    Pair[Band]     `json:"bands"`
	Finished Area           `json:"finished"` // after binding
	Raw      Area           `json:"raw"`      // before it
	Strips   []Strip        `json:"strips"`
	Marks    Pair[Marks]    `json:"marks"`
	Corner   Corner         `json:"corner"`
	Match    []Match        `json:"match"`    // of the borders with a motif
	Fabric   []FabricNeed   `json:"fabric"`   // of every border
	Together []SharedFabric `json:"together"` // of every fabric that several borders share
	Next     Next           `json:"next"`     // for the top as planned
	Notes    []string       `json:"notes"`
}

// An Area is a size as figures.
type Area struct {
	Width  Figure `json:"width"`
	Length Figure `json:"length"`
}

// Along is the side of the area that runs along these edges.
func (a Area) Along(e Edges) Figure {
	if e == TopBottom {
		return a.Width
	}
	return a.Length
}

// NewSheet works out a plan that ParsePlan has passed.
func NewSheet(p Plan) Sheet {
	nearest := func(l Length) Figure { return Figure{l, p.Unit, Nearest} }
	area := func(s Size) Area { return Area{nearest(s.Width), nearest(s.Length)} }

	bands := Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}
	finished, seams := finishedSize(p), p.Seam.Times(2)
	raw := Size{finished.Width.Add(seams), finished.Length.Add(seams)}

	s := Sheet{
		Title:    p.Title,
		Unit:     p.Unit,
		Seam:     nearest(p.Seam),
		Pieced:   area(p.Pieced),
		Coping:   newCopingStrips(p),
		Center:   area(p.Center),
		Bands:    bands,
		Finished: area(finished),
		Raw:      area(raw),
		Marks:    Pair[Marks]{newMarks(p, Sides), newMarks(p, TopBottom)},
		Corner:   newCorner(p, bands),
		Match:    []Match{},
		Notes:    []string{},
	}
	// Of the usual fabrics none is too narrow to be joined.
	s.Next, _ = NewNext(raw, p.Unit, DefaultFinishing(p.Unit))
	s.Notes = append(s.Notes, s.Coping.notes()...)
	for i, b := range p.Borders {
		for _, e := range []Edges{Sides, TopBottom} {
			strip, lengthened := newStrip(p, bands, i, e)
			s.Strips = append(s.Strips, strip)
			if lengthened {
				s.Notes = append(s.Notes, fmt.Sprintf(
					"%s, %s: the bands differ so much that the usual length would not cover the miter; the strip is cut to its least length, %s, instead.",
					b.Name, e.words(), strip.CutLength.Shown()))
			}
		}
	}
	s.Notes = append(s.Notes, missedSeams(p, bands)...)
	s.Notes = append(s.Notes, missedLines(p, bands)...)
	for i, b := range p.Borders {
		if b.Motif.Sign() > 0 {
			m := newMatch(p, bands, i)
			s.Match = append(s.Match, m)
			s.Notes = append(s.Notes, m.notes(p)...)
		}
	}
	s.Notes = append(s.Notes, p.wayNotes()...)
	s.Fabric, s.Together = newFabric(p, s.Strips, s.Match)
	for i := range s.Match {
		s.Match[i].adopt(s.Fabric[s.Match[i].Border-1].Picked())
	}
	shared := map[int]bool{}
	for _, c := range s.Together {
		for _, border := range c.Borders {
			shared[border] = true
		}
	}
	for _, c := range s.Fabric {
		s.Notes = append(s.Notes, c.Ways.notes(c.Name)...)
		if !shared[c.Border] {
			s.Notes = append(s.Notes, c.Picked().joinNotes(p, s.of(c.Border))...)
		}
	}
	for _, c := range s.Together {
		s.Notes = append(s.Notes, c.Ways.notes(c.Name)...)
		s.Notes = append(s.Notes, c.Picked().joinNotes(p, s.of(c.Borders...))...)
	}
	s.Notes = append(s.Notes, shorterNotes(p, s, bands)...)
	return s
}

// of are the strips of these borders.
func (s Sheet) of(borders ...int) []Strip {
	var all []Strip
	for _, x := range s.Strips {
		if slices.Contains(borders, x.Border) {
			all = append(all, x)
		}
	}
	return all
}

// finishedSize is the bordered top after binding: the center and both bands, less
// the seams.
func finishedSize(p Plan) Size {
	last := len(p.Borders) - 1
	along := func(e Edges) Length {
		return p.Center.along(e).Sub(p.Seam.Times(2)).Add(finishedTo(p, e.Neighbor(), last).Times(2))
	}
	return Size{Width: along(TopBottom), Length: along(Sides)}
}

func (e Edges) words() string {
	if e == TopBottom {
		return "top and bottom"
	}
	return "sides"
}
