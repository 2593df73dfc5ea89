package draw

import (
	"fmt"

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
	if !l.lengthwise {
		long, deep = across, along
		strip, degrees = frame{k, 0, 0, k, at.x + long*k/2, at.y}, 0
	}
	end := long / 2
	outline := box{-end, 0, end, deep}.corners()
	border := l.Plan.Borders[piece.Border-1]
	l.fabric(p, piece.Border-1, edgesOf(piece.Edge), strip, outline)
	p.shape("raw", strip.all(outline)...)

	if thick, off := min(6/k, deep/5), 3/k; !l.coping {
		p.shape("inneredge", strip.all(box{-end + off, off, end - off, off + thick}.corners())...)
	}
	if y := firstLine(border); border.Stripe.Sign() > 0 && y < deep {
		if len(border.Lines) > 0 && y > 0 {
			p.line("firstline", strip.at(-end, y), strip.at(end, y))
		}
		for _, way := range []float64{-1, 1} {
			p.flag(strip.of(move(way*end, y)).of(scale(1/k)), -way)
		}
	}
	if piece.Part > 1 {
		l.joinOf(p, strip, border, -end, 1, deep)
	}
	if piece.Part > 0 && piece.Part < l.parts[strandOf(piece)] {
		l.joinOf(p, strip, border, end, -1, deep)
	}

	l.name(p, piece, strip.at(0, deep/2), degrees, long*k, deep*k)
}

// name writes what a piece is for in its middle, where it is so long and so deep in
// drawing units: as fully as goes in full size, else as large as goes.
func (l *layout) name(p *pen, piece calc.Piece, at pt, degrees int, long, deep float64) {
	b := l.Plan.Borders[piece.Border-1]
	room := long - 10
	if b.Stripe.Sign() > 0 {
		room = long - 44 // clear of the flags
	}
	who := []string{piece.Edge}
	if len(l.Plan.Borders) > 1 {
		n := fmt.Sprint(piece.Border)
		who = []string{n + " " + b.Name + ", " + piece.Edge, n + " " + piece.Edge}
		if b.Name == "border "+n {
			who[0] = b.Name + ", " + piece.Edge
		}
	}
	part := ""
	if piece.Part > 0 {
		part = fmt.Sprintf("%d of %d", piece.Part, l.parts[strandOf(piece)])
	}
	size := min(1, deep/32)
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

// firstLine is how far in from a strip's inner raw edge the repeat of its stripe
// begins.
func firstLine(b calc.Border) float64 {
	if b.Start.Sign() == 0 {
		return 0
	}
	return in(b.Stripe.Sub(b.Start))
}

// joinOf is the seam that joins a part's end to the next one's: back is the way
// from the end into the part. On the diagonal both ends lean the same way, so that
// they make one line when they are put together.
func (l *layout) joinOf(p *pen, strip frame, b calc.Border, end, back, deep float64) {
	from := end + back*max(l.seam(), 8/strip.scale()) // not lost in the raw edge
	to := from
	if b.Fabric.Join == "diagonal" {
		from, to = end-deep, end
		if back > 0 {
			from, to = end, end+deep
		}
	}
	p.line("joinline", strip.at(from, 0), strip.at(to, deep))
}

// flag stands on a line at the end of a strip, pointing along it: its frame is in
// drawing units.
func (p *pen) flag(f frame, way float64) {
	p.shape("flag", f.at(0, 0), f.at(way*16, 0), f.at(0, 13))
}
