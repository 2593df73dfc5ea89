package draw

import "slices"

// A legendEntry is what a mark of a layout means; without a mark it is words only.
type legendEntry struct {
	words string
	mark  func(p *pen, x, y float64)
}

// In the legend a mark takes so much, and there is so much between two entries.
const (
	legendMark = 36.0
	legendGap  = 18.0
)

func (e legendEntry) wide() float64 {
	if e.mark == nil {
		return textWidth("tf", e.words) + legendGap
	}
	return legendMark + textWidth("tf", e.words) + legendGap
}

func (l *layout) entries() []legendEntry {
	var all []legendEntry
	if !l.coping {
		all = append(all, legendEntry{"inner edge", func(p *pen, x, y float64) {
			p.shape("inneredge", box{x, y - 3, x + 30, y + 3}.corners()...)
		}})
	}
	if slices.ContainsFunc(l.way.Layout, l.flagged) {
		all = append(all, legendEntry{l.firstLineName(), func(p *pen, x, y float64) {
			p.flag(move(x+6, y-6), 1)
		}})
	}
	if l.way.Heads != "" {
		all = append(all, legendEntry{"heads", func(p *pen, x, y float64) {
			p.headsArrow(pt{x + 15, y}, 14, l.way.Heads)
		}})
	}
	if len(l.parts) > 0 {
		all = append(all, legendEntry{"join", func(p *pen, x, y float64) {
			p.line("joinline", pt{x, y + 9}, pt{x + 28, y - 9})
		}})
	}
	if l.hasWaste() {
		all = append(all, legendEntry{"waste", func(p *pen, x, y float64) {
			p.shape("waste", box{x, y - 11, x + 30, y + 11}.corners()...)
			p.line("rawthin", box{x, y - 11, x + 30, y + 11}.corners()...)
		}})
	}
	return all
}

// wholeRow are the entries with how long the fabric is before them.
func (l *layout) wholeRow() []legendEntry {
	return append([]legendEntry{{words: l.way.Length.Shown() + " long"}}, l.entries()...)
}

// inRow tells whether one row below the fabric takes all that.
func (l *layout) inRow() bool { return rowWide(l.wholeRow()) < width-16 }

func rowWide(entries []legendEntry) float64 {
	wide := -legendGap
	for _, e := range entries {
		wide += e.wide()
	}
	return wide
}

// legend says what the marks are, in one row around a point, or in lines under
// each other from there.
func (l *layout) legend(p *pen, at pt, row bool) {
	entries := l.entries()
	if row && l.inRow() {
		entries = l.wholeRow()
	}
	x := at.x
	if row {
		x -= rowWide(entries) / 2
	}
	for _, e := range entries {
		words := x
		if e.mark != nil {
			e.mark(p, x, at.y)
			words += legendMark
		}
		p.text("tf", pt{words, at.y}, after, e.words)
		if row {
			x += e.wide()
		} else {
			at.y += 34
		}
	}
}
