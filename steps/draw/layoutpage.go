package draw

import (
	"math"
	"slices"

	"cornerwise/calc"
)

// A FabricPage is a layout for paper. Low tells that it leaves room for more on the page.
type FabricPage struct {
	SVG string
	Low bool
}

// LayoutPage is a layout for paper, 180 mm across: as high as the fabric asks for, up to what a
// page leaves beside the list of its pieces. One of several is no higher than half a page, where
// the names of its strips are still read then.
func (q Quilt) LayoutPage(w *calc.Way, lengthwise, ofSeveral bool) FabricPage {
	return newLayout(q, w, lengthwise).page(ofSeveral)
}

// What a page of Letter, the shorter paper, leaves for a layout and the list of its pieces, and
// what a line of that list takes; both in units of a drawing that is 180 mm across.
const (
	pageHigh = 670.0
	halfHigh = 270.0
	lowHigh  = 380.0 // leaves room for the list of all strips
	listLine = 16.0
	// listLetters is how many of a name a line of two columns takes, in letters.
	listLetters = 18
	// leastDeep is how deep a strip is whose name is still read: of 10 points.
	leastDeep = 14.0
)

// ListColumns is in how many columns that list stands.
func ListColumns(w *calc.Way) int {
	if len(w.Layout) > 4 {
		return 2
	}
	return 1
}

func (l *layout) page(ofSeveral bool) FabricPage {
	room := l.room(0, false)
	asked := l.long*(room.right-room.left)/l.wide + room.top - room.bottom
	list := l.listHigh()
	high := min(asked, max(pageHigh-list, 320))
	if half := halfHigh - list; ofSeveral && half < high {
		if l.narrowest()*(half-(room.top-room.bottom))/l.long >= leastDeep {
			high = half
		}
	}
	return FabricPage{l.draw(high), high+list < lowHigh}
}

// listHigh is how high the list of the pieces is: those that have a line of a stripe say it under
// their names, and of two columns each is narrow for the names of borders.
func (l *layout) listHigh() float64 {
	columns := ListColumns(l.way)
	several := slices.ContainsFunc(l.way.Layout, func(x calc.Piece) bool {
		return x.Border != l.way.Layout[0].Border
	})
	lines := 0
	for _, piece := range l.way.Layout {
		b := l.Plan.Borders[piece.Border-1]
		lines++
		if len(b.Lines) > 0 {
			lines++
		}
		if several && columns > 1 {
			lines += (len(b.Name) + len(", bottom, part 1")) / listLetters
		}
	}
	return math.Ceil(float64(lines)/float64(columns)) * listLine
}

// narrowest is how deep the narrowest strip is, in inches.
func (l *layout) narrowest() float64 {
	least := math.Inf(1)
	for _, piece := range l.way.Layout {
		deep := piece.Length
		if l.along(piece) {
			deep = piece.Width
		}
		least = min(least, in(deep.Length))
	}
	return least
}
