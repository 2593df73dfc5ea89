package steps

import "cornerwise/calc"

// foundCoping tells, at the center's measure with its coping strips, whether prints miss.
func foundCoping(w *Work, t readings) []found {
	c := w.built.plan.Coping
	if c == nil || !t.has("coped-"+copedAlong[c.Edges]) {
		return nil
	}
	a, ok := calc.CheckCoped(w.built.plan, w.Sheet, w.limits())
	if !ok {
		return nil
	}
	about := About{Edges: c.Edges}
	return []found{{"coping-size", Finding{"coped", "The center with its strips", about, w.redoIn(a, about.names())}}}
}
