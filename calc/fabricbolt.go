package calc

import (
	"fmt"
	"math/big"
	"strings"

	"cornerwise/calc/pack"
)

// A bolt is one fabric and the strips to be cut from it, in whole grains.
type bolt struct {
	unit   Unit
	who    string // "ticking" or "ticking and dark line"
	runs   string // "" for both
	join   string
	grain  grain
	usable Length
	room   int64 // the usable width
	even   Length
	washed *big.Rat // what is left of 1 after the wash
	step   int64    // of the stripe, 0 for none
	placed *int64   // where its first usable line lies from the usable edge; nil: not known
	motif  int64    // along the strip, 0 for none
	seams  int64    // two seam allowances
	// printed is how much of the width there is to cut from beyond the first usable line.
	printed int64
	strips  []bolted
	// choices are the equally good centerings of each border with a motif.
	choices []choice
	work    int // for each centering, see pack.Task
	share   int // of the usual work only one part in so many is done; 0: all
}

// bolted is one strip on the bolt.
type bolted struct {
	border        int // from 0
	edges         Edges
	edge          string
	heads         Heads
	along         bool // a one-way print asks that it is cut along the fabric
	width, length int64
	lead          int64 // across the stripe, from where its lane begins to its inner raw edge
	strip         *Strip
	tail          int64 // where a join may begin, from either end
}

type choice struct {
	border int
	among  []Pair[Centering]
}

// maxWork bounds the lanes that are tried for one fabric, so that a page is never
// waited for. Four strips need a few dozen, 48 of a real plan some thousands.
const maxWork = 20000

// maxJoined bounds the search for joined strips: what it has not proved by then, it seldom
// does. Of borders drawn at random one in forty comes near it.
const maxJoined = 6000

// maxCenterings bounds how many ways to center are tried on a shared fabric.
const maxCenterings = 64

func newBolt(p Plan, strips []Strip, matches []Match, borders []int) *bolt {
	b := &bolt{unit: p.Unit}
	first := p.Borders[borders[0]].Fabric
	b.usable, b.even, b.join, b.runs = first.UsableWidth, first.Even, first.Join, first.Runs
	measures := []Length{p.Seam, p.Center.Width, p.Center.Length, p.Limits.Clear}
	var names []string
	for _, i := range borders {
		c := p.Borders[i].Fabric
		names = append(names, p.Borders[i].Name)
		if c.First != nil {
			measures = append(measures, *c.First)
		}
		measures = append(measures, c.UsableWidth, p.Borders[i].Stripe, p.Borders[i].Motif, p.Borders[i].Start)
		b.gather(c)
	}
	b.who = strings.Join(names, " and ")
	for _, i := range borders {
		for k := range strips {
			if strips[k].Border == i+1 {
				measures = append(measures, strips[k].CutWidth.Length, strips[k].CutLength.Length)
			}
		}
	}
	b.grain = newGrain(measures)
	b.room, b.seams = b.grain.down(b.usable), b.grain.up(p.Seam.Times(2))
	b.place(p, borders)
	for _, i := range borders {
		b.step = both(b.step, b.grain.up(p.Borders[i].Stripe))
		b.motif = both(b.motif, b.grain.up(p.Borders[i].Motif))
		for k := range strips {
			s := &strips[k]
			if s.Border != i+1 {
				continue
			}
			for _, edge := range edgesOf(s.Edges) {
				x := bolted{border: i, edges: s.Edges, edge: edge, width: b.grain.up(s.CutWidth.Length), length: b.grain.up(s.CutLength.Length), strip: s}
				x.heads = p.Borders[i].Fabric.Heads
				x.along = x.heads.AlongOn(s.Edges)
				x.tail = b.grain.over(s.clear(p))
				if x.lead = b.grain.up(lead(p, borders, i)); x.lead > 0 {
					// Counted from the edge, its line may be that of a repeat farther on: see lead.
					x.width += x.lead + b.grain.up(p.Borders[i].Stripe)
				}
				b.strips = append(b.strips, x)
			}
		}
		for _, m := range matches {
			if m.Border == i+1 {
				c := choice{i, m.best()}
				if len(c.among) == 0 { // no match to be had: as one would by habit
					c.among = []Pair[Centering]{{OnMotif, OnMotif}}
				}
				b.choices = append(b.choices, c)
			}
		}
	}
	return b
}

// lead is how far beyond the line of the first striped border of one fabric that of border i
// lies: 0 where they start on the same line. Which of the two comes first from the cut edge
// depends on where the stripe begins there, and so a strip may lie a whole repeat farther on
// than it is laid.
func lead(p Plan, borders []int, i int) Length {
	repeat := p.Borders[i].Stripe
	if repeat.Sign() == 0 {
		return Length{}
	}
	for _, k := range borders {
		if first := p.Borders[k]; first.Stripe.Sign() > 0 {
			off := p.Borders[i].Start.Sub(first.Start)
			for off.Sign() < 0 {
				off = off.Add(repeat)
			}
			return off
		}
	}
	return Length{}
}

// place settles where the stripe lies on the fabric, where every border that is cut from it says so:
// then no repeat is set aside for not knowing. Printed so many times, it has that many repeats to
// cut from, wherever the first begins.
func (b *bolt) place(p Plan, borders []int) {
	var first, room Length
	for n, i := range borders {
		c := p.Borders[i].Fabric
		if c.Across == 0 && c.First == nil {
			return
		}
		from, to := Length{}, c.UsableWidth
		if c.First != nil {
			from = *c.First
		}
		if repeats := from.Add(p.Borders[i].Stripe.Times(int64(c.Across))); c.Across > 0 && repeats.Less(to) {
			to = repeats
		}
		if first.Less(from) {
			first = from
		}
		if n == 0 || to.Less(room) {
			room = to
		}
	}
	at := b.grain.up(first)
	b.placed = &at
	b.printed = b.grain.down(room) - at
}

// gather takes the worst of what the borders say of their one fabric.
func (b *bolt) gather(c Fabric) {
	if c.UsableWidth.Less(b.usable) {
		b.usable = c.UsableWidth
	}
	if b.even.Less(c.Even) {
		b.even = c.Even
	}
	if c.Runs != b.runs {
		b.runs = ""
	}
	if c.Join == "none" || c.Join == "diagonal" && b.join != "none" {
		b.join = c.Join
	}
	if left := c.washed(); b.washed == nil || left.Cmp(b.washed) < 0 {
		b.washed = left
	}
}

// washed is what is left of 1 after the wash.
func (c Fabric) washed() *big.Rat {
	shrink, ok := new(big.Rat).SetString(c.Shrink)
	if !ok { // ParsePlan lets nothing else through
		shrink = new(big.Rat)
	}
	return new(big.Rat).Sub(big.NewRat(1, 1), shrink.Mul(shrink, big.NewRat(1, 100)))
}

func edgesOf(e Edges) []string {
	if e == TopBottom {
		return []string{"top", "bottom"}
	}
	return []string{"left", "right"}
}

// both is the least repeat that is a whole number of either: borders that name two
// repeats of one fabric begin together that often.
func both(a, b int64) int64 {
	if a == 0 || b == 0 {
		return max(a, b)
	}
	g, r := a, b
	for r != 0 {
		g, r = r, g%r
	}
	if a/g > beyondRepeats/b {
		return beyondRepeats
	}
	return a / g * b
}

// beyondRepeats is more grains than any repeat that may be entered has.
const beyondRepeats = int64(1) << 54

// clash tells whether borders name repeats of their one fabric that fall together
// so seldom that there is no sense in waiting for it.
func (b *bolt) clash() bool {
	widest := b.grain.up(maxWidth)
	return b.step > widest || b.motif > widest
}

// needs is how long the fabric must be before it is washed and its ends squared.
func (b *bolt) needs(length Length) Length {
	return Length{new(big.Rat).Quo(length.Add(b.even).rat(), b.washed)}
}

// centerings are all joint choices, each a map from border to centering; false
// when there are so many that some are left out. Motifs and gaps may be
// swapped without a change to the layout, so the first border's sides may be on a motif.
func (b *bolt) centerings() (all []map[int]Pair[Centering], whole bool) {
	whole = true
	all = []map[int]Pair[Centering]{{}}
	for i, c := range b.choices {
		if i == 0 && len(c.among) > 1 {
			c.among = onMotif(c.among)
		}
		if len(all)*len(c.among) > maxCenterings {
			c.among, whole = c.among[:1], false
		}
		var next []map[int]Pair[Centering]
		for _, m := range all {
			for _, x := range c.among {
				n := map[int]Pair[Centering]{c.border: x}
				for k, v := range m {
					n[k] = v
				}
				next = append(next, n)
			}
		}
		all = next
	}
	return all, whole
}

// onMotif are those with the sides on a motif. Each of the others is one of these
// with motifs and gaps swapped, and matches as well.
func onMotif(among []Pair[Centering]) []Pair[Centering] {
	var list []Pair[Centering]
	for _, c := range among {
		if c.Sides == OnMotif {
			list = append(list, c)
		}
	}
	return list
}

// task is the strips as they are to be packed under this centering.
func (b *bolt) task(centering map[int]Pair[Centering]) pack.Task {
	t := pack.Task{Step: b.step, Motif: b.motif, Work: b.work}
	for _, s := range b.strips {
		gap := centering[s.border].On(s.edges) == OnGap
		t.Strips = append(t.Strips, pack.Strip{Width: s.width, Length: s.length, Gap: gap, Tail: s.tail})
	}
	return t
}

func (b *bolt) shown(n int64) string { return Figure{b.grain.length(n), b.unit, LeastUp}.Shown() }

func (b *bolt) usableShown() string { return Figure{b.usable, b.unit, Nearest}.Shown() }

func refused(format string, args ...any) *Way {
	return &Way{Why: fmt.Sprintf(format, args...), Layout: []Piece{}, proved: true}
}
