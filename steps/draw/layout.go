package draw

import (
	"fmt"
	"html"

	"cornerwise/calc"
)

// Layout is a length of cloth across its usable width, selvages left and right,
// with every strip where it is cut. The chalk line is the edge that every strip
// starts on: the same line of the stripe, and the edge that goes to the center.
func (q Quilt) Layout(w *calc.Way, lengthwise bool) string {
	p := newPen()
	var wide float64
	for _, piece := range w.Layout {
		wide = max(wide, in(q.Plan.Borders[piece.Border-1].Cloth.UsableWidth), in(piece.X.Length)+in(piece.Width.Length))
	}
	long := in(w.Length.Length)
	room := box{24, 14, 576, 452}
	f := room.fit(wide, long)
	k := f.scale()
	left, top := f.at(-wide/2, -long/2).x, f.at(-wide/2, -long/2).y
	right, bottom := left+wide*k, top+long*k
	p.shape("ground", pt{left, top}, pt{right, top}, pt{right, bottom}, pt{left, bottom})

	for _, piece := range w.Layout {
		at := pt{left + in(piece.X.Length)*k, top + in(piece.Y.Length)*k}
		across, along := in(piece.Width.Length), in(piece.Length.Length)
		strip, outline := frame{0, k, k, 0, at.x, at.y}, box{0, 0, along, across}.corners()
		if !lengthwise {
			strip, outline = frame{k, 0, 0, k, at.x, at.y}, box{0, 0, across, along}.corners()
		}
		pair := calc.Sides
		if piece.Edge == "top" || piece.Edge == "bottom" {
			pair = calc.TopBottom
		}
		q.cloth(p, piece.Border-1, pair, strip, outline)
		p.lines("raw", strip.at(outline[1].x, 0), strip.at(outline[2].x, outline[2].y), strip.at(outline[3].x, outline[3].y), strip.at(outline[2].x, outline[2].y),
			strip.at(0, 0), strip.at(outline[3].x, outline[3].y))
		p.lines("chalk", strip.at(0, 0), strip.at(outline[1].x, 0))
		label := piece.Edge
		if len(q.Plan.Borders) > 1 {
			label = fmt.Sprintf("%d %s", piece.Border, label)
		}
		turn, room := 0, along*k
		if lengthwise {
			turn, room = 90, across*k
		}
		small := min(1, room/30) // 1 is 24 px
		m := strip.at(outline[2].x/2, outline[2].y/2)
		fmt.Fprintf(&p.b, `<text class="tl" text-anchor="middle" transform="translate(%s %s) rotate(%d) scale(%s)" y="9">%s</text>`,
			num(m.x, 1), num(m.y, 1), turn, num(small, 2), html.EscapeString(label))
	}
	p.lines("selvage", pt{left, top}, pt{left, bottom}, pt{right, top}, pt{right, bottom})
	p.text("tn", pt{width / 2, 480}, amid, fmt.Sprintf("%s of cloth", w.Length.Shown()))
	way := "lengthwise"
	if !lengthwise {
		way = "crosswise"
	}
	return p.svg(fmt.Sprintf("%d pieces cut %s from %s of cloth, selvages left and right", len(w.Layout), way, w.Length.Shown()))
}
