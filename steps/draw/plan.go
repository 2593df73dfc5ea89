package draw

import (
	"fmt"

	"cornerwise/calc"
)

// plan is the whole top as it will be, with its finished size.
func (q Quilt) plan(p *pen) string {
	wide, long := q.Sheet.Finished.Width.Shown(), q.Sheet.Finished.Length.Shown()
	right := textWidth("tn", long) + 64
	w := q.width() - 2*q.seam() + 2*q.band(calc.Sides)
	l := q.length() - 2*q.seam() + 2*q.band(calc.TopBottom)
	room := box{12, 12, width - right, height - 78}
	f := room.fit(w, l)
	b := q.bordered(p, f, 0)
	p.dim(pt{b.left, b.bottom + 22}, pt{b.right, b.bottom + 22})
	p.text("tn", pt{(b.left + b.right) / 2, b.bottom + 56}, amid, wide)
	p.dim(pt{b.right + 22, b.top}, pt{b.right + 22, b.bottom})
	p.text("tn", pt{b.right + 40, (b.top + b.bottom) / 2}, after, long)
	words := "its mitered border"
	if n := len(q.Plan.Borders); n > 1 {
		words = fmt.Sprintf("its %d mitered borders", n)
	}
	return fmt.Sprintf("%s: the top with %s, finished %s wide and %s long", q.title(), words, wide, long)
}

func (q Quilt) title() string {
	if q.Plan.Title == "" {
		return "The plan"
	}
	return q.Plan.Title
}
