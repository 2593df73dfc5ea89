package pack

import "math/big"

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
