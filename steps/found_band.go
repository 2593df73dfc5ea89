package steps

import (
	"strconv"

	"cornerwise/calc"
)

// foundBands judges the width of every band that was measured.
func foundBands(w *Work, t readings) []found {
	var all []found
	last := strconv.Itoa(len(w.built.plan.Borders) - 1)
	for _, n := range everyEdge(w.built, nil) {
		id := n.fill("band-{edge}-width")
		if !t.has(id) {
			continue
		}
		a := calc.CheckBandWidth(w.built.plan, w.Sheet, n.edges(), t.length(id), w.limits())
		n = n.with(names{"border": last})
		all = append(all, found{n.fill("band-{border}-{edges}"), Finding{id, sentence(n.fill("{edge} band")), aboutOf(n), w.redoIn(a, n)}})
	}
	return all
}
