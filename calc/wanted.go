package calc

import "fmt"

// A Fit is one way to a finished size that is wanted: other cut widths for one
// border.
type Fit struct {
	Border       int    // 1 is innermost
	Cut          Figure // on the sides
	CutTopBottom Figure // equal to Cut: one width all round
	Finished     Area   // that comes of it
	Meets        bool   // the wanted size, exactly
	Misses       string // how it misses, for people; "" where it meets
	But          string // what it costs otherwise; "" for nothing
}

// Even tells whether the border is cut one width all round.
func (f Fit) Even() bool { return f.Cut.Length.Equal(f.CutTopBottom.Length) }

// Wanted is what it takes for a plan to finish at a size: the ways that there are,
// the best first, and in words why there is none.
type Wanted struct {
	Size Area
	Fits []Fit
	Cant string
}

// NewWanted changes one border, 1 being the innermost, so that the bordered top
// finishes at a size after binding. A finished width of W needs the band on the
// sides to finish at (W − center) / 2, and the border at that less the others.
// Where the two pairs come out alike there is one way. Else there are three: each
// pair as it comes out, which meets the size but not at 45 degrees; and one width
// all round that meets the width, or the length, alone. Cut widths are on a ruler's
// line, 1/8 in or 1 mm, the nearest. Derived; no source.
func NewWanted(p Plan, border int, size Size) Wanted {
	nearest := p.Unit.nearest
	w := Wanted{Size: Area{nearest(size.Width), nearest(size.Length)}}
	sides, topBottom := p.cutFor(border, Sides, size.Width), p.cutFor(border, TopBottom, size.Length)
	if w.Cant = p.cant(border, size, sides, topBottom); w.Cant != "" {
		return w
	}
	w.Fits = []Fit{p.fit(border, sides, topBottom, size)}
	if !sides.Equal(topBottom) {
		w.Fits = append(w.Fits, p.fit(border, sides, sides, size), p.fit(border, topBottom, topBottom, size))
	}
	return w
}

// cutFor is the border's cut width on these edges with which the top finishes so wide
// across them, on a ruler's line; it may be 0 or less.
func (p Plan) cutFor(border int, e Edges, finished Length) Length {
	across := e.Neighbor()
	room := finished.Sub(p.Center.along(across).Sub(p.Seam.Times(2))).Half()
	for i, b := range p.Borders {
		if i != border-1 {
			room = room.Sub(b.CutOn(e).Sub(p.Seam.Times(2)))
		}
	}
	return room.Add(p.Seam.Times(2)).toNearest(ruled(p.Unit))
}

// ruled is what a strip's width is cut by: 1/8 in or 1 mm.
func ruled(u Unit) Length {
	if u == Centimeter {
		return Of(1, 10, Centimeter)
	}
	return Of(1, 8, Inch)
}

// cant tells in words why no width of the border leads to the size.
func (p Plan) cant(border int, size Size, sides, topBottom Length) string {
	nearest := p.Unit.nearest
	least := p.Seam.Times(2)
	for _, x := range []struct {
		words string
		e     Edges
		want  Length
		cut   Length
	}{{"wide", Sides, size.Width, sides}, {"long", TopBottom, size.Length, topBottom}} {
		if least.Less(x.cut) {
			continue
		}
		// The others alone, and of this border the least that shows.
		from := p.Center.along(x.e.Neighbor()).Sub(least)
		for i, b := range p.Borders {
			if i != border-1 {
				from = from.Add(b.CutOn(x.e).Sub(least).Times(2))
			}
		}
		what := "The center alone finishes at"
		if len(p.Borders) > 1 {
			what = "The center and the other borders finish at"
		}
		return fmt.Sprintf("%s %s %s; nothing is left of %s for %s. Take a larger size, a smaller center, or other borders narrower.",
			what, nearest(from).Shown(), x.words, nearest(x.want).Shown(), p.Borders[border-1].Name)
	}
	for _, cut := range []Length{sides, topBottom} {
		if maxWidth.Less(cut) {
			return fmt.Sprintf("%s would have to be cut %s wide; the most that is reckoned is %s. Take a larger center, or one more border.",
				p.Borders[border-1].Name, nearest(cut).Shown(), nearest(maxWidth).Shown())
		}
	}
	return ""
}

func (p Plan) fit(border int, cut, cutTopBottom Length, size Size) Fit {
	nearest := p.Unit.nearest
	p.Borders = append([]Border(nil), p.Borders...)
	b := &p.Borders[border-1]
	b.Cut, b.CutTopBottom = cut, cutTopBottom
	finished := finishedSize(p)
	f := Fit{
		Border: border, Cut: nearest(cut), CutTopBottom: nearest(cutTopBottom),
		Finished: Area{nearest(finished.Width), nearest(finished.Length)},
		Meets:    finished.Width.Equal(size.Width) && finished.Length.Equal(size.Length),
	}
	for _, x := range []struct {
		words   string
		is, was Length
	}{{"wide", finished.Width, size.Width}, {"long", finished.Length, size.Length}} {
		off, more := x.is.Sub(x.was), "more"
		switch off.Sign() {
		case 0:
			continue
		case -1:
			more = "less"
		}
		if f.Misses != "" {
			f.Misses += ", and "
		}
		f.Misses += fmt.Sprintf("%s %s %s", nearest(off.abs()).Exactly(), more, x.words)
	}
	last := len(p.Borders) - 1
	if !finishedTo(p, Sides, last).Equal(finishedTo(p, TopBottom, last)) {
		f.But = "The bands differ, so the miters are not at 45 degrees"
		for _, b := range p.Borders {
			if b.Motif.Sign() > 0 {
				f.But += " and the print can't mirror"
				break
			}
		}
		f.But += "."
	}
	return f
}
