package calc

import (
	"math"
	"math/big"
	"sort"
)

// lengthwise lays the strips in columns along the selvage and finds the least
// height of the tallest whose columns' widths still go into the usable width.
func (b *bolt) lengthwise() *Way {
	var widest int64
	for _, s := range b.strips {
		widest = max(widest, s.width)
	}
	if b.step+widest > b.room {
		if b.step == 0 {
			return refused("The strips of %s are up to %s wide, and the cloth has only %s to cut from across its width. Take a wider cloth, or a narrower border.",
				b.who, b.shown(widest), b.usableShown())
		}
		return refused("The strips of %s are up to %s wide, and the stripe's line may lie up to %s in; together that is more than the %s that the cloth has across its width. Take a wider cloth, or a narrower border.",
			b.who, b.shown(widest), b.shown(b.step), b.usableShown())
	}
	b.work = maxWork
	return b.over(func(p *packer) (*laid, bool) {
		lanes, length, proved := p.shortest(b.room)
		return p.lay(lanes, length), proved
	}, true)
}

// crosswise lays the strips in rows across the cloth, a row as high as its widest
// strip, and finds the least height of all rows. It is lengthwise turned by a
// quarter: a stripe runs across the strips whichever way they are cut, so with one
// the rows start on its multiples, and motifs run along the rows. Strips too long
// for one row are joined, as the plan says.
func (b *bolt) crosswise() *Way {
	var longest int64
	for _, s := range b.strips {
		longest = max(longest, s.length)
	}
	if b.motif+longest > b.room {
		if b.join == "none" {
			motif := ""
			if b.motif > 0 {
				motif = ", the print's middle may lie up to " + b.shown(b.motif) + " further in,"
			}
			return refused("The strips of %s are up to %s long%s and the cloth has only %s across its width. Cut them lengthwise, or join them.",
				b.who, b.shown(longest), motif, b.usableShown())
		}
		b.work = maxTaped
		return b.over(b.taped, false)
	}
	b.work = maxWork
	return b.over(func(p *packer) (*laid, bool) {
		lanes, proved := p.least(b.room, math.MaxInt64/4)
		return p.lay(lanes, 0), proved
	}, false)
}

// over tries every equally good centering and settles on the shortest.
func (b *bolt) over(lay func(*packer) (*laid, bool), along bool) *Way {
	all, proved := b.centerings()
	var best *laid
	var first Pair[Centering]
	b.work /= len(all)
	for _, c := range all {
		p := b.packer(c)
		l, sure := lay(p)
		proved = proved && sure
		if l != nil && (best == nil || l.length < best.length) {
			best = l
			if len(b.choices) > 0 {
				first = c[b.choices[0].border]
			}
		}
	}
	if best == nil {
		return refused("The strips of %s can't be joined from this cloth: so much of a row of %s across is used up by the joins that a strip would have more than %d parts. Take a wider cloth, or cut lengthwise.", b.who, b.usableShown(), maxParts)
	}
	length := b.grain.length(best.length)
	needs := b.needs(length)
	w := &Way{
		Fits:   true,
		Length: &Figure{length, b.unit, LeastUp},
		Buy:    &Figure{needs.Round(b.unit, ClothUp), b.unit, ClothUp},
		Layout: b.pieces(best, along),
		needs:  needs,
		proved: proved,
	}
	for _, piece := range w.Layout {
		if piece.Part > 0 {
			w.Join = b.join
		}
	}
	if len(b.choices) > 0 {
		w.Centering = &first
	}
	return w
}

// laid is a layout in grains: from the first lane on, and along the lanes.
type laid struct {
	length int64
	parts  []part
}

// A part is a strip or a part of it in its lane.
type part struct {
	strip       int   // of the bolt
	lane, along int64 // where it starts
	width       int64
	length      int64
	number      int // from 1 where the strip is joined, else 0
}

// shortest finds the least room with which the lanes go into the given width.
func (p *packer) shortest(width int64) (lanes []lane, longest int64, proved bool) {
	var low, high int64
	area := new(big.Int)
	for i, l := range p.lots {
		low = max(low, p.lengthOf(alone(len(p.lots), i)))
		for _, w := range l.widths {
			area.Add(area, new(big.Int).Mul(big.NewInt(w), big.NewInt(l.length)))
			high += l.length + p.motif
		}
	}
	high += p.motif
	low = max(low, area.Quo(area, big.NewInt(width)).Int64())
	proved = true
	// Up in growing strides to the first room that does, then halving.
	stride := max(low/32, 1)
	at := low
	for lanes == nil || low < longest {
		if lanes != nil {
			at = low + (longest-low)/2
		}
		before := p.work
		p.work = max(before/4, min(before, 200))
		share := p.work
		found, sure := p.within(at, width)
		p.work = before - (share - max(p.work, 0))
		switch {
		case found != nil:
			lanes, longest = found, p.longest(found)
			continue
		case !sure:
			proved = false
		}
		low = at + 1
		if lanes == nil {
			if at >= high { // every strip in one column goes
				return p.oneLane(), p.longest(p.oneLane()), false
			}
			at, stride = min(at+stride, high), stride*2
		}
	}
	return lanes, longest, proved
}

func (p *packer) longest(lanes []lane) int64 {
	var length int64
	for _, l := range lanes {
		length = max(length, p.lengthOf(l.counts))
	}
	return length
}

func (p *packer) oneLane() []lane {
	l := lane{counts: make([]int, len(p.lots))}
	for i, x := range p.lots {
		l.counts[i] = len(x.widths)
		l.width = max(l.width, x.widths[0])
	}
	return []lane{l}
}

// lay puts the lanes side by side, the one last that gains most by it. The length
// of the layout is that of the lanes, or, where 0 is given, what they take across.
func (p *packer) lay(lanes []lane, length int64) *laid {
	last := 0
	for i, l := range lanes {
		if p.pitch(l.width)-l.width > p.pitch(lanes[last].width)-lanes[last].width {
			last = i
		}
	}
	starts := make([]int64, len(lanes))
	at := p.step
	for i, l := range lanes {
		if i != last {
			starts[i] = at
			at += p.pitch(l.width)
		}
	}
	starts[last] = at
	out := &laid{length: length}
	if length == 0 {
		out.length = at + lanes[last].width
	}
	// Strips are handed out in the order of the search, widest first.
	next := make([]int, len(p.lots))
	for i, l := range lanes {
		lots, along := p.order(l)
		for n, k := range lots {
			x := p.lots[k]
			out.parts = append(out.parts, part{x.strips[next[k]], starts[i], along[n], x.widths[next[k]], x.length, 0})
			next[k]++
		}
	}
	return out
}

// pieces are the parts as they lie on the cloth, lane by lane.
func (b *bolt) pieces(l *laid, along bool) []Piece {
	sort.SliceStable(l.parts, func(i, j int) bool {
		x, y := l.parts[i], l.parts[j]
		return x.lane < y.lane || x.lane == y.lane && x.along < y.along
	})
	out := make([]Piece, len(l.parts))
	for i, x := range l.parts {
		s := b.strips[x.strip]
		lane := Figure{b.grain.length(x.lane), b.unit, Nearest}
		start := Figure{b.grain.length(x.along), b.unit, Nearest}
		length := s.strip.CutLength
		if x.number > 0 {
			length.Length = b.grain.length(x.length)
		}
		out[i] = Piece{X: lane, Y: start, Width: s.strip.CutWidth, Length: length, Edge: s.edge, Border: s.border + 1, Part: x.number}
		if !along {
			out[i].X, out[i].Y, out[i].Width, out[i].Length = start, lane, length, s.strip.CutWidth
		}
	}
	nameInOrder(out)
	return out
}

// nameInOrder gives the two strips of a pair, which are alike, their names in the
// order in which they lie: left, or top, is cut first and so lies first. Strips
// joined of parts have theirs already.
func nameInOrder(pieces []Piece) {
	for i := range pieces {
		for k := range pieces[:i] {
			first, second := &pieces[k], &pieces[i]
			if first.Border != second.Border || first.Part+second.Part > 0 {
				continue
			}
			if first.Edge == "right" && second.Edge == "left" || first.Edge == "bottom" && second.Edge == "top" {
				first.Edge, second.Edge = second.Edge, first.Edge
			}
		}
	}
}
