package steps

import (
	"fmt"

	"cornerwise/calc"
)

// A cutStrip is one strip as it lies there.
type cutStrip struct {
	names         // border, edge, edges
	width, length calc.Length
	measured      bool // by the person; else it is as its tick showed it when it was cut
}

// cutStrips are the strips that are cut or measured, and not yet trimmed at both ends:
// from then on their tails are gone.
func (w *Work) cutStrips(t readings) []cutStrip {
	var all []cutStrip
	for _, b := range everyBorder(w.built, nil) {
		for _, e := range everyEdge(w.built, nil) {
			n := b.with(e)
			if w.done(n.fill("miter.{cornerA}.trimmed")) && w.done(n.fill("miter.{cornerB}.trimmed")) {
				continue
			}
			c := cutStrip{names: n, width: t.length(n.fill("cut-{border}-{edge}-width")), length: t.length(n.fill("cut-{border}-{edge}-length"))}
			c.measured = c.width.Sign()+c.length.Sign() > 0
			w.built.mended(&c)
			_, cut := w.Tick(n.fill("cut.{border}.{edge}.cut"))
			if cut.Done && len(cut.told) > 0 && len(cut.told[0].Figures) == 2 {
				if c.width.Sign() == 0 {
					c.width = cut.told[0].Figures[0].Length
				}
				if c.length.Sign() == 0 {
					c.length = cut.told[0].Figures[1].Length
				}
			}
			if c.length.Sign() > 0 || c.measured {
				all = append(all, c)
			}
		}
	}
	return all
}

// foundStrips judges every strip by what its miters need now, however it was cut.
func foundStrips(w *Work, t readings) []found {
	var all []found
	for _, c := range w.cutStrips(t) {
		border := c.number("border")
		plan := w.built.stripOf(border, c.edges())
		if !c.measured && c.width.Equal(plan.CutWidth.Length) && c.length.Equal(plan.CutLength.Length) {
			continue
		}
		if c.length.Sign() == 0 {
			c.length = plan.CutLength.Length
		}
		a := w.answerOf("short-strip", calc.Entered{Border: border, Edges: c.edges(),
			Lengths: map[string]calc.Length{"width": c.width, "length": c.length}})
		all = append(all, found{c.fill("cut-{border}-{edges}"), Finding{c.fill("strip-{border}-{edge}"),
			fmt.Sprintf("%s: %s strip", w.Plan.Borders[border-1].Name, c.fill("{edge}")), aboutOf(c.names), w.redoIn(a, c.names)}})
	}
	return all
}
