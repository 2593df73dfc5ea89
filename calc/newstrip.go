package calc

import "fmt"

// newStripOf is one more strip, and the fabric to buy for it alone, cut one way or the
// other as the plan allows.
func newStripOf(p Plan, s Sheet, c CutStrip) WayOut {
	strip := s.strip(c.Border, c.Edges)
	b := newBolt(p, []Strip{strip}, s.Match, []int{c.Border - 1})
	b.strips = b.strips[:1]
	ways := b.ways()
	w := WayOut{
		Kind: "new-strip", Title: "A new strip", Figures: []Named{{"cut, wide", strip.CutWidth}, {"cut, long", strip.CutLength}},
		Redo:  []string{"join.{border}.{edge}.measured", "cut.{border}.{edge}.measured"},
		First: &First{Redo: []string{"cut.{border}.{edge}.measured"}},
		Acts:  []string{fmt.Sprintf("Cut a new strip, %s wide and %s long.", strip.CutWidth.Exactly(), strip.CutLength.Shown())},
	}
	for _, x := range ways.All() {
		switch {
		case x.Fits:
			w.Acts = append(w.Acts, fmt.Sprintf("Cut %s it takes %s of fabric; buy %s.", x.Name, x.Length.Shown(), x.Buy.Shown()))
			w.Figures = append(w.Figures, Named{"fabric, " + x.Name, *x.Length}, Named{"buy, " + x.Name, *x.Buy})
		case ways.Pick == "":
			w.Acts = append(w.Acts, x.Why)
		}
	}
	return w
}
