package pack

import "slices"

// One fabric has one print: where it lies is the phase of all lanes. It is not known before
// the fabric is there, so a whole motif is set aside before the first strip of each lane,
// and what lies in a lane begins up to a motif in, wherever its print comes.

// onPrint slides strips and parts toward the start of their lanes, each by less than a motif,
// until all lie on one print: that of the part that reaches farthest, which stays. A strip
// has its own phase at its middle; a part of one, where it begins in its strip, so that the
// print goes on over the join. Strips of one lane have one phase, and slide alike.
func (p *packer) onPrint(strips []Strip, l *Layout, loss func(width int64) int64) {
	if p.motif == 0 {
		return
	}
	begins := beginnings(l.Parts, loss)
	phase := func(i int) int64 {
		x := l.Parts[i]
		s := strips[x.Strip]
		at := x.Along - begins[i] + s.Length/2
		if s.Gap {
			at += p.motif / 2
		}
		return at
	}
	far := 0
	for i, x := range l.Parts {
		if x.Along+x.Length > l.Parts[far].Along+l.Parts[far].Length {
			far = i
		}
	}
	fixed := phase(far)
	for i := range l.Parts {
		off := (phase(i) - fixed) % p.motif
		if off < 0 {
			off += p.motif
		}
		l.Parts[i].Along -= off
	}
}

// beginnings are where the parts begin in their strips: each where the one before it ends,
// less what their join takes.
func beginnings(parts []Part, loss func(width int64) int64) []int64 {
	at := make([]int64, len(parts))
	order := make([]int, len(parts))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if parts[a].Strip != parts[b].Strip {
			return parts[a].Strip - parts[b].Strip
		}
		return parts[a].Number - parts[b].Number
	})
	for n := 1; n < len(order); n++ {
		a, b := order[n-1], order[n]
		if parts[a].Strip == parts[b].Strip {
			at[b] = at[a] + parts[a].Length - loss(parts[a].Width)
		}
	}
	return at
}
