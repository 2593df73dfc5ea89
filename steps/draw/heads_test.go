package draw_test

import (
	"strings"
	"testing"
)

// A layout of a one-way print has an arrow the way that its heads point, and each piece's chalk
// line along the side of it that goes to the center.
func TestALayoutShowsWhereTheHeadsPoint(t *testing.T) {
	directed := 0
	for name, l := range layouts(t) {
		svg := l.q.Layout(l.way, l.lengthwise)
		label, marks := read(t, svg)
		if l.way.Heads == "" {
			if strings.Contains(svg, ">heads<") || strings.Contains(label, "heads") {
				t.Errorf("%s: shows heads, and its print has none", name)
			}
			continue
		}
		directed++
		tips, piece := 0, 0
		var outline mark // of the piece whose chalk line comes next
		for _, m := range marks {
			switch {
			case m.class == "tip arrow":
				tips++
				// The tip is the first place, the two barbs lie behind it.
				if up := m.places[0][1] < m.places[1][1]; up != (l.way.Heads == "start") {
					t.Errorf("%s: the arrow points up = %t, heads to the %s", name, up, l.way.Heads)
				}
			case m.class == "raw":
				outline = m
			case m.class == "inneredge" && piece < len(l.way.Layout):
				x := l.way.Layout[piece]
				off := [2]float64{middle(m)[0] - middle(outline)[0], middle(m)[1] - middle(outline)[1]}
				side := map[string]float64{"left": -off[0], "right": off[0], "top": -off[1], "bottom": off[1]}
				if side[x.Inner] < 2 {
					t.Errorf("%s: the chalk line of the %s strip lies %.1f to the %s of its middle", name, x.Edge, side[x.Inner], x.Inner)
				}
				piece++
			}
		}
		if tips != 2 || piece != len(l.way.Layout) || !strings.Contains(label, "heads of its print") {
			t.Errorf("%s: %d arrows, with that of the legend, %d pieces; %q", name, tips, piece, label)
		}
	}
	if directed != 4 {
		t.Errorf("%d layouts of one-way prints; want 4", directed)
	}
}

// middle is the middle of what a mark reaches over.
func middle(m mark) [2]float64 {
	low, high := m.places[0], m.places[0]
	for _, p := range m.places {
		for i := range p {
			low[i], high[i] = min(low[i], p[i]), max(high[i], p[i])
		}
	}
	return [2]float64{(low[0] + high[0]) / 2, (low[1] + high[1]) / 2}
}
