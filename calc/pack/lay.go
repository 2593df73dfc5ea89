package pack

// lay puts the lanes side by side in the order in which they are cut, one last that gains
// most by it. The length of the layout is that of the lanes, or, where 0 is given, what they
// take across.
func (p *packer) lay(strips []Strip, lanes []lane, length int64) *Layout {
	gain := func(l lane) int64 { return p.pitch(l.width) - l.width }
	most := int64(0)
	for _, l := range lanes {
		most = max(most, gain(l))
	}
	// Strips are handed out in the order of the search, widest first.
	next := make([]int, len(p.lots))
	parts, last := make([][]Part, len(lanes)), make([]bool, len(lanes))
	for i, l := range lanes {
		last[i] = gain(l) == most
		lots, along := p.order(l)
		for n, k := range lots {
			x := p.lots[k]
			parts[i] = append(parts[i], Part{x.strips[next[k]], 0, along[n], x.widths[next[k]], x.length, 0})
			next[k]++
		}
	}
	rank := func() [][]int {
		ranks := make([][]int, len(lanes))
		for i := range parts {
			for _, x := range parts[i] {
				ranks[i] = append(ranks[i], x.Strip)
			}
		}
		return ranks
	}
	order := fewestBacks(rank(), last)
	alike(strips, parts, order)
	order = fewestBacks(rank(), last)
	alike(strips, parts, order)
	out := &Layout{Length: length}
	at := p.step
	for n, i := range order {
		for _, x := range parts[i] {
			x.Lane = at
			out.Parts = append(out.Parts, x)
		}
		if n == len(order)-1 && length == 0 {
			out.Length = at + lanes[i].width
		}
		at += p.pitch(lanes[i].width)
	}
	p.onPrint(strips, out, nil)
	return out
}

// alike hands strips that are alike out anew, the first cut to the lane that comes first.
func alike(strips []Strip, parts [][]Part, order []int) {
	have := map[Strip][]int{}
	for i, s := range strips {
		have[s] = append(have[s], i)
	}
	for _, i := range order {
		for k := range parts[i] {
			s := strips[parts[i][k].Strip]
			parts[i][k].Strip = have[s][0]
			have[s] = have[s][1:]
		}
	}
}
