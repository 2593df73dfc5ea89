package steps

// foundCorners says what the look at each corner means, and where it leads.
func foundCorners(w *Work, t readings) []found {
	var all []found
	for _, n := range everyCorner(w.built, nil) {
		if a, _, looked := w.look(t, n); looked {
			all = append(all, found{n.fill("corner-{corner}"), Finding{n.fill("corner-{corner}"), n.fill("Corner {corner}"), aboutOf(n), a}})
		}
	}
	return all
}
