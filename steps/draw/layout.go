package draw

import (
	"fmt"
	"html"
	"sort"
	"strings"

	"cornerwise/calc"
)

// Layout is a length of fabric across its usable width, its selvages cut off and its end squared,
// with every strip where it is cut, and how far from the cut edge each column lies,
// or from the cut edge above each row. A chalk line runs along the inner edge of
// each strip, a flag stands on the first of its named lines at both ends; what is
// joined has the stitches of its join.
func (q Quilt) Layout(w *calc.Way, lengthwise bool) string {
	return newLayout(q, w, lengthwise).draw(height)
}

// A layout is a way of cutting as it is drawn: wide and long are the fabric's, in
// inches.
type layout struct {
	Quilt
	way        *calc.Way
	lengthwise bool
	wide, long float64
	mixed      bool      // some strips run along the fabric, and some across it
	stations   []station // of columns from the left edge, or of rows from above
	besides    []station // of columns, where stations are of the rows beside them
	parts      map[string]int
	coping     bool    // strips without an inner edge
	above      float64 // how large names stand over narrow columns; 0: they are in their pieces
}

func newLayout(q Quilt, w *calc.Way, lengthwise bool) *layout {
	l := &layout{Quilt: q, way: w, lengthwise: lengthwise, long: in(w.Length.Length), parts: map[string]int{}}
	seen, seenBeside := map[string]bool{}, map[string]bool{}
	for _, piece := range w.Layout {
		l.mixed = l.mixed || piece.Runs != ""
		l.wide = max(l.wide, in(q.Plan.Borders[piece.Border-1].Fabric.UsableWidth), in(piece.X.Length)+in(piece.Width.Length))
		if piece.Part > 0 {
			l.parts[strandOf(piece)]++
		}
		switch {
		case l.mixed && l.along(piece):
			l.besides = stationAt(l.besides, piece.X, seenBeside)
		case l.along(piece):
			l.stations = stationAt(l.stations, piece.X, seen)
		default:
			l.stations = stationAt(l.stations, piece.Y, seen)
		}
	}
	for _, list := range [][]station{l.stations, l.besides} {
		sort.Slice(list, func(i, j int) bool { return list[i].at < list[j].at })
	}
	return l
}

// stationAt adds a place that is not seen yet.
func stationAt(all []station, from calc.Figure, seen map[string]bool) []station {
	words := strings.TrimSuffix(from.Shown(), " "+string(from.Unit))
	if from.Length.Sign() == 0 || seen[words] {
		return all
	}
	seen[words] = true
	return append(all, station{in(from.Length), words})
}

// along tells whether a piece's strip runs along the fabric.
func (l *layout) along(piece calc.Piece) bool {
	if piece.Runs != "" {
		return piece.Runs == "lengthwise"
	}
	return l.lengthwise
}

// strandOf names the strip that a piece is of.
func strandOf(piece calc.Piece) string { return fmt.Sprint(piece.Border, " ", piece.Edge) }

// room is where the fabric goes in a drawing so high: the numbers stand around it,
// the words below it or beside it.
func (l *layout) room(high float64, beside bool) box {
	b := box{24, 40, width - 46, high - 100}
	if l.inRow() {
		b.bottom = high - 52
	}
	if beside {
		b.right -= max(textWidth("tn", l.way.Length.Shown()), 190)
		b.bottom = high - 12
	}
	most := widestWords(l.stations)
	switch {
	case l.above > 0:
		b.top += most + 14 + l.longestName()*l.above + 8
	case most == 0:
	case l.lengthwise:
		b.top += most + 14 // they may have to stand upright
	default:
		b.left = most + 26
	}
	if len(l.besides) > 0 {
		b.top += widestWords(l.besides) + 14
	}
	if l.way.Heads != "" {
		b.left += headsWide
	}
	return b
}

func (l *layout) draw(high float64) string {
	p := newPen()
	p.h, p.rims = high, l.hasLines()
	l.above = l.namesOver(l.room(high, true))
	room, wider := l.room(high, false), l.room(high, true)
	f := room.fit(l.wide, l.long)
	g := wider.fit(l.wide, l.long)
	beside := high >= 300 && g.scale() > f.scale() // the legend is so high there
	if beside {
		f, room = g, wider
	}
	k := f.scale()
	f = f.of(move(-l.wide/2, -l.long/2))
	f.f = room.top // the fabric hangs from its numbers
	fabric := box{f.e, f.f, f.e + l.wide*k, f.f + l.long*k}
	p.on = move(0, max(0, room.bottom-fabric.bottom)/2)

	p.shape("waste", fabric.corners()...)
	for _, piece := range l.way.Layout {
		l.piece(p, f, piece)
	}
	p.lines("raw", fabric.corners()[:2]...)
	p.lines("raw", pt{fabric.left, fabric.top}, pt{fabric.left, fabric.bottom}, pt{fabric.right, fabric.top}, pt{fabric.right, fabric.bottom})
	l.measured(p, fabric)
	if l.way.Heads != "" {
		l.heads(p, fabric)
	}
	if len(l.besides) > 0 {
		beside := *l
		beside.stations = l.besides
		beside.columns(p, fabric, k)
	}
	if l.lengthwise {
		l.columns(p, fabric, k)
		if l.above > 0 {
			l.namesAbove(p, fabric, k)
		}
	} else {
		l.rows(p, fabric, k)
	}
	if beside {
		x := fabric.right + 52
		p.words(pt{x, fabric.top + 60}, after, word{"tn", l.way.Length.Shown()}, word{"t", "of fabric"})
		l.legend(p, pt{x, fabric.top + 150}, false)
	} else {
		y := fabric.bottom + 34
		if !l.inRow() {
			p.text("tn", pt{width / 2, y + 2}, amid, l.way.Length.Shown()+" of fabric")
			y += 48
		}
		l.legend(p, pt{width / 2, y}, true)
	}
	way := map[bool]string{true: "lengthwise", false: "crosswise"}[l.lengthwise]
	if l.mixed {
		way = "lengthwise and crosswise"
	}
	heads := map[string]string{"start": ", the heads of its print up", "end": ", the heads of its print down"}[l.way.Heads]
	return p.svg(fmt.Sprintf("%d pieces cut %s from %s of fabric, its selvages cut off, %s across%s", len(l.way.Layout), way, l.way.Length.Shown(), l.usable(), heads))
}

// headsWide is what the arrow of the heads takes beside the fabric.
const headsWide = 40.0

// heads is an arrow beside the fabric, the way that the heads of its print point.
func (l *layout) heads(p *pen, fabric box) {
	x := fabric.left - 20
	if most := widestWords(l.stations); !l.lengthwise && most > 0 {
		x -= most + 14
	}
	half := min(50, (fabric.bottom-fabric.top)/2-2)
	middle := (fabric.top + fabric.bottom) / 2
	p.headsArrow(pt{x, middle}, half, l.way.Heads)
}

// headsArrow points as heads do on fabric that is drawn with its squared end at the top.
func (p *pen) headsArrow(at pt, half float64, heads string) {
	if heads == "end" {
		half = -half
	}
	p.arrow("arrow", pt{at.x, at.y + half}, pt{at.x, at.y - half})
}

// usable is the width of the fabric that the layout is drawn on.
func (l *layout) usable() string {
	var most calc.Length
	for _, piece := range l.way.Layout {
		if wide := l.Plan.Borders[piece.Border-1].Fabric.UsableWidth; most.Less(wide) {
			most = wide
		}
	}
	return calc.Figure{Length: most, Unit: l.Plan.Unit}.Shown()
}

// measured is the fabric's width above it and its length beside it.
func (l *layout) measured(p *pen, fabric box) {
	y := 20.0
	if (!l.lengthwise || len(l.stations) == 0) && len(l.besides) == 0 {
		y = fabric.top - 20
	}
	p.lettered(pt{fabric.left, y}, pt{fabric.right, y}, l.usable())
	x := fabric.right + 24
	p.lettered(pt{x, fabric.top}, pt{x, fabric.bottom}, l.way.Length.Shown())
}

// lettered is a measured distance, level or down, with its number in the middle of
// the line; without where the line is too short for it.
func (p *pen) lettered(a, b pt, words string) {
	d := b.minus(a)
	free := textWidth("tf", words)*0.9 + 12
	if d.long() < free+24 {
		p.dim(a, b)
		return
	}
	degrees := 0
	if d.y > 0 {
		degrees = 90
	}
	n := facing(d).at(0, 11)
	mid := a.to(b, 0.5)
	half := d.unit().times(free / 2)
	p.lines("dim", a, mid.minus(half), mid.plus(half), b, a.plus(n), a.minus(n), b.plus(n), b.minus(n))
	p.label("tf", mid, degrees, 1, words)
}

// hasWaste tells whether any of the fabric is left over.
func (l *layout) hasWaste() bool {
	left := l.wide * l.long
	for _, piece := range l.way.Layout {
		left -= in(piece.Width.Length) * in(piece.Length.Length)
	}
	return left > 1e-6
}

// label writes one line with its middle at a point, turned by so many degrees.
func (p *pen) label(class string, at pt, degrees int, k float64, s string) {
	f := move(at.x, at.y).of(map[int]frame{0: {1, 0, 0, 1, 0, 0}, 90: {0, 1, -1, 0, 0, 0}, -90: {0, -1, 1, 0, 0, 0}}[degrees]).of(scale(k))
	fmt.Fprintf(&p.b, `<text class="%s" text-anchor="middle" transform="%s" y="8">%s</text>`, class, p.on.of(f).matrix(), html.EscapeString(s))
}
