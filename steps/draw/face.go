package draw

import (
	"fmt"
	"strings"

	"cornerwise/calc"
)

// Sewn is how far a top is: which of its edges have their borders, and which of its corners their
// miters.
type Sewn struct {
	Edges   map[string]bool // left, right, top, bottom
	Corners map[int]bool    // 1 top left, then clockwise
}

// Face is a small picture of the whole top, to scale, without words: what is sewn is in its own
// fabric, what is not yet is pale. It is a whole SVG file. An image reads nothing of the page that it
// stands on, so the style sheet of drawings goes in with it.
func (q Quilt) Face(style string, sewn Sewn) string {
	const longest, rim = 320, 5
	w := q.width() - 2*q.seam() + 2*q.band(calc.Sides)
	l := q.length() - 2*q.seam() + 2*q.band(calc.TopBottom)
	p := newPen()
	k := longest / max(w, l)
	p.w, p.h = w*k+2*rim, l*k+2*rim
	f := box{rim, rim, p.w - rim, p.h - rim}.fit(w, l)

	x, y := q.width()/2-q.seam(), q.length()/2-q.seam()
	q.lay(p, "center", f, box{-x, -y, x, y}.corners())
	for _, edge := range edgeNames {
		on := q.on(edge)
		outline := on.all(q.mitered(edgesOf(edge), 0))
		if sewn.Edges[edge] {
			q.lay(p, edge, f, outline)
			continue
		}
		p.b.WriteString(`<g opacity=".4">`)
		q.lay(p, edge, f, outline)
		p.b.WriteString(`</g>`)
		p.shape("ghost", f.all(outline)...)
	}
	for corner := 1; corner <= 4; corner++ {
		if sewn.Corners[corner] {
			sx, sy := cornerPlace(corner)
			p.line("seam", f.at(sx*x, sy*y), f.at(sx*(x+q.band(calc.Sides)), sy*(y+q.band(calc.TopBottom))))
		}
	}
	p.shape("seam", f.all(box{-x, -y, x, y}.corners())...)
	drawn := p.svg("")
	links := ""
	if len(q.Tiles) > 0 {
		links = ` xmlns:xlink="http://www.w3.org/1999/xlink"`
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg"%s width="%s" height="%s"`, links, num(p.w, 0), num(p.h, 0)) +
		strings.Replace(strings.TrimPrefix(drawn, "<svg"), ">", "><style>"+style+"</style>"+q.Defs(), 1)
}
