package pack

// The order of strips in a lane matters only with a print along it: the middles
// of two neighbors lie a whole number of motifs apart, half a motif more where
// one lies on a motif and the other on a gap, and not closer than half of each.

// A run is the best order of some strips behind a given one: its length from that
// one's middle to the end of the last, and the lot that comes next.
type run struct {
	length int64
	next   int
}

// lengthOf is how long a lane with these strips is, from the edge of the fabric.
func (p *packer) lengthOf(counts []int) int64 {
	if p.motif == 0 {
		var sum int64
		for i, n := range counts {
			sum += int64(n) * p.lots[i].length
		}
		return sum
	}
	return p.motif + p.behind(-1, append([]int(nil), counts...)).length
}

// lengthWith is the length with one more of lot k than counts, which is so long
// now; lengthWithout is the length of counts, which was so long with one more.
// Without a print there is nothing to search.
func (p *packer) lengthWith(counts []int, k int, now int64) int64 {
	if p.motif == 0 {
		return now + p.lots[k].length
	}
	counts[k]++
	defer func() { counts[k]-- }()
	return p.lengthOf(counts)
}

func (p *packer) lengthWithout(counts []int, k int, was int64) int64 {
	if p.motif == 0 {
		return was - p.lots[k].length
	}
	return p.lengthOf(counts)
}

// apart is how far the middles of neighbors of these lots are.
func (p *packer) apart(i, j int) int64 {
	a, b := p.lots[i], p.lots[j]
	touch := (a.length + b.length) / 2
	var phase int64
	if a.gap != b.gap {
		phase = p.motif / 2
	}
	if touch <= phase {
		return phase
	}
	return phase + (touch-phase+p.motif-1)/p.motif*p.motif
}

// maxRuns is how many runs are remembered: more is memory that one plan must not take.
const maxRuns = 200000

// behind is the best run of the strips in counts behind one of lot last; behind
// none (-1) it counts from the start of the first.
func (p *packer) behind(last int, counts []int) run {
	key := string(rune(last+1)) + countsKey(counts)
	if r, ok := p.runs[key]; ok {
		return r
	}
	best := run{next: -1}
	if last >= 0 {
		best.length = p.lots[last].length / 2
	}
	only := p.nearest(last, counts)
	for k := range counts {
		if counts[k] == 0 || only >= 0 && k != only {
			continue
		}
		counts[k]--
		length := p.lots[k].length / 2
		if last >= 0 {
			length = p.apart(last, k)
		}
		length += p.behind(k, counts).length
		counts[k]++
		if best.next < 0 || length < best.length {
			best = run{length, k}
		}
	}
	if p.runs == nil || len(p.runs) >= maxRuns {
		p.runs = map[string]run{}
	}
	p.runs[key] = best
	return best
}

// maxOrdered is of how many lots every order is tried. There are twice as many runs for each
// lot more.
const maxOrdered = 4

// nearest is the lot that comes next where there are too many to try them all: the one that
// lies nearest; -1 where there are not.
func (p *packer) nearest(last int, counts []int) int {
	lots, next := 0, -1
	for k := range counts {
		if counts[k] == 0 {
			continue
		}
		if lots++; last >= 0 && (next < 0 || p.apart(last, k)-p.lots[k].length < p.apart(last, next)-p.lots[next].length) || next < 0 {
			next = k
		}
	}
	if lots <= maxOrdered {
		return -1
	}
	p.missed = true
	return next
}

// order is the lane's strips one after the other, each by its lot and where it
// starts. Without a print the lots follow each other as they are.
func (p *packer) order(l lane) (lots []int, starts []int64) {
	counts := append([]int(nil), l.counts...)
	if p.motif == 0 {
		var at int64
		for i, n := range counts {
			for ; n > 0; n-- {
				lots, starts = append(lots, i), append(starts, at)
				at += p.lots[i].length
			}
		}
		return lots, starts
	}
	middle := p.motif
	for last := -1; ; {
		k := p.behind(last, counts).next
		if k < 0 {
			return lots, starts
		}
		if last < 0 {
			middle += p.lots[k].length / 2
		} else {
			middle += p.apart(last, k)
		}
		counts[k]--
		lots, starts, last = append(lots, k), append(starts, middle-p.lots[k].length/2), k
	}
}
