package calc

import "fmt"

// A LineAt is what of the stripe lies under a raw edge of a strip.
type LineAt struct {
	Line Line
	In   Figure // from the line's inner edge to the strip's raw edge; less than the line's width
}

// String is it for people: "1/8 in into the navy", "where the navy begins".
func (a LineAt) String() string {
	name := a.Line.Name
	if name == "" {
		name = "line of " + a.Line.Color
	}
	if a.In.Length.Sign() == 0 {
		return fmt.Sprintf("where the %s begins", name)
	}
	return fmt.Sprintf("%s into the %s", a.In.Exactly(), name)
}

// LinesAt are what lies under the inner and the outer raw edge of a border's strips
// on these edges, 1 being the innermost; false where the plan has no lines.
func LinesAt(p Plan, border int, e Edges) (inner, outer LineAt, ok bool) {
	b := p.Borders[border-1]
	if len(b.Lines) == 0 {
		return inner, outer, false
	}
	return b.lineAt(p.Unit, b.Start), b.lineAt(p.Unit, b.Start.Add(b.CutOn(e))), true
}

// lineAt is the line so far out from where a repeat begins.
func (b Border) lineAt(u Unit, at Length) LineAt {
	at = at.mod(b.Stripe)
	for _, l := range b.Lines {
		if at.Less(l.Width) {
			return LineAt{l, Figure{at, u, Nearest}}
		}
		at = at.Sub(l.Width)
	}
	return LineAt{b.Lines[0], Figure{Length{}, u, Nearest}} // the lines fill the repeat
}
