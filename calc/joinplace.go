package calc

import "fmt"

// clear is how far from either end of the strip a join may begin, as it lies centered on
// its side: beyond the dot, by so much that it keeps out of the miter.
func (s Strip) clear(p Plan) Length {
	dot := s.CutLength.Length.Sub(p.Center.along(s.Edges)).Half().Add(p.Seam)
	return longer(dot.Add(p.Limits.Clear), Length{})
}

// A Join is where two parts of a strip come together: it reaches From so far To so far from
// the strip's end at which its first part lies. On the diagonal that is one cut width,
// straight two seam allowances.
type Join struct{ From, To Length }

// Joins are those of a strip whose parts are so long, in order from one end.
func Joins(parts []Length, takes Length) []Join {
	var all []Join
	var at Length
	for _, l := range parts[:max(len(parts)-1, 0)] {
		at = at.Add(l).Sub(takes)
		all = append(all, Join{at, at.Add(takes)})
	}
	return all
}

// manyParts are so many that a print with heads shows where its strip is joined.
const manyParts = 3

// joinNotes tell of strips whose side is too short for joins that keep clear of the dots, and of
// those of a one-way print that are joined from many parts.
func (w *Way) joinNotes(p Plan, strips []Strip) (notes []string) {
	if w == nil || w.Join == "" {
		return nil
	}
	for _, s := range strips {
		parts := w.parts(s.Border, edgesOf(s.Edges)[0])
		takes := p.Seam.Times(2)
		if w.Join == "diagonal" {
			takes = s.CutWidth.Length
		}
		least, end := s.clear(p), s.CutLength.Length
		for _, j := range Joins(parts, takes) {
			if j.From.Less(least) || end.Sub(least).Less(j.To) {
				notes = append(notes, fmt.Sprintf("%s, %s: the side is too short for a join that stays %s clear of the dots; it lies as near the middle as it can.",
					s.Name, s.Edges.words(), p.Unit.nearest(p.Limits.Clear).Shown()))
				break
			}
		}
		if n := max(len(parts), len(w.parts(s.Border, edgesOf(s.Edges)[1]))); n >= manyParts && p.Borders[s.Border-1].Fabric.Heads != "" {
			notes = append(notes, fmt.Sprintf("%s, %s: a strip is joined from %d parts, and each join shows in a print with heads. A wider fabric may need fewer.",
				s.Name, s.Edges.words(), n))
		}
	}
	return notes
}

// parts are how long the parts of a border's strip are, in order; one for a strip in one.
func (w *Way) parts(border int, edge string) []Length {
	var all []Length
	for n := 1; ; n++ {
		found := false
		for _, x := range w.Layout {
			if x.Border == border && x.Edge == edge && (x.Part == n || x.Part == 0 && n == 1) {
				along := x.Length.Length
				if !w.Along(x) {
					along = x.Width.Length
				}
				all, found = append(all, along), true
			}
		}
		if !found {
			return all
		}
	}
}
