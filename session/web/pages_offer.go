package web

import (
	"fmt"

	"cornerwise/calc"
)

// An offer is another cut width for a striped border, with both its seams on the
// same line of the stripe; Do is what takes it.
type offer struct {
	Name, Edges string
	calc.Width
	Do string
}

// offers are the nearest such widths of every striped border.
func offers(p calc.Plan) []offer {
	var all []offer
	for i, b := range p.Borders {
		for _, w := range calc.NearestWidths(p, i+1) {
			o := offer{Name: b.Name, Width: w, Do: fmt.Sprintf("cut-%d-%s", i+1, w.Cut.Exactly())}
			if len(w.Edges) == 1 {
				o.Edges = "sides"
				if w.Edges[0] == calc.TopBottom {
					o.Edges, o.Do = "top and bottom", fmt.Sprintf("cutTopBottom-%d-%s", i+1, w.Cut.Exactly())
				}
			}
			all = append(all, o)
		}
	}
	return all
}
