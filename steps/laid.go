package steps

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cornerwise/calc"
)

// Where strips and parts lie on their fabric, as the sheet lays them: measured from the edge
// and the end that were cut first.

// A rowOf is a row across the fabric with all that is cut from it, in the order of work.
type rowOf []calc.Piece

// row is the row that a piece lies in; only itself where strips are cut along the fabric, and
// where the piece is not laid so any more.
func (q *quilt) row(piece calc.Piece) rowOf {
	way := q.way(piece.Border)
	if way == nil || !q.across(piece.Border, pairOf(piece.Edge)) {
		return rowOf{piece}
	}
	var row rowOf
	for _, p := range way.Layout {
		if !way.Along(p) && p.Y.Length.Equal(piece.Y.Length) {
			row = append(row, p)
		}
	}
	if row.find(piece) < 0 {
		return rowOf{piece}
	}
	slices.SortStableFunc(row, func(a, b calc.Piece) int { return rank(a) - rank(b) })
	return row
}

// rank is a piece's place in the order of work: parts before strips in one, border by border,
// edge by edge.
func rank(p calc.Piece) int {
	place := slices.IndexFunc(everyEdge(nil, nil), func(n names) bool { return n["edge"] == p.Edge })
	place = (p.Border*4+place)*(calc.MaxBorders*4) + p.Part
	if p.Part == 0 {
		place += 1 << 20
	}
	return place
}

// find is where in the row a piece is; -1: it is not.
func (r rowOf) find(piece calc.Piece) int {
	return slices.IndexFunc(r, func(p calc.Piece) bool {
		return p.Edge == piece.Edge && p.Border == piece.Border && p.Part == piece.Part
	})
}

// high is how wide the row is cut: as its widest piece.
func (r rowOf) high() calc.Figure {
	high := r[0].Length
	for _, p := range r {
		if high.Length.Less(p.Length.Length) {
			high = p.Length
		}
	}
	return high
}

// named is a piece in words.
func (q *quilt) named(p calc.Piece) string {
	words := p.Edge
	if len(q.plan.Borders) > 1 && p.Border > 0 {
		words = q.plan.Borders[p.Border-1].Name + ", " + words
	}
	if p.Part > 0 {
		words += fmt.Sprintf(", part %d", p.Part)
	}
	return words
}

// sharesRows tells whether a joined strip has a row of which something is left for another.
func (q *quilt) sharesRows(border int, edge string) bool {
	return slices.ContainsFunc(q.pieces(border, edge), func(p calc.Piece) bool { return p.Part > 0 && len(q.row(p)) > 1 })
}

// partsOf are the parts that a strip is joined from, each with its row.
func (q *quilt) partsOf(pieces []calc.Piece) []Number {
	var out []Number
	for _, piece := range pieces {
		name, how := q.fromRow(piece)
		out = append(out, Number{Name: fmt.Sprintf("part %d, wide × long%s", piece.Part, name), Figures: []calc.Figure{piece.Length, piece.Width}, How: how})
	}
	return out
}

// partsOnPrint tells beside each part of a strip where on its print it is cut.
func (q *quilt) partsOnPrint(n names, pieces []calc.Piece, numbers []Number) []Number {
	border := n.number("border")
	if border == 0 || !printed(q, n) || len(pieces) < 2 {
		return numbers
	}
	takes := q.plan.Seam.Times(2)
	if joinedAslant(q, n) {
		takes = pieces[0].Length.Length
	}
	var parts []calc.Length
	for _, piece := range pieces {
		parts = append(parts, piece.Width.Length)
	}
	motif, on := q.plan.Borders[border-1].Motif, string(q.centering(border, n.edges()))
	for i, l := range calc.OnPrint(parts, takes, q.stripOf(border, n.edges()).CutLength.Length, motif) {
		numbers[i].Name += fmt.Sprintf("; %s's middle %s from its left end", on, q.nearest(l).Shown())
	}
	numbers[0].How += fmt.Sprintf(" So placed, a %s lies on the strip's middle. It repeats every %s. Left is toward the edge first cut.", on, q.nearest(motif).Exactly())
	return numbers
}

// fromRow tells, in a name's end and in words, which row a piece is cut from, and what is kept
// of it.
func (q *quilt) fromRow(piece calc.Piece) (name, how string) {
	row := q.row(piece)
	if row.find(piece) > 0 {
		name, how = ", from a row cut before", fmt.Sprintf("From what was kept of the row that was cut for %s.", q.named(row[0]))
	} else {
		how = q.whereRow(piece)
		if len(row) > 1 {
			var kept []string
			for _, p := range row[1:] {
				kept = append(kept, fmt.Sprintf("%s of it for %s", p.Width.Shown(), q.named(p)))
			}
			name = "; keep the rest"
			how += fmt.Sprintf(" Cut the row %s wide, and keep and label %s.", row.high().Shown(), strings.Join(kept, ", "))
		}
	}
	if piece.Length.Length.Less(row.high().Length) {
		how += fmt.Sprintf(" Then trim this one to %s.", piece.Length.Shown())
	}
	return name, how
}

// whereRow is where on the fabric the row of a piece begins.
func (q *quilt) whereRow(piece calc.Piece) string {
	if line, from := q.lineOf(piece.Border, piece); line != "" {
		return fmt.Sprintf("On the %s chosen line %s, as the cutting page lays the strips.", line, from)
	}
	beside := ""
	switch {
	case !q.isBeside(piece):
	case q.prints(piece.Border - 1):
		beside = ", beside strips of the sides, where the print has it"
	default:
		beside = fmt.Sprintf(", %s from the edge first cut, beside strips of the sides", q.row(piece)[0].X.Shown())
	}
	if piece.Y.Length.Sign() == 0 {
		return "At the squared end" + beside + ", as the cutting page lays the strips."
	}
	return fmt.Sprintf("%s from the end as it was squared first%s, as the cutting page lays the strips.", piece.Y.Shown(), beside)
}

// isBeside tells whether a piece lies in a row beside strips that run along the fabric.
func (q *quilt) isBeside(piece calc.Piece) bool {
	way := q.way(piece.Border)
	end := func(p calc.Piece) calc.Length { return p.Y.Length.Add(p.Length.Length) }
	return way != nil && slices.ContainsFunc(way.Layout, func(p calc.Piece) bool {
		return way.Along(p) && !way.Along(piece) && p.Y.Length.Less(end(piece)) && piece.Y.Length.Less(end(p))
	})
}

// laid is where on its fabric a strip is cut: on which of the stripe's lines it starts, or how
// far from the edges that were cut first. Nothing for a strip that is joined from parts.
func (q *quilt) laid(n names) []Number {
	border := n.number("border")
	out := q.begins(border, n.edges())
	stripe, across := q.plan.Borders[border-1].Stripe, q.across(border, n.edges())
	for _, piece := range q.pieces(border, n["edge"]) {
		if piece.Part > 0 {
			return out
		}
		row := q.row(piece)
		for _, way := range []struct {
			name, at string
			from     calc.Figure
			counts   bool // the stripe's lines are counted this way
			places   bool // the print places the strip this way
		}{
			{"from the edge first cut", "at the cut edge", piece.X, !across, across},
			{"from the end first squared", "at the squared end", piece.Y, across, !across},
		} {
			how := "As the cutting page lays the strips; it has the picture."
			switch {
			case way.counts && stripe.Sign() > 0:
				out = append(out, q.onLine(border, piece))
			case way.places && printed(q, n): // the print decides
			case way.counts && len(row) > 1:
				name, how := q.fromRow(piece)
				out = append(out, Number{Name: "its row", Text: strings.TrimLeft(strings.TrimPrefix(name, ";"), ", "), How: how})
			case way.from.Length.Sign() > 0:
				out = append(out, Number{Name: way.name, Figures: one(way.from), How: how})
			case way.counts:
				out = append(out, Number{Name: "place", Text: way.at, How: how})
			}
		}
	}
	return out
}

// lineOf is which of the chosen lines a strip or a part of one starts on, "2nd", and the
// edge of the fabric that they are counted from. The layout sets a whole repeat aside for the
// first of them, where the plan does not say where it lies. "" without a stripe, and for the
// coping strips, border 0.
func (q *quilt) lineOf(border int, piece calc.Piece) (line, from string) {
	if border == 0 || q.plan.Borders[border-1].Stripe.Sign() == 0 {
		return "", ""
	}
	from = "from the cut edge"
	if q.across(border, pairOf(piece.Edge)) {
		from = "from the squared end"
	}
	return ordinal(q.lineNumber(border, piece)), from
}

// lineNumber is that line's number, 1 or more.
func (q *quilt) lineNumber(border int, piece calc.Piece) int {
	at, across := piece.X, q.across(border, pairOf(piece.Edge))
	if across {
		at = piece.Y
	}
	if fabric := q.plan.Borders[border-1].Fabric; !across && (fabric.Across > 0 || fabric.First != nil) {
		if at.Length = at.Length.Add(q.plan.Borders[border-1].Stripe); fabric.First != nil {
			at.Length = at.Length.Sub(*fabric.First)
		}
	}
	// A border that starts on another line than the first of its fabric lies between whole repeats.
	return max(1, int(math.Ceil(at.Length.Float(calc.Inch)/q.plan.Borders[border-1].Stripe.Float(calc.Inch)-1e-9)))
}

// linesToChalk are the chosen lines that a border's strips start on; nothing where no layout
// has all its strips.
func (q *quilt) linesToChalk(border int) []Number {
	way := q.way(border)
	if way == nil {
		return nil
	}
	var lines []int
	for _, p := range way.Layout {
		if p.Border == border {
			lines = append(lines, q.lineNumber(border, p))
		}
	}
	slices.Sort(lines)
	var told []string
	for _, n := range slices.Compact(lines) {
		told = append(told, ordinal(n))
	}
	_, from := q.lineOf(border, way.Layout[0])
	return []Number{{Name: "lines to chalk, counted " + from, Text: strings.Join(told, ", "), How: "Where the cutting page has a strip or a part start."}}
}

// onLine is the line that a strip starts on, as a number.
func (q *quilt) onLine(border int, piece calc.Piece) Number {
	line, from := q.lineOf(border, piece)
	stripe := q.plan.Borders[border-1].Stripe
	if n := q.lineNumber(border, piece); n > 1 {
		line += fmt.Sprintf(", %s past the 1st", q.nearest(stripe.Times(int64(n-1))).Exactly())
	}
	every := q.nearest(stripe).Exactly()
	how := fmt.Sprintf("The 1st is the first chosen line that you meet %s, within %s of it. They repeat every %s.", from, every, every)
	if first := q.plan.Borders[border-1].Fabric.First; first != nil && !q.across(border, pairOf(piece.Edge)) {
		how = fmt.Sprintf("The 1st lies %s %s. They repeat every %s.", q.nearest(*first).Exactly(), from, every)
	}
	return Number{Name: "chosen line, " + from, Text: line, How: how}
}

func ordinal(n int) string {
	ending := "th"
	if n%100 < 11 || n%100 > 13 {
		ending = map[int]string{1: "st", 2: "nd", 3: "rd"}[n%10]
		if ending == "" {
			ending = "th"
		}
	}
	return fmt.Sprint(n, ending)
}

// placed is a strip that is laid on its print: its size, half its length each way from the
// print's middle, what that is, and where on the fabric.
func (q *quilt) placed(n names) []Number {
	strip := q.strip(n)[0]
	long := q.stripOf(n.number("border"), n.edges()).CutLength
	half := Number{Name: "each way from its middle", Figures: one(q.nearest(long.Length.Half())),
		How: fmt.Sprintf("Half the cut length: %s ÷ 2.", long.Bare())}
	return append([]Number{strip, half}, append(q.onPrint(n), q.laid(n)...)...)
}

// onPrint is what of the print lies on a strip's middle.
func (q *quilt) onPrint(n names) []Number {
	border := n.number("border")
	number := Number{Name: "on the middle", Text: "a " + string(q.centering(border, n.edges())), How: "The bands differ, so the prints can't meet at the corners; a motif looks best on the middle."}
	if q.heads(border) == calc.Up {
		number.How = "With heads up the prints can't mirror at the corners; a motif looks best on the middle."
	}
	for _, m := range q.sheet.Match {
		if m.Border == border && m.Possible {
			number.How = fmt.Sprintf("The best of the four ways to center: the prints then miss each other at the corners by %s. %s", m.Mismatch.Shown(), m.How(q.plan))
		}
	}
	return []Number{number}
}
