package calc

import "fmt"

// onWhat is what of the print lies on the middle of strips on these edges: a motif by habit.
func onWhat(s Sheet, c CutStrip) string {
	for _, m := range s.Match {
		centered := m.Centering.Sides
		if c.Edges == TopBottom {
			centered = m.Centering.TopBottom
		}
		if m.Border == c.Border && centered == OnGap {
			return "a gap"
		}
	}
	return "a motif"
}

// joined is a piece added to a strip that is too short, so that it is as long as
// planned, and where the join lies.
//
// Strip and piece together are as long as the whole and what the join takes: two
// allowances, or on the diagonal one cut width, half of it, h, on each side of the
// join's middle. With that x from the middle of a whole of length T, the strip is
// T/2 + x + h long and the piece T/2 − x + h. The join keeps clear of both miters, which
// begin at the dots: where a short piece would put it into one, the strip is cut back
// and the piece is longer. Derived; no source.
func joined(p Plan, s Sheet, c CutStrip, lim Limits) (WayOut, bool) {
	b, strip := p.Borders[c.Border-1], s.strip(c.Border, c.Edges)
	if c.Width.Sign() > 0 && c.Width.Less(strip.CutWidth.Length) && !c.First {
		strip.CutWidth = p.Unit.nearest(c.Width) // the piece is as wide as the strip is
	}
	whole, half := strip.CutLength.Length.Round(p.Unit, CutUp), p.Seam
	if b.Fabric.Join == "diagonal" {
		half = strip.CutWidth.Length.Half()
	}
	out := p.Center.along(c.Edges).Half().Sub(p.Seam).Sub(lim.Clear).Sub(half)
	at := lesser(c.Length.Sub(half).Sub(whole.Half()), out)
	if out.Sign() < 0 || at.Less(Length{}.Sub(out)) {
		return WayOut{}, false
	}
	cutTo := whole.Half().Add(at).Add(half)
	runs := b.Motif // until the print runs on over the join
	if !c.First {
		runs = runs.Times(2) // and until a motif's middle is the whole's
	}
	piece := whole.Half().Sub(at).Add(half).Add(runs).Round(p.Unit, CutUp)
	fig := p.Unit.nearest
	w := WayOut{Kind: "joined", Title: "A joined piece"}
	if off := c.Length.Sub(cutTo); off.Sign() > 0 {
		w.Acts = append(w.Acts, fmt.Sprintf("Cut the strip back by %s first, so that the join stays out of the miter.", fig(off).Shown()))
		w.Figures = append(w.Figures, Named{"cut the strip back by", fig(off)})
	}
	w.Acts = append(w.Acts, fmt.Sprintf("Cut a piece %s wide and %s long.", strip.CutWidth.Exactly(), Figure{piece, p.Unit, CutUp}.Shown()))
	deeds := len(w.Acts) + 2
	switch {
	case b.Motif.Sign() > 0:
		w.Acts = append(w.Acts, "Slide the piece along the strip's end until the print runs on over the join.")
	case b.Stripe.Sign() > 0:
		w.Acts = append(w.Acts, "Lay the piece on the strip's end, line on line of the stripe.")
	}
	if b.Fabric.Join == "diagonal" {
		w.Acts = append(w.Acts, "Lay both right sides together, at right angles to each other.", "Draw from where the edges cross to where they cross again, cutting off the corner where both ends meet.")
	} else {
		w.Acts = append(w.Acts, fmt.Sprintf("Draw the join straight across, %s from the end.", fig(p.Seam).Exactly()))
	}
	w.Acts = append(w.Acts, "Pin both layers beside the line.", "Sew on the line, and backstitch at both ends.")
	if b.Fabric.Join == "diagonal" {
		w.Acts = append(w.Acts, "Look at the join from the front: the strip runs on straight.", fmt.Sprintf("Trim the join's corner off, %s beyond the stitching.", fig(p.Seam).Exactly()))
	}
	w.Acts = append(w.Acts, "Press the join open.")
	if total := (Figure{whole, p.Unit, CutUp}).Shown(); b.Motif.Sign() > 0 && !c.First {
		each := p.Unit.exactly(whole.Half()).Shown()
		w.Acts = append(w.Acts,
			fmt.Sprintf("Mark the middle of %s, %s or a little more from the strip's own end.", onWhat(s, c), each),
			fmt.Sprintf("Mark %s each way from there.", each),
			fmt.Sprintf("Trim the whole to %s, at both marks.", total))
		w.Figures = append(w.Figures, Named{"each way from the middle", p.Unit.exactly(whole.Half())})
	} else {
		w.Acts = append(w.Acts, fmt.Sprintf("Trim the whole to %s and mark its middle anew.", total))
	}
	w.Acts = append(w.Acts,
		fmt.Sprintf("The join then lies %s from the middle.", fig(at.abs()).Shown()))
	w.First = &First{Deeds: deeds}
	w.Figures = append(w.Figures,
		Named{"piece, wide", strip.CutWidth},
		Named{"piece, long", Figure{piece, p.Unit, CutUp}},
		Named{"join from the middle", fig(at.abs())},
		Named{"whole", Figure{whole, p.Unit, CutUp}})
	return w, true
}
