package web

import (
	"fmt"
	"html/template"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// An onPrintView is where the strips of a border lie on the print of its photo.
type onPrintView struct {
	Name  string
	Pic   template.HTML
	Words []string
}

// onPrints are those of some borders, counted from 1, that have a picture of their print.
func onPrints(q draw.Quilt, borders []int) (all []onPrintView) {
	for _, border := range borders {
		pic := q.OnPrint(border - 1)
		if pic == "" {
			continue
		}
		b := q.Plan.Borders[border-1]
		v := onPrintView{Name: b.Name, Pic: template.HTML(pic), Words: []string{
			"Find this place of the print for every strip, so that the same line runs along each inner edge."}}
		if b.Stripe.Sign() > 0 {
			shown := func(l calc.Length) string {
				return calc.Figure{Length: l, Unit: q.Plan.Unit, Rounding: calc.Nearest}.Shown()
			}
			v.Words = append(v.Words, fmt.Sprintf("The print repeats each %s across the strip; the inner raw edge lies %s into a repeat.",
				shown(b.Stripe), shown(b.Start)))
		}
		for _, m := range q.Sheet.Match {
			if m.Border == border && m.Possible {
				v.Words = append(v.Words, fmt.Sprintf("On the middle of each side strip lies a %s, on that of the top and bottom strips a %s.",
					m.Centering.Sides, m.Centering.TopBottom))
			}
		}
		all = append(all, v)
	}
	return all
}
