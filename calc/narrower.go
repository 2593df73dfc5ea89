package calc

import (
	"fmt"
	"slices"
)

var allEdges = []Edges{Sides, TopBottom}

// narrower is the widest cut width of the border at which the strip as cut still covers its
// miters and no other strip as planned falls short: of all four where they are cut alike,
// else of the one pair that keeps the border wider. It goes down the ruler's lines, 1/8 in
// or 1 mm. Until the second edition it was always all four.
func narrower(p Plan, s Sheet, c CutStrip, lim Limits) (WayOut, bool) {
	all, ok := narrowerOn(allEdges, p, s, c, lim)
	if b := p.Borders[c.Border-1]; b.Cut.Equal(b.CutTopBottom) {
		return all, ok
	}
	w, found := WayOut{}, false
	for _, e := range []Edges{c.Edges.Neighbor(), c.Edges} { // a strip crosses its neighbor's band
		if e != c.Edges && c.Width.Sign() > 0 && c.Width.Less(p.Borders[c.Border-1].CutOn(c.Edges)) {
			continue // its own pair must be trimmed to it anyway
		}
		x, ok := narrowerOn([]Edges{e}, p, s, c, lim)
		if ok && (!found || w.leaves(p).Less(x.leaves(p))) {
			w, found = x, true
		}
	}
	if !found {
		return all, ok
	}
	if ok {
		w.First = &First{Change: all.Change}
	}
	return w, true
}

// leaves is what a way out leaves of the plan's widths, added up.
func (w WayOut) leaves(p Plan) Length {
	b := w.Change.Apply(p).Borders[w.Change.Border-1]
	return b.Cut.Add(b.CutTopBottom)
}

// narrowerOn is the way out that makes the strips on these edges narrower.
func narrowerOn(edges []Edges, p Plan, s Sheet, c CutStrip, lim Limits) (WayOut, bool) {
	b := p.Borders[c.Border-1]
	from := lesser(b.Cut, b.CutTopBottom)
	if len(edges) == 1 {
		from = b.CutOn(edges[0])
	}
	if c.Width.Sign() > 0 && slices.Contains(edges, c.Edges) {
		from = lesser(from, c.Width)
	}
	line := ruled(p.Unit)
	narrowest := p.Seam.Times(2).Add(lim.Narrow)
	for w := from.Sub(from.mod(line)); !w.Less(narrowest); w = w.Sub(line) {
		change := Change{c.Border, edges, p.Unit.nearest(w)}
		q := change.Apply(p)
		if q.covered(s, c) {
			return q.trimmed(p, c, change), true
		}
	}
	return WayOut{}, false
}

// covered tells whether every strip of the sheet, cut for another plan, and this one as
// it is, still covers its miters in this plan.
func (p Plan) covered(s Sheet, c CutStrip) bool {
	bands := Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}
	for _, x := range s.Strips {
		has := x.CutLength.Length
		if x.Border == c.Border && x.Edges == c.Edges {
			has = c.Length
		}
		if has.Less(leastLength(p, bands, x.Border-1, x.Edges)) {
			return false
		}
	}
	return true
}

// trimmed is the way out to this plan, from the one before.
func (p Plan) trimmed(before Plan, c CutStrip, change Change) WayOut {
	bands := Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}
	finished := finishedSize(p)
	fig, name := p.Unit.nearest, p.Borders[c.Border-1].Name
	needs := leastLength(p, bands, c.Border-1, c.Edges)
	acts := []string{
		fmt.Sprintf("Trim %s of %s to %s, off the outer edge.", change.who(), name, change.Cut.Exactly()),
		fmt.Sprintf("The top then finishes at %s x %s.", fig(finished.Width).Shown(), fig(finished.Length).Shown()),
	}
	if before.Borders[c.Border-1].Stripe.Sign() > 0 {
		acts[0] += " The inner seam keeps its line of the stripe."
	}
	return WayOut{
		Kind: "narrower", Title: "A narrower border", Acts: acts, Change: &change,
		Figures: []Named{
			{"cut width", change.Cut},
			{"least length then", Figure{needs, p.Unit, LeastUp}},
			{"to spare at each end", p.Unit.telling(c.Length.Sub(needs).Half())},
			{"finished width of the top", fig(finished.Width)},
			{"finished length of the top", fig(finished.Length)},
		},
	}
}

// who are the strips that a change is of, in words.
func (c Change) who() string {
	switch {
	case len(c.Edges) == 2:
		return "all four strips"
	case c.Edges[0] == Sides:
		return "both side strips"
	}
	return "both top and bottom strips"
}

// trimAll is the way out of a strip cut too narrow: the others follow it. Where all
// four are planned alike they stay so; else only its pair is trimmed.
func trimAll(p Plan, c CutStrip, lim Limits) (WayOut, bool) {
	if c.Width.Less(p.Seam.Times(2).Add(lim.Narrow)) {
		return WayOut{}, false
	}
	b, edges, who := p.Borders[c.Border-1], []Edges{c.Edges}, "the other strip of this pair"
	if b.Cut.Equal(b.CutTopBottom) {
		edges, who = allEdges, "the other three strips"
	}
	change := Change{c.Border, edges, p.Unit.nearest(c.Width)}
	finished := finishedSize(change.Apply(p))
	fig := p.Unit.nearest
	return WayOut{
		Kind: "trim-all", Title: "Trim the others to it", Change: &change,
		Acts: []string{
			fmt.Sprintf("Trim %s of %s to %s too, off the outer edge.", who, b.Name, change.Cut.Exactly()),
			fmt.Sprintf("The top then finishes at %s x %s.", fig(finished.Width).Shown(), fig(finished.Length).Shown()),
		},
		Figures: []Named{
			{"cut width", change.Cut},
			{"finished width of the top", fig(finished.Width)},
			{"finished length of the top", fig(finished.Length)},
		},
	}, true
}

func lesser(a, b Length) Length {
	if b.Less(a) {
		return b
	}
	return a
}
