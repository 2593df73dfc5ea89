package calc

import (
	"fmt"
	"slices"
	"strings"
)

func (t trouble) strip() Answer {
	c := CheckStrip(t.p, t.s, CutStrip{t.in.Border, t.in.Edges, t.in.Lengths["width"], t.in.Lengths["length"], t.in.First}, t.lim)
	a := Answer{Kind: c.Verdict.Kind, Say: c.Verdict.say(), Ways: t.loosened(c.Ways),
		Figures: []Named{{"least length", c.Strip.LeastLength}, {"too short by", c.TooShort}, {"tail at each end", c.Tail}}}
	if c.Width.Kind != Right {
		a.Say = append(a.Say, c.Width.say()...)
		if again := "Choose a way out."; c.Verdict.Kind == Short && c.Width.Kind == Narrow {
			a.Say[1] = strings.TrimSuffix(a.Say[1], " "+again)
		}
	}
	if t.in.Sewn {
		for i := range a.Say {
			a.Say[i] = strings.TrimSpace(strings.TrimPrefix(a.Say[i], "Do not sew it on."))
		}
		a.Say = slices.DeleteFunc(a.Say, func(said string) bool { return said == "" })
	}
	return a
}

// trimmed judges every strip against the center as it is now.
func (t trouble) trimmed() Answer {
	size := Size{t.in.Lengths["width"], t.in.Lengths["length"]}
	with := t.p.WithCenter
	if t.in.Coped && !t.in.First {
		with = t.p.WithCoped
	}
	now, err := with(size)
	if err != nil {
		return Answer{Kind: "ask", Say: []string{"No border can be sewn to a center of that size. Measure it again."}, Missing: []string{"width", "length"}}
	}
	cut := t.in.Strips
	if len(cut) == 0 {
		for _, x := range t.s.Strips {
			cut = append(cut, CutStrip{Border: x.Border, Edges: x.Edges, Length: x.CutLength.Length})
		}
	}
	if !t.in.First {
		cut = alike(cut)
	}
	for i := range cut {
		cut[i].First = t.in.First
	}
	sheet := NewSheet(now)
	a := Answer{Kind: Right, Say: t.trimDoubts(size), Figures: []Named{{"middle to end, sides", sheet.Marks.Sides.ToEnd}, {"middle to end, top and bottom", sheet.Marks.TopBottom.ToEnd}}}
	short := 0
	for _, c := range CheckStrips(now, sheet, cut, t.lim) {
		who := fmt.Sprintf("%s, %s", c.Strip.Name, c.Strip.Edges.words())
		a.Say = append(a.Say, who+": "+c.Verdict.Text)
		a.Figures = append(a.Figures, Named{who + ": tail at each end", c.Tail})
		a.Ways = append(a.Ways, c.Ways...)
		if c.Verdict.Kind == Short {
			short++
		}
	}
	missed, miss := t.printsMissed(now)
	if miss.Length.Sign() > 0 {
		a.Figures = append(a.Figures, Named{"prints miss by", miss})
	}
	if short > 0 {
		a.Kind, a.Say = Short, append(a.Say, missed...)
		return a
	}
	a.Say = append(a.Say, "All strips are long enough. Mark them anew: the ends lie elsewhere now.")
	if len(missed) > 0 {
		a.Kind, a.Say = string(LookStripes), append(a.Say, missed...)
	}
	a.Ways = append(a.Ways, WayOut{Kind: "redo", Title: "Mark anew", Acts: []string{"Mark every strip from its middle with the new figures."},
		Figures: a.Figures[:2], Redo: []string{"mark.{edge}.ends"}})
	return a
}

// alike are the strips with those of one border and pair told once: the shorter, and the
// narrower, where two differ.
func alike(strips []CutStrip) []CutStrip {
	var all []CutStrip
	for _, c := range strips {
		i := slices.IndexFunc(all, func(x CutStrip) bool { return x.Border == c.Border && x.Edges == c.Edges })
		if i < 0 {
			all = append(all, c)
			continue
		}
		if x := &all[i]; x.Length.Sign() == 0 || c.Length.Sign() > 0 && c.Length.Less(x.Length) {
			x.Length = c.Length
		}
		if x := &all[i]; x.Width.Sign() == 0 || c.Width.Sign() > 0 && c.Width.Less(x.Width) {
			x.Width = c.Width
		}
	}
	return all
}

// trimDoubts ask about a size that is hard to believe beside the one built on.
func (t trouble) trimDoubts(now Size) []string {
	was := t.p.Pieced
	if t.in.Coped {
		was = t.p.Center
	}
	var all []string
	for _, d := range []struct{ was, now Length }{{was.Width, now.Width}, {was.Length, now.Length}} {
		if question, doubtful := t.lim.Doubt(d.was, d.now); doubtful {
			all = append(all, question)
		}
	}
	return all
}

// printsMissed tells by how much prints that met on the center as it was miss on the one
// that is left, their strips centered as they are cut, and what brings them together
// again. What comes off one way across and not the other is missed by half at each corner.
// Derived; no source.
func (t trouble) printsMissed(now Plan) (say []string, most Figure) {
	off := t.p.Center.Width.Sub(now.Center.Width).Sub(t.p.Center.Length.Sub(now.Center.Length))
	for _, m := range t.s.Match {
		for _, x := range Centerings(now, m.Border) {
			if x.Centering != m.Centering || !x.Seen() {
				continue
			}
			say = append(say, fmt.Sprintf("%s: the prints now miss each other by %s at every corner.", t.p.Borders[m.Border-1].Name, t.p.Unit.telling(x.Mismatch.Length).Shown()))
			if most.Length.Less(x.Mismatch.Length) {
				most = x.Mismatch
			}
		}
	}
	if off.Sign() != 0 && len(say) > 0 {
		edges := Sides
		if off.Sign() < 0 {
			edges = TopBottom
		}
		each := off.abs().Half()
		say = append(say, fmt.Sprintf("Two coping strips on the %s, cut %s, bring them together as they were; each finishes at %s.",
			edges.words(), t.p.Unit.exactly(each.Add(t.p.Seam.Times(2))).Shown(), t.p.Unit.exactly(each).Shown()))
	}
	return say, most
}

func (t trouble) allowance() Answer {
	c := NewSeamTest(t.p).Check(t.p, t.in.Lengths["across"], t.lim)
	a := Answer{Kind: c.Verdict.Kind, Say: c.Verdict.say(), Figures: []Named{
		{"allowance taken", c.Allowance}, {"off by", c.Off}}}
	if c.Seams == 4 || t.in.First {
		a.Figures = append(a.Figures, Named{"four seams of it", c.InFour})
	}
	a.Figures = append(a.Figures, Named{"this top is off by", c.Top})
	if c.Toward == "" {
		return a
	}
	toward := c.Toward
	if c.Verdict.Kind == Fat {
		toward = "toward " + toward
	}
	a.Ways = []WayOut{
		{Kind: "needle", Title: "Move the needle", Acts: []string{fmt.Sprintf("Move the needle %s %s.", c.OffTold, toward), "Sew three strips side by side again, press them, and measure across."},
			Figures: []Named{{"move by", c.Off}}, Redo: []string{"test.measured"}},
		{Kind: "leave", Title: "Sew on as it is", Acts: []string{"Take the same allowance in every seam.",
			fmt.Sprintf("The raw top then measures %s x %s.", c.Expected.Width.Shown(), c.Expected.Length.Shown())},
			Figures: []Named{{"raw width", c.Expected.Width}, {"raw length", c.Expected.Length}}},
	}
	return a
}

// stitchLength is the one that the procedure has (cp).
var stitchLength = Of(2, 10, Centimeter)

// lastStitches are unpicked, so many of 2 mm.
func lastStitches(n int64) string {
	if n == 1 {
		return "Unpick the last stitch and the backstitch, back to the dot."
	}
	return fmt.Sprintf("Unpick the last %d stitches (2 mm each) and the backstitch, back to the dot.", n)
}

// pastDot: the stitches past the dot hold what the miter must have free. They are
// unpicked, no more.
func (t trouble) pastDot() Answer {
	fig := t.p.Unit.nearest
	past, left := t.in.Lengths["past"], t.p.Seam.Sub(t.in.Lengths["past"])
	n, _ := past.upTo(stitchLength).wholes(stitchLength)
	marks := t.s.Marks.On(t.in.Edges)
	a := Answer{Kind: "past", Figures: []Named{{"past the dot", t.p.Unit.exactly(past)}, {"middle to dot", marks.ToDot}},
		Say: []string{fmt.Sprintf("The seam must end %s from the middle, in the dot.", marks.ToDot.Exactly())}}
	if left.Sign() > 0 {
		a.Figures = append(a.Figures, Named{"left to the raw edge", t.p.Unit.exactly(left)})
		a.Say = append(a.Say, fmt.Sprintf("It ends %s past it, %s from the raw edge.", fig(past).Exactly(), fig(left).Exactly()))
	} else {
		a.Say = append(a.Say, "It runs out over the raw edge: the miter can't open there.")
	}
	way := WayOut{Kind: "redo", Title: "Unpick back to the dot", Redo: []string{"sew.{edge}.checked"}, Figures: []Named{{"unpick", t.p.Unit.exactly(past)}},
		Acts: []string{lastStitches(n.Int64()), "Needle down in the dot, and backstitch into the seam."}}
	if t.in.Corner > 0 {
		seam := t.p.Unit.nearest(t.p.Seam).Exactly()
		way.Acts = []string{way.Acts[0], "Press the seam's end flat.", fmt.Sprintf("Mark the dot anew if it is gone, %s from both raw edges.", seam),
			"Pin the seam's end again, right sides together.", way.Acts[1],
			"Look at the end: the last stitch lies in the dot."}
		way = t.atEnd(way)
	}
	a.Ways = []WayOut{way}
	return a
}

func (t trouble) band() Answer {
	c := CheckBand(t.p, t.in.Edges, t.in.Lengths["band"], t.lim)
	a := Answer{Kind: c.Verdict.Kind, Say: c.Verdict.say(),
		Figures: []Named{{"the center's side", c.Side}, {"off by", c.Off}, {"eases in", c.MayEase}}}
	if c.Every.Length.Sign() > 0 {
		a.Figures = append(a.Figures, Named{"in every", c.Every})
		marks := t.s.Marks.On(t.in.Edges)
		way := WayOut{Kind: "redo", Title: "Mark and pin again", Redo: []string{"mark.{edge}.ends"}, First: &First{Deeds: 3},
			Acts: []string{"Unpick its seam from dot to dot.", "Press the band and the center's edge flat.",
				fmt.Sprintf("Mark %s each way from the band's middle.", marks.ToEnd.Exactly())},
			Then: []string{"Pin middles and ends, then halve between the pins.", "Sew from dot to dot, and backstitch at both.",
				"Look at both ends: the last stitch lies in the dot."}, Figures: []Named{{"middle to end", marks.ToEnd}}}
		if t.in.Mitered {
			way.Acts = append([]string{"Unpick the miters at both its ends."}, way.Acts...)
		}
		if reach := t.trimmedReach(); t.in.Trimmed && !t.in.First && c.Verdict.Kind == Pulled && reach.Less(c.Off.Length.Half()) {
			a.Say = []string{a.Say[0], fmt.Sprintf("Its tails are trimmed: they reach %s past the dots, and %s more is wanted at each end. It takes a new strip.",
				t.p.Unit.telling(reach).Shown(), t.p.Unit.nearest(c.Off.Length.Half()).Shown())}
			way = t.newStripOn()
		}
		a.Ways = []WayOut{way}
	}
	return a
}

// trimmedReach is how far a tail reaches past the dot along its raw inner edge once it is
// trimmed an allowance from a miter of 45 degrees: √2 allowances from where the miter's line
// meets that edge, which lies one allowance before the dot. Derived; no source.
func (t trouble) trimmedReach() Length {
	return Hypot(t.p.Seam, t.p.Seam).Sub(t.p.Seam)
}

// newStripOn is a new strip in all borders of the edge that was asked about.
func (t trouble) newStripOn() WayOut {
	way := WayOut{Kind: "redo", Title: "A new strip", Figures: []Named{},
		Acts: []string{"Unpick the miters at both its ends.", "Unpick its seam from dot to dot.", "Press the center's edge flat."}}
	for i := range t.p.Borders {
		strip := t.s.strip(i+1, t.in.Edges)
		way.Redo = append(way.Redo, fmt.Sprintf("join.%d.{edge}.measured", i+1), fmt.Sprintf("cut.%d.{edge}.measured", i+1))
		way.Figures = append(way.Figures, Named{strip.Name + ", wide", strip.CutWidth}, Named{strip.Name + ", long", strip.CutLength})
	}
	return way
}

// square judges the bordered top as a center is judged.
func (t trouble) square() Answer {
	l := t.in.Lengths
	top := Measured{
		Widths:    [3]Length{l["top-width-top"], l["top-width-middle"], l["top-width-bottom"]},
		Lengths:   [3]Length{l["top-length-left"], l["top-length-middle"], l["top-length-right"]},
		Diagonals: [2]Length{l["top-diagonal-1"], l["top-diagonal-2"]},
	}
	s := NewSquareUp(top, Size{t.s.Raw.Width.Length, t.s.Raw.Length.Length}, t.lim)
	a := Answer{Kind: s.Shape.Verdict.Kind, Say: s.Shape.Verdict.say(), Figures: []Named{
		{"diagonals apart", t.p.Unit.nearest(top.Diagonals[0].Sub(top.Diagonals[1]).abs())},
		{"may be apart", t.p.Unit.nearest(t.lim.Square(top.Diagonals[0].Add(top.Diagonals[1]).Half()))}}}
	if flat := flatter(flatness(top.Widths, edgesOf(TopBottom), t.p.Unit, t.lim), flatness(top.Lengths, edgesOf(Sides), t.p.Unit, t.lim)); !t.in.Flat && flat.Kind != Missing && flat.Kind != Right {
		a.Say = append(a.Say, flat.say()...)
		if a.Kind == Rectangle {
			a.Kind = flat.Kind
		}
	}
	switch lean := s.Shape.Lean; s.Shape.Verdict.Kind {
	case Leaning:
		a.Figures = append(a.Figures, Named{"leans over its length", lean.OverLength}, Named{"leans over its width", lean.OverWidth})
		a.Ways = []WayOut{{Kind: "block", Title: "Pull it square", Figures: []Named{{"diagonals apart", lean.Apart}},
			Acts: []string{fmt.Sprintf("Lay it flat and pull corners %s apart until the diagonals agree.", lean.short()), "Pin its edges down so.",
				"Steam it from above, the iron held off the pins, and let it cool.", "Measure both diagonals again."}, First: &First{Deeds: 2},
			Redo: []string{"top.diagonals"}}}
	case Trapezoid:
		for _, way := range append(s.Ways(true, t.s.Seam, "top.widths"), s.Ways(false, t.s.Seam, "top.lengths")...) {
			if way.Kind == "trim" {
				way.Acts[0] = "The border is narrower there then, and its miter no longer ends in the corner."
			}
			a.Ways = append(a.Ways, way)
		}
		// What cuts comes last, whichever way across it is for.
		slices.SortStableFunc(a.Ways, func(x, y WayOut) int { return strings.Compare(x.Kind, y.Kind) })
	}
	return a
}
