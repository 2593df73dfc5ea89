package pack

// lay puts the lanes side by side, the one last that gains most by it. The length
// of the layout is that of the lanes, or, where 0 is given, what they take across.
func (p *packer) lay(lanes []lane, length int64) *Layout {
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
	out := &Layout{Length: length}
	if length == 0 {
		out.Length = at + lanes[last].width
	}
	// Strips are handed out in the order of the search, widest first.
	next := make([]int, len(p.lots))
	for i, l := range lanes {
		lots, along := p.order(l)
		for n, k := range lots {
			x := p.lots[k]
			out.Parts = append(out.Parts, Part{x.strips[next[k]], starts[i], along[n], x.widths[next[k]], x.length, 0})
			next[k]++
		}
	}
	return out
}
