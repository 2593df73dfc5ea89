package draw

import (
	"fmt"
	"html"
	"slices"
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

// LayoutPage is the same to fill a page: as high as the fabric asks for, up to 800.
func (q Quilt) LayoutPage(w *calc.Way, lengthwise bool) string {
	return newLayout(q, w, lengthwise).page()
}

func (l *layout) page() string {
	room := l.room(0, false)
	return l.draw(clamp(l.long*(room.right-room.left)/l.wide+room.top-room.bottom, 320, 800))
}

// A layout is a way of cutting as it is drawn: wide and long are the fabric's, in
// inches.
type layout struct {
	Quilt
	way        *calc.Way
	lengthwise bool
	wide, long float64
	stations   []station // of columns from the left edge, or of rows from above
	parts      map[string]int
	coping     bool // strips without an inner edge
}

// A station is where a column or row begins, in inches and in words.
type station struct {
	at    float64
	words string
}

func newLayout(q Quilt, w *calc.Way, lengthwise bool) *layout {
	l := &layout{Quilt: q, way: w, lengthwise: lengthwise, long: in(w.Length.Length), parts: map[string]int{}}
	seen := map[string]bool{}
	for _, piece := range w.Layout {
		l.wide = max(l.wide, in(q.Plan.Borders[piece.Border-1].Fabric.UsableWidth), in(piece.X.Length)+in(piece.Width.Length))
		if piece.Part > 0 {
			l.parts[strandOf(piece)]++
		}
		from := piece.Y
		if lengthwise {
			from = piece.X
		}
		if words := strings.TrimSuffix(from.Shown(), " "+string(q.Plan.Unit)); from.Length.Sign() > 0 && !seen[words] {
			seen[words] = true
			l.stations = append(l.stations, station{in(from.Length), words})
		}
	}
	sort.Slice(l.stations, func(i, j int) bool { return l.stations[i].at < l.stations[j].at })
	return l
}

// strandOf names the strip that a piece is of.
func strandOf(piece calc.Piece) string { return fmt.Sprint(piece.Border, " ", piece.Edge) }

// room is where the fabric goes in a drawing so high: the numbers stand around it,
// the words below it or beside it.
func (l *layout) room(high float64, beside bool) box {
	b := box{24, 40, width - 46, high - 100}
	if beside {
		b.right -= max(textWidth("tn", l.way.Length.Shown()), 190)
		b.bottom = high - 12
	}
	var most float64
	for _, s := range l.stations {
		most = max(most, textWidth("tf", s.words))
	}
	switch {
	case most == 0:
	case l.lengthwise:
		b.top += most + 14 // they may have to stand upright
	default:
		b.left = most + 26
	}
	return b
}

func (l *layout) draw(high float64) string {
	p := newPen()
	p.h, p.rims = high, l.hasLines()
	room, wider := l.room(high, false), l.room(high, true)
	f := room.fit(l.wide, l.long)
	g := wider.fit(l.wide, l.long)
	beside := g.scale() > f.scale()
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
	if l.lengthwise {
		l.columns(p, fabric, k)
	} else {
		l.rows(p, fabric, k)
	}
	if beside {
		x := fabric.right + 52
		p.words(pt{x, fabric.top + 60}, after, word{"tn", l.way.Length.Shown()}, word{"t", "of fabric"})
		l.legend(p, pt{x, fabric.top + 150}, false)
	} else {
		p.text("tn", pt{width / 2, fabric.bottom + 36}, amid, l.way.Length.Shown()+" of fabric")
		l.legend(p, pt{width / 2, fabric.bottom + 82}, true)
	}
	way := map[bool]string{true: "lengthwise", false: "crosswise"}[l.lengthwise]
	return p.svg(fmt.Sprintf("%d pieces cut %s from %s of fabric, its selvages cut off, %s across", len(l.way.Layout), way, l.way.Length.Shown(), l.usable()))
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
	if !l.lengthwise || len(l.stations) == 0 {
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

// columns says how far from the left edge each column begins: level where all
// have room, else upright; one that has no room is left out.
func (l *layout) columns(p *pen, fabric box, k float64) {
	level, last := true, -1e3
	for _, s := range l.stations {
		x, half := fabric.left+s.at*k, textWidth("tf", s.words)/2
		level = level && x-half > last
		last = x + half + 8
	}
	last = -1e3
	for _, s := range l.stations {
		x, wide := fabric.left+s.at*k, textWidth("tf", s.words)
		if x < last+labelSize+2 && !level {
			continue
		}
		last = x
		p.lines("dim", pt{x, fabric.top - 3}, pt{x, fabric.top - 13})
		if level {
			p.label("tf", pt{x, fabric.top - 30}, 0, 1, s.words)
		} else {
			p.label("tf", pt{x, fabric.top - 16 - wide/2}, -90, 1, s.words)
		}
	}
}

// rows says how far below the cut edge each row begins.
func (l *layout) rows(p *pen, fabric box, k float64) {
	last := -1e3
	for _, s := range l.stations {
		y := fabric.top + s.at*k
		if y < last+labelSize+2 {
			continue
		}
		last = y
		p.lines("dim", pt{fabric.left - 6, y}, pt{fabric.left - 16, y})
		p.label("tf", pt{fabric.left - 20 - textWidth("tf", s.words)/2, y}, 0, 1, s.words)
	}
}

// legend says what the marks are, in one row around a point, or in lines under
// each other from there.
func (l *layout) legend(p *pen, at pt, row bool) {
	type entry struct {
		words string
		mark  func(x, y float64)
	}
	var entries []entry
	if !l.coping {
		entries = append(entries, entry{"inner edge", func(x, y float64) { p.shape("inneredge", box{x, y - 3, x + 30, y + 3}.corners()...) }})
	}
	if slices.ContainsFunc(l.way.Layout, l.flagged) {
		entries = append(entries, entry{l.firstLineName(), func(x, y float64) { p.flag(move(x+6, y-6), 1) }})
	}
	if len(l.parts) > 0 {
		entries = append(entries, entry{"join", func(x, y float64) { p.line("joinline", pt{x, y + 9}, pt{x + 28, y - 9}) }})
	}
	if l.hasWaste() {
		entries = append(entries, entry{"waste", func(x, y float64) {
			p.shape("waste", box{x, y - 11, x + 30, y + 11}.corners()...)
			p.line("rawthin", box{x, y - 11, x + 30, y + 11}.corners()...)
		}})
	}
	const mark, gap = 36.0, 18.0
	x := at.x
	for _, e := range entries {
		if row {
			x -= (mark + textWidth("tf", e.words) + gap) / 2
		}
	}
	for _, e := range entries {
		e.mark(x, at.y)
		word := textWidth("tf", e.words)
		p.text("tf", pt{x + mark, at.y}, after, e.words)
		if row {
			x += mark + word + gap
		} else {
			at.y += 34
		}
	}
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
