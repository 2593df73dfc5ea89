package calc

import "fmt"

// atEnd is a way out at one end of an edge: its acts, and after them, where the miter of
// that corner was sewn, the corner again. What lies elsewhere stays as it is.
func (t trouble) atEnd(w WayOut) WayOut {
	w.Kind, w.Redo = "redo", fromFold(t.s.Corner.Equal())
	if !t.in.Mitered {
		return w
	}
	far := "2 in"
	if t.p.Unit == Centimeter {
		far = "5 cm"
	}
	w.Acts = append([]string{fmt.Sprintf("Unpick the miter for %s, from the dot outward.", far)}, w.Acts...)
	if t.in.Trimmed && !t.in.First { // its tails are not trimmed once more
		w.Acts = append(w.Acts, foldAgain, turnAway, pinDot, overUnpicked(t.p.Unit), lookAgain)
		w.Redo = []string{"press.{corner}.opened"}
		return w
	}
	w.Then = then(w.Redo, t.s.Corner.Equal())
	return w
}

// caught: a tail that is sewn in can't be mitered. The seam is opened over it, no more.
func (t trouble) caught() Answer {
	marks := t.s.Marks.On(t.in.Edges)
	way := t.atEnd(WayOut{Title: "Free the tail", Figures: []Named{{"middle to dot", marks.ToDot}}, Acts: []string{
		"Unpick this seam over the tail, and a little beyond it.",
		"Press the opened seam flat.",
		"Fold the tail away from the seam, and pin it there.",
		"Pin the seam again, right sides together.",
		"Sew the gap on the old stitching line to the dot, and backstitch.",
		"Look at both sides: the tail hangs free."}})
	return Answer{Kind: "caught", Figures: way.Figures, Ways: []WayOut{way},
		Say: []string{"The other strip's tail lies in this seam, so that corner can't be mitered.",
			fmt.Sprintf("Beyond the dot, %s from the middle, nothing is sewn.", marks.ToDot.Exactly())}}
}

// upsideDown: a strip whose inner edge lies outward. On plain fabric nobody sees it. Once
// its tails are trimmed it does not fit the other way round.
func (t trouble) upsideDown() Answer {
	b := t.p.Borders[t.in.Border-1]
	a := Answer{Kind: "turned", Figures: []Named{{"cut width", t.p.Unit.nearest(b.CutOn(t.in.Edges))}}}
	if b.Stripe.Sign() == 0 && b.Motif.Sign() == 0 {
		a.Kind, a.Say = Right, []string{"On plain fabric it does not show, whichever edge lies inside. Leave it."}
		return a
	}
	a.Say = []string{"Its inner edge goes toward the center, so that all four strips mirror at the corners."}
	if inner, outer, ok := LinesAt(t.p, t.in.Border, t.in.Edges); ok {
		a.Say = append(a.Say, fmt.Sprintf("Its inner raw edge is the one %s; turned round, it lies %s.", inner, outer))
	}
	a.Say = append(a.Say, "Turned around, it shows only in a print that points one way.")
	turn := WayOut{Kind: "redo", Title: "Take it off and turn it", Figures: []Named{}, Redo: []string{"mark.{edge}.middle"},
		Acts: []string{"Unpick its seam from dot to dot.", "Press the strip and the center's edge flat.", "Turn the strip: its inner edge to the center, right sides together."}}
	if len(t.p.Borders) > 1 {
		turn.First = &First{Redo: []string{fmt.Sprintf("band.%d.{edge}.sewn", t.in.Border-1), "band.{border}.{edge}.sewn"}}
		turn.Redo = []string{fmt.Sprintf("band.%d.{edge}.pinned", t.in.Border-1), "band.{border}.{edge}.pinned"}
		turn.Acts[0], turn.Acts[1] = "Unpick the seams that hold it, from end to end.", "Press the strip and its neighbors flat."
		turn.Acts[2] = "Turn the strip: its inner edge toward the center, right sides together."
	}
	if t.in.Mitered {
		turn.Acts = append([]string{"Unpick the miters at both its ends."}, turn.Acts...)
	}
	if !t.in.Trimmed {
		a.Ways = append(a.Ways, turn)
	} else {
		a.Say = append(a.Say, "Its tails are trimmed, so it does not fit the other way round.")
	}
	a.Ways = append(a.Ways, t.loosened([]WayOut{newStripOf(t.p, t.s, CutStrip{Border: t.in.Border, Edges: t.in.Edges})})...)
	a.Ways = append(a.Ways,
		WayOut{Kind: "leave", Title: "Leave it", Figures: []Named{}, Acts: []string{"If the fabric looks the same both ways, leave it."}})
	return a
}

// cornerEdges are the edges that meet at each corner, from the top left clockwise.
var cornerEdges = [4][2]struct {
	name string
	pair Edges
}{
	{{"left", Sides}, {"top", TopBottom}},
	{{"right", Sides}, {"top", TopBottom}},
	{{"right", Sides}, {"bottom", TopBottom}},
	{{"left", Sides}, {"bottom", TopBottom}},
}

// loosened are ways out in which a new strip is cut only after the old one, where it is sewn
// on, has come off.
func (t trouble) loosened(ways []WayOut) []WayOut {
	for i := range ways {
		if ways[i].Kind != "new-strip" || !t.in.Sewn || t.in.First {
			continue
		}
		off := []string{"Unpick its seam from dot to dot.", "Press the center's edge flat."}
		if t.in.Mitered {
			off = append([]string{"Unpick the miters at both its ends."}, off...)
		}
		ways[i].Acts = append(off, ways[i].Acts...)
	}
	return ways
}

// newStrips are a new strip for either edge that meets at a corner, in all borders. first
// is how the old one comes loose at its ends.
func (t trouble) newStrips(first string) []WayOut {
	var ways []WayOut
	for _, e := range cornerEdges[t.in.Corner-1] {
		way := WayOut{Kind: "redo", Title: fmt.Sprintf("A new %s strip", e.name), Figures: []Named{},
			Acts: []string{fmt.Sprintf(first, e.name),
				fmt.Sprintf("Unpick the %s seam from dot to dot.", e.name), "Press the center's edge flat."}}
		var then []string
		for i := range t.p.Borders {
			strip := t.s.strip(i+1, e.pair)
			then = append(then, fmt.Sprintf("cut.%d.%s.measured", i+1, e.name))
			way.Redo = append(way.Redo, fmt.Sprintf("join.%d.%s.measured", i+1, e.name), then[i])
			way.Figures = append(way.Figures, Named{strip.Name + ", wide", strip.CutWidth}, Named{strip.Name + ", long", strip.CutLength})
		}
		way.First = &First{Redo: then}
		ways = append(ways, way)
	}
	return ways
}

// trimmedWrong: the tails are gone, but their allowance is there. The miter can be sewn
// again, and moved by what of it still holds.
func (t trouble) trimmedWrong() Answer {
	u := t.p.Unit
	left, told := t.in.Lengths["left"]
	if !told {
		left = t.p.Seam
	}
	move := left.Sub(t.lim.Held)
	if move.Sign() < 0 {
		move = Length{}
	}
	a := Answer{Kind: "trimmed", Figures: []Named{{"left beyond the stitching", u.exactly(left)}, {"the line can move by", u.exactly(move)}}}
	if move.Sign() > 0 || left.Equal(t.lim.Held) && !t.in.First {
		a.Say = []string{"The miter can still be unpicked and sewn again: an allowance is left on both strips.",
			fmt.Sprintf("With %s left, the new line may lie up to %s from the old one.", u.nearest(left).Exactly(), u.nearest(move).Exactly())}
		if move.Sign() == 0 {
			a.Say[1] = fmt.Sprintf("%s is left: sew again on the old line, no farther in.", u.nearest(left).Exactly())
		}
		redo := fromFold(t.s.Corner.Equal())
		a.Ways = append(a.Ways, WayOut{Kind: "redo", Title: "Sew the miter again", Figures: a.Figures, Redo: redo, Then: then(redo, t.s.Corner.Equal()),
			Acts: []string{unpickMiter, "Press both strips flat.", fmt.Sprintf("Mark the dot anew, %s from both raw edges of the center.", u.nearest(t.p.Seam).Exactly())}})
	} else {
		a.Kind, a.Say = Short, []string{fmt.Sprintf("Too little is left to hold a seam: under %s.", u.nearest(t.lim.Held).Exactly()), "One of the two strips must be cut anew."}
		if left.Sign() == 0 {
			a.Say[0] = "Nothing is left to sew."
		}
	}
	a.Ways = append(a.Ways, t.newStrips("Unpick the miters at both ends of the %s strip.")...)
	a.Ways = append(a.Ways, WayOut{Kind: "leave", Title: "Leave it", Figures: []Named{},
		Acts: []string{t.leave()}})
	return a
}

// leave says when a corner may stay as it is.
func (t trouble) leave() string {
	if t.p.meet() == "" {
		return "If it lies flat, leave it."
	}
	return fmt.Sprintf("A miss of up to %s is hardly seen.", t.p.Unit.nearest(t.lim.Seen).Exactly())
}
