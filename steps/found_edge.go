package steps

import "cornerwise/calc"

// foundEdges compares each sewn edge with the center's side.
func foundEdges(w *Work, t readings) []found {
	var all []found
	for _, n := range everyEdge(w.built, nil) {
		id := n.fill("edge-{edge}")
		if !t.has(id) {
			continue
		}
		a := w.answerOf("band-length", calc.Entered{Edges: n.edges(), Lengths: map[string]calc.Length{"band": t.length(id)}})
		all = append(all, found{n.fill("sew-{edge}"), Finding{id, sentence(n.fill("{edge} edge")), aboutOf(n), w.redoIn(a, n)}})
	}
	return all
}
