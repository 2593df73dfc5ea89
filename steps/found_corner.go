package steps

import "cornerwise/calc"

// foundCorners says what the look at each corner means, and where it leads.
func foundCorners(w *Work, t taken) []found {
	var all []found
	for _, n := range everyCorner(w.built, nil) {
		if a, _, looked := w.look(t, n); looked {
			all = append(all, found{n.fill("corner-{corner}"), Finding{n.fill("corner-{corner}"), n.fill("Corner {corner}"), a}})
		}
	}
	return all
}

// look is what was entered at a corner before its trim: whether the trim may follow, and
// whether anything was entered at all. A miss alone says that the stripes miss.
func (w *Work) look(t taken, n names) (a calc.Answer, pass, looked bool) {
	seen, miss := t.values[n.fill("look-{corner}")], t.length(n.fill("miss-{corner}"))
	look := map[string]calc.Look{lookFlat: calc.LookFlat, lookPucker: calc.LookPucker, lookGap: calc.LookGap, lookMiss: calc.LookStripes}[seen]
	switch {
	case look == "" && miss.Sign() == 0:
		return a, true, false
	case look == "":
		look = calc.LookStripes
	case look == calc.LookStripes && miss.Sign() == 0:
		a = answer(calc.Verdict{Kind: "ask", Text: "By how much do the stripes miss?", Act: "Measure it along the strip, at the miter."})
		a.Missing = []string{n.fill("miss-{corner}")}
		return a, false, true
	}
	a, pass = calc.AnswerLook(w.built.plan, w.Sheet, look, miss, w.limits())
	return w.redoIn(a, n), pass, true
}
