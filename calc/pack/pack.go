// Package pack lays strips on fabric so that they take the least of it. Strips lie in
// lanes, which are columns along the selvage or rows across the fabric: a lane is as wide
// as its widest strip and holds strips end to end, and the lanes lie side by side. Or
// strips are joined from parts that lie in rows (joined.go), or some lie in columns and the
// others in rows, on one length (mixed.go).
//
// All numbers are whole, in a grain that the caller chooses, and nothing is rounded.
// Every length of a strip and every motif is even, so that its half is whole too.
//
// The search is exact. It leaves out what can't become shorter, by the bound L2 of Martello
// and Toth (bound.go), and tells whether it has proved that no layout is shorter. When its
// budget (Task.Work) is used up it gives the shortest layout found, which is enough, without
// that proof. TestPackingReachesTheKnownOptima has published optima,
// TestPackingAgreesWithGlpsol another solver, and TestLanesAreTheLeastOfAll and
// TestJoinedStripsAreTheBestOfAll every arrangement of a few strips, as have
// TestStripsBothWaysAreTheLeastOfAll and TestJoinedStripsBothWaysAreTheLeastOfAll.
package pack

import (
	"math"
	"sort"
)

// A Task is the strips to be laid, and what the print of the fabric asks for.
type Task struct {
	Strips []Strip
	// Step is the repeat of a stripe: lanes start on whole steps, the first one step in.
	// 0: anywhere.
	Step int64
	// Motif is the repeat of a print along the strips: all middles of a layout lie whole
	// motifs apart, half a motif more between a motif and a gap, and the first strip of a
	// lane starts up to one motif in. 0: anywhere.
	Motif int64
	// Work is how many lanes, or places of parts, may be tried. A layout is found
	// whatever it is; with too little of it that is not known to be the least.
	Work int
}

// A Strip is one strip to be laid.
type Strip struct {
	Width, Length int64
	Gap           bool // its middle lies between two motifs, not on one
	// Tail is how far from either end no join may reach, where strips are joined.
	Tail int64
}

// A Layout is where the strips lie.
type Layout struct {
	Length int64 // of the fabric
	Parts  []Part
}

// A Part is a strip, or a part of a joined one, in its lane.
type Part struct {
	Strip         int   // which of the task's
	Lane, Along   int64 // where it starts: across the lanes, and along them
	Width, Length int64
	Number        int // from 1 where the strip is joined, else 0
}

// Columns lays the strips in columns that together are at most so wide, and finds the
// least height of the tallest. It is nil where the widest strip alone is too wide. The
// second result tells whether no layout is shorter.
func (t Task) Columns(width int64) (*Layout, bool) {
	p := t.packer()
	for _, l := range p.lots {
		if p.across(l.widths[0], 0) > width {
			return nil, true
		}
	}
	lanes, length, proved := p.shortest(width)
	if spans := p.inOrder(t.Strips, length, width); spans != nil {
		return p.laySpans(t.Strips, spans, length), proved
	}
	return p.lay(t.Strips, lanes, length), proved
}

// Rows lays the strips in rows of at most this room, and finds the least height of all
// rows. It is nil where the longest strip does not go into a row. The second result
// tells whether no layout is shorter.
func (t Task) Rows(room int64) (*Layout, bool) {
	p := t.packer()
	lanes, proved := p.least(room, math.MaxInt64/4)
	if lanes == nil {
		return nil, proved
	}
	layout := p.lay(t.Strips, lanes, 0)
	if spans := p.inOrder(t.Strips, room, layout.Length); spans != nil {
		return p.laySpans(t.Strips, spans, 0), proved
	}
	return layout, proved
}

// packer sorts the strips into lots.
func (t Task) packer() *packer {
	p := &packer{step: t.Step, motif: t.Motif, work: t.Work}
	order := make([]int, len(t.Strips))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := t.Strips[order[i]], t.Strips[order[j]]
		switch {
		case a.Length != b.Length:
			return a.Length > b.Length
		case a.Gap != b.Gap:
			return b.Gap
		}
		return a.Width > b.Width
	})
	for _, i := range order {
		s := t.Strips[i]
		n := len(p.lots)
		if n == 0 || p.lots[n-1].length != s.Length || p.lots[n-1].gap != s.Gap {
			p.lots = append(p.lots, lot{length: s.Length, gap: s.Gap})
			n++
		}
		l := &p.lots[n-1]
		l.widths, l.strips = append(l.widths, s.Width), append(l.strips, i)
	}
	return p
}
