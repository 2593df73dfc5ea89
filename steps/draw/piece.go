package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

// piece is one strip, or one part of it, where it lies on the fabric; f maps inches
// from the fabric's corner at the left selvage.
func (l *layout) piece(p *pen, f frame, piece calc.Piece) {
	k := f.scale()
	at := f.at(in(piece.X.Length), in(piece.Y.Length))
	across, along := in(piece.Width.Length), in(piece.Length.Length)
	long, deep := along, across // of the strip; its frame counts from its middle
	strip, degrees := frame{0, k, k, 0, at.x, at.y + long*k/2}, 90
	if !l.along(piece) {
		long, deep = across, along
		strip, degrees = frame{k, 0, 0, k, at.x + long*k/2, at.y}, 0
	}
	switch piece.Inner { // of a one-way print, which is not turned
	case "right":
		strip = frame{0, k, -k, 0, at.x + deep*k, at.y + long*k/2}
	case "bottom":
		strip = frame{k, 0, 0, -k, at.x + long*k/2, at.y + deep*k}
	}
	end := long / 2
	outline := box{-end, 0, end, deep}.corners()
	border := l.Plan.Borders[piece.Border-1]
	q := l.Quilt
	q.coped = l.coping
	q.fabricFrom(p, piece.Border-1, edgesOf(piece.Edge), l.motifOn(piece), strip, outline)
	p.shape("raw", strip.all(outline)...)

	if thick, off := min(6/k, deep/5), 3/k; !l.coping {
		p.shape("inneredge", strip.all(box{-end + off, off, end - off, off + thick}.corners())...)
	}
	if y := firstLine(border); l.flagged(piece) {
		if y > 0 {
			p.line("firstline", strip.at(-end, y), strip.at(end, y))
		}
		for _, way := range []float64{-1, 1} {
			p.flag(strip.of(move(way*end, y)).of(scale(1/k)), -way)
		}
	}
	if piece.Part > 1 {
		l.joined(p, strip, l.join(piece), -end, 1)
	}
	if piece.Part > 0 && piece.Part < l.parts[strandOf(piece)] {
		l.joined(p, strip, l.join(piece), end, -1)
	}

	if l.above == 0 {
		l.name(p, piece, strip.at(0, deep/2), degrees, long*k, deep*k)
	}
}

// motifOn is where a motif lies on a piece, counted from its middle: all pieces are cut from
// one print. It is placed by the first strip in one that has a motif, or a gap, in its middle.
func (l *layout) motifOn(piece calc.Piece) float64 {
	repeat := in(l.Plan.Borders[piece.Border-1].Motif)
	if repeat == 0 {
		return 0
	}
	middle := func(p calc.Piece) float64 {
		if l.along(p) {
			return in(p.Y.Length) + in(p.Length.Length)/2
		}
		return in(p.X.Length) + in(p.Width.Length)/2
	}
	for _, first := range l.way.Layout {
		if l.Plan.Borders[first.Border-1].Motif.Sign() == 0 || l.along(first) != l.along(piece) {
			continue
		}
		at := middle(first)
		if first.Part > 0 {
			at = l.stripMiddle(first, at)
		}
		if l.gapOn(first) {
			at += repeat / 2
		}
		return math.Mod(at-middle(piece), repeat)
	}
	return 0
}

// gapOn tells whether a gap lies on the middle of a piece's strip, as this layout centers it.
func (l *layout) gapOn(piece calc.Piece) bool {
	if c := l.way.Centering; c != nil && l.firstPrinted() == piece.Border {
		return c.On(edgesOf(piece.Edge)) == calc.OnGap
	}
	return l.onGap(piece.Border-1, edgesOf(piece.Edge))
}

// firstPrinted is the first border of the layout that has a motif: the way tells its centering.
func (l *layout) firstPrinted() int {
	first := 0
	for _, p := range l.way.Layout {
		if l.Plan.Borders[p.Border-1].Motif.Sign() > 0 && (first == 0 || p.Border < first) {
			first = p.Border
		}
	}
	return first
}

// stripMiddle is where the middle of a part's strip would lie, if the strip went on over its
// joins; the part's own middle lies at a point.
func (l *layout) stripMiddle(part calc.Piece, at float64) float64 {
	begins, loss := 0.0, l.join(part).loss()
	for _, other := range l.way.Layout {
		if other.Border == part.Border && other.Edge == part.Edge && other.Part > 0 && other.Part < part.Part {
			begins += in(other.Width.Length) - loss
		}
	}
	return at - in(part.Width.Length)/2 - begins + in(l.strip(part.Border-1, edgesOf(part.Edge)).CutLength.Length)/2
}

// join is the join of a part's strip in this layout.
func (l *layout) join(part calc.Piece) join {
	j := l.Quilt.joinOf(part.Border-1, part.Edge)
	j.diagonal = l.way.Join == "diagonal"
	return j
}

// name writes what a piece is for in its middle, where it is so long and so deep in
// drawing units: as fully as goes in full size, else as large as goes.
func (l *layout) name(p *pen, piece calc.Piece, at pt, degrees int, long, deep float64) {
	room := long - 10
	if l.flagged(piece) {
		room = long - 44 // clear of the flags
	}
	who := l.names(piece)
	part := ""
	if piece.Part > 0 {
		part = fmt.Sprintf("%d of %d", piece.Part, l.parts[strandOf(piece)])
	}
	size := min(1, deep/(labelSize+2)) // narrow strips keep names that are read on paper
	for _, w := range who {
		if part != "" {
			w += ", part " + part
		}
		if textWidth("tl", w)*size <= room {
			p.label("tl", at, degrees, size, w)
			return
		}
	}
	last := who[len(who)-1]
	one := last
	if part != "" {
		one += ", " + part
	}
	size = min(size, max(room, 12)/textWidth("tl", one))
	if two := min(1, deep/60, max(room, 12)/max(textWidth("tl", last), textWidth("tl", part))); part != "" && two > size {
		lead := labelSize * two * 0.55
		up := pt{0, -lead}
		if degrees != 0 {
			up = pt{lead, 0}
		}
		p.label("tl", at.plus(up), degrees, two, last)
		p.label("tl", at.minus(up), degrees, two, part)
		return
	}
	p.label("tl", at, degrees, size, one)
}

// names are what a piece may be called, the fullest first.
func (l *layout) names(piece calc.Piece) []string {
	b, n := l.Plan.Borders[piece.Border-1], fmt.Sprint(piece.Border)
	switch {
	case len(l.Plan.Borders) == 1:
		return []string{piece.Edge}
	case b.Name == "border "+n:
		return []string{b.Name + ", " + piece.Edge, n + " " + piece.Edge}
	}
	return []string{n + " " + b.Name + ", " + piece.Edge, n + " " + piece.Edge}
}

// flagged tells whether a piece has the first of its stripe's lines, which are named.
func (l *layout) flagged(piece calc.Piece) bool {
	b := l.Plan.Borders[piece.Border-1]
	return len(b.Lines) > 0 && firstLine(b) < l.cutOn(piece.Border-1, edgesOf(piece.Edge))
}

// firstLineName says what the flags mark: the line with which the repeat begins, by its name where
// all flags are of one.
func (l *layout) firstLineName() string {
	name := ""
	for _, piece := range l.way.Layout {
		if !l.flagged(piece) {
			continue
		}
		this := l.Plan.Borders[piece.Border-1].Lines[0].Name
		if name != "" && this != name || this == "" {
			return "repeat begins"
		}
		name = this
	}
	return name + " begins"
}

// firstLine is how far in from a strip's inner raw edge the repeat of its stripe
// begins.
func firstLine(b calc.Border) float64 {
	if b.Start.Sign() == 0 {
		return 0
	}
	return in(b.Stripe.Sub(b.Start))
}

// joined is the seam that joins a part's end to the next one's: back is the way
// from the end into the part. On the diagonal both ends lean the same way, so that
// they make one line when they are put together.
func (l *layout) joined(p *pen, strip frame, j join, end, back float64) {
	from := end + back*max(l.seam(), 8/strip.scale()) // not lost in the raw edge
	to := from
	if j.diagonal {
		from, to = end-j.wide, end
		if back > 0 {
			from, to = end, end+j.wide
		}
	}
	p.line("joinline", strip.at(from, 0), strip.at(to, j.wide))
}

// flag stands on a line at the end of a strip, pointing along it: its frame is in
// drawing units.
func (p *pen) flag(f frame, way float64) {
	p.shape("flag", f.at(0, 0), f.at(way*16, 0), f.at(0, 13))
}
