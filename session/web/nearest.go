package web

import (
	"fmt"

	"cornerwise/calc"
)

// A nearestWidth is another cut width for a striped border, with both its seams on the
// same line of the stripe; Do is what takes it.
type nearestWidth struct {
	Name, Edges string
	calc.Width
	Do string
}

// nearestWidths are those of every striped border.
func nearestWidths(p calc.Plan) []nearestWidth {
	var all []nearestWidth
	for i, b := range p.Borders {
		for _, w := range calc.NearestWidths(p, i+1) {
			near := nearestWidth{Name: b.Name, Width: w, Do: fmt.Sprintf("cut-%d-%s", i+1, w.Cut.Exactly())}
			if len(w.Edges) == 1 {
				near.Edges = "sides"
				if w.Edges[0] == calc.TopBottom {
					near.Edges, near.Do = "top and bottom", fmt.Sprintf("cutTopBottom-%d-%s", i+1, w.Cut.Exactly())
				}
			}
			all = append(all, near)
		}
	}
	return all
}
