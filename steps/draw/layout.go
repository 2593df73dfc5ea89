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
		long, deep := along, across // of the strip; its frame counts from its middle
		strip := frame{0, k, k, 0, at.x, at.y + long*k/2}
		if !lengthwise {
			long, deep = across, along
			strip = frame{k, 0, 0, k, at.x + long*k/2, at.y}
		}
		outline := box{-long / 2, 0, long / 2, deep}.corners()
		pair := calc.Sides
		if piece.Edge == "top" || piece.Edge == "bottom" {
			pair = calc.TopBottom
		}
		q.cloth(p, piece.Border-1, pair, strip, outline)
		c := strip.all(outline)
		p.lines("raw", c[1], c[2], c[2], c[3], c[3], c[0])
		p.lines("chalk", c[0], c[1])
		label := piece.Edge
		if len(q.Plan.Borders) > 1 {
			label = fmt.Sprintf("%d %s", piece.Border, label)
		}
		turn := 0
		if lengthwise {
			turn = 90
		}
		small := min(1, deep*k/30) // 1 is 24 px
		m := strip.at(0, deep/2)
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
