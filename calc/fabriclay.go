package calc

import (
	"sort"

	"cornerwise/calc/pack"
)

// lengthwise lays the strips in columns along the selvage and finds the least
// height of the tallest whose columns' widths still go into the usable width.
func (b *bolt) lengthwise() *Way {
	var widest int64
	for _, s := range b.strips {
		widest = max(widest, s.width)
	}
	room := b.room
	if b.placed != nil { // the step that is set aside for not knowing is there besides
		room = b.printed + b.step
	}
	if b.step+widest > room {
		if b.step == 0 || b.placed != nil {
			return refused("The strips of %s are up to %s wide, and the fabric has only %s to cut from across its width. Take a wider fabric, or a narrower border.",
				b.who, b.shown(widest), b.usableShown())
		}
		return refused("The strips of %s are up to %s wide, and the stripe's line may lie up to %s in; together that is more than the %s that the fabric has across its width. Take a wider fabric, or a narrower border.",
			b.who, b.shown(widest), b.shown(b.step), b.usableShown())
	}
	b.work = maxWork / max(b.share, 1)
	all, whole := b.centerings()
	return b.over(all, whole, func(t pack.Task) (*pack.Layout, bool) { return t.Columns(room) }, true)
}

// crosswise lays the strips in rows across the fabric, a row as high as its widest
// strip, and finds the least height of all rows. It is lengthwise turned by a
// quarter: a stripe runs across the strips whichever way they are cut, so with one
// the rows start on its multiples, and motifs run along the rows. Strips are joined, as
// the plan says, where they are too long for one row or where that saves fabric.
func (b *bolt) crosswise() *Way {
	if b.placed != nil {
		return refused("The stripe of %s is printed along the fabric, across its width, so strips across would cut it. Cut them lengthwise.", b.who)
	}
	var longest int64
	for _, s := range b.strips {
		longest = max(longest, s.length)
	}
	if b.motif+longest > b.room {
		if b.join == "none" {
			return b.tooLong(longest)
		}
		return b.joined()
	}
	b.work = maxWork / max(b.share, 1)
	all, whole := b.centerings()
	way := b.over(all, whole, func(t pack.Task) (*pack.Layout, bool) { return t.Rows(b.room) }, false)
	if b.join != "none" {
		if joined := b.joined(); joined.Fits && joined.Length.Length.Less(way.Length.Length) {
			return joined
		}
	}
	return way
}

// tooLong refuses strips across that are too long for a row and may not be joined.
func (b *bolt) tooLong(longest int64) *Way {
	motif, mend := "", "Cut them lengthwise, or join them."
	if b.motif > 0 {
		motif = ", the print's middle may lie up to " + b.shown(b.motif) + " further in,"
	}
	if b.strips[0].heads != "" {
		mend = "Join them, or take a wider fabric: the way its heads point, they can't be cut lengthwise."
	}
	return refused("The strips of %s are up to %s long%s and the fabric has only %s across its width. %s",
		b.who, b.shown(longest), motif, b.usableShown(), mend)
}

// usedUp refuses strips across that can't be joined.
func (b *bolt) usedUp() *Way {
	mend := "Take a wider fabric, or cut lengthwise."
	if b.strips[0].heads != "" {
		mend = "Take a wider fabric."
	}
	return refused("The strips of %s can't be joined from this fabric: so much of a row of %s across is used up by the joins that a strip would have more than %d parts. %s",
		b.who, b.usableShown(), pack.MaxParts, mend)
}

// joined is crosswise with joins. Where the middles of a print lie makes no difference:
// the print is met at each join.
func (b *bolt) joined() *Way {
	b.work = maxJoined / max(b.share, 1)
	all, _ := b.centerings()
	return b.over(all[:1], true, func(t pack.Task) (*pack.Layout, bool) { return t.Joined(b.room, b.loss) }, false)
}

// loss is what a join takes of a strip so wide.
func (b *bolt) loss(width int64) int64 {
	if b.join == "diagonal" {
		for _, s := range b.strips {
			if s.width == width { // a lane may be wider than what is cut in it
				return b.grain.up(s.strip.CutWidth.Length)
			}
		}
		return width
	}
	return b.seams
}

// over tries these centerings, of which some may be left out, and settles on the shortest.
func (b *bolt) over(all []map[int]Pair[Centering], proved bool, lay func(pack.Task) (*pack.Layout, bool), along bool) *Way {
	var best *pack.Layout
	var first Pair[Centering]
	b.work /= len(all)
	for _, c := range all {
		l, sure := lay(b.task(c))
		proved = proved && sure
		if l != nil && (best == nil || l.Length < best.Length) {
			best = l
			if len(b.choices) > 0 {
				first = c[b.choices[0].border]
			}
		}
	}
	if best == nil {
		return b.usedUp()
	}
	w := b.way(best.Length, proved)
	w.Layout, w.along = b.laid(best.Parts, nil, along), along
	b.joinedAs(w)
	if len(b.choices) > 0 {
		w.Centering = &first
	}
	return w
}

// way is a layout so long, without its pieces.
func (b *bolt) way(long int64, proved bool) *Way {
	length := b.grain.length(long)
	needs := b.needs(length)
	return &Way{
		Fits:   true,
		Length: &Figure{length, b.unit, LeastUp},
		Buy:    &Figure{needs.Round(b.unit, FabricUp), b.unit, FabricUp},
		needs:  needs,
		proved: proved,
	}
}

// joinedAs says how parts become strips, where there are any.
func (b *bolt) joinedAs(w *Way) {
	for _, piece := range w.Layout {
		if piece.Part > 0 {
			w.Join = b.join
		}
	}
}

// laid are the parts as they lie on the fabric, lane by lane; of names the strips that they are
// numbered by, where those are not all.
func (b *bolt) laid(parts []pack.Part, of []int, along bool) []Piece {
	sort.SliceStable(parts, func(i, j int) bool {
		x, y := parts[i], parts[j]
		return x.Lane < y.Lane || x.Lane == y.Lane && x.Along < y.Along
	})
	out := make([]Piece, len(parts))
	for i, x := range parts {
		n := x.Strip
		if of != nil {
			n = of[n]
		}
		s := b.strips[n]
		at := x.Lane + s.lead
		if b.placed != nil {
			at += *b.placed - b.step
		}
		lane := Figure{b.grain.length(at), b.unit, Nearest}
		start := Figure{b.grain.length(x.Along), b.unit, Nearest}
		length := s.strip.CutLength
		if x.Number > 0 {
			length.Length = b.grain.length(x.Length)
		}
		out[i] = Piece{X: lane, Y: start, Width: s.strip.CutWidth, Length: length, Edge: s.edge, Border: s.border + 1, Part: x.Number}
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
