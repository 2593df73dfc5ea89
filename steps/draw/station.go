package draw

import "cornerwise/calc"

// A station is where a column or row begins, in inches and in words.
type station struct {
	at    float64
	words string
}

// widestWords is how wide the widest of their words is.
func widestWords(all []station) (most float64) {
	for _, s := range all {
		most = max(most, textWidth("tf", s.words))
	}
	return most
}

// columns says how far from the left edge each column begins: level where all
// have room, else upright, and as small as they must be.
func (l *layout) columns(p *pen, fabric box, k float64) {
	level, last := true, -1e3
	for _, s := range l.stations {
		x, half := fabric.left+s.at*k, textWidth("tf", s.words)/2
		level = level && x-half > last && l.above == 0
		last = x + half + 8
	}
	size := l.numberSize(k)
	last = -1e3
	for _, s := range l.stations {
		x, wide := fabric.left+s.at*k, textWidth("tf", s.words)*size
		if x < last+labelSize*size && !level {
			continue
		}
		last = x
		p.lines("dim", pt{x, fabric.top - 3}, pt{x, fabric.top - 13})
		if level {
			p.label("tf", pt{x, fabric.top - 30}, 0, 1, s.words)
		} else {
			p.label("tf", pt{x, fabric.top - 16 - wide/2}, -90, size, s.words)
		}
	}
}

// Names over columns are so large at the most and at the least, and numbers at the least: of 10
// points and of 9.
const (
	mostAbove  = 0.5
	leastAbove = 0.43
)

// namesOver is how large names stand over columns of one piece each that are too narrow for
// them; 0 where they are not, or lie too close together for that too.
func (l *layout) namesOver(room box) float64 {
	k := min((room.right-room.left)/l.wide, (room.bottom-room.top)/l.long)
	if !l.lengthwise || l.narrowest()*k >= leastDeep || len(l.way.Layout) > len(l.stations)+1 {
		return 0
	}
	k = min(k, (room.bottom-room.top-l.longestName()*mostAbove)/l.long)
	size := mostAbove
	for i := 1; i < len(l.stations); i++ {
		size = min(size, (l.stations[i].at-l.stations[i-1].at)*k/labelSize)
	}
	if size < leastAbove {
		return 0
	}
	return size
}

// overName is what stands over a column: the full name, where it is not too long.
func (l *layout) overName(piece calc.Piece) string {
	names := l.names(piece)
	if full := names[0]; textWidth("tl", full)*mostAbove < 150 {
		return full
	}
	return names[len(names)-1]
}

// longestName is how wide the widest of these is, in full size.
func (l *layout) longestName() float64 {
	var most float64
	for _, piece := range l.way.Layout {
		most = max(most, textWidth("tl", l.overName(piece)))
	}
	return most
}

// namesAbove are the names of the pieces over their columns, and over the numbers of these.
func (l *layout) namesAbove(p *pen, fabric box, k float64) {
	var numbers float64
	for _, s := range l.stations {
		numbers = max(numbers, textWidth("tf", s.words)*l.numberSize(k))
	}
	for _, piece := range l.way.Layout {
		name := l.overName(piece)
		x := fabric.left + (in(piece.X.Length)+in(piece.Width.Length)/2)*k
		y := fabric.top - 24 - numbers - textWidth("tl", name)*l.above/2
		p.label("tl", pt{x, y}, -90, l.above, name)
	}
}

// numberSize is how large the numbers of columns or rows are where they lie close together.
func (l *layout) numberSize(k float64) float64 {
	least := labelSize + 2
	for i := 1; i < len(l.stations); i++ {
		least = min(least, (l.stations[i].at-l.stations[i-1].at)*k)
	}
	return clamp(least/(labelSize+2), leastAbove, 1)
}

// rows says how far below the cut edge each row begins.
func (l *layout) rows(p *pen, fabric box, k float64) {
	size := l.numberSize(k)
	last := -1e3
	for _, s := range l.stations {
		y := fabric.top + s.at*k
		if y < last+labelSize*size {
			continue
		}
		last = y
		p.lines("dim", pt{fabric.left - 6, y}, pt{fabric.left - 16, y})
		p.label("tf", pt{fabric.left - 20 - textWidth("tf", s.words)*size/2, y}, 0, size, s.words)
	}
}
