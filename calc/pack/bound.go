package pack

import "sort"

// A threshold is a pitch that some lane may have, and the next lower one. Every
// lane at least that wide is counted once for each threshold that it reaches, so
// the total width is at least the sum over thresholds of what they rise by, times
// how many lanes the strips that need such a lane fill.
type threshold struct {
	pitch, rise int64
	many        []int // of each lot, how many strips reach it: its first ones
}

func (p *packer) thresholds() []threshold {
	var list []threshold
	have := map[int64]bool{}
	p.slack = 0
	for _, l := range p.lots {
		for _, w := range l.widths {
			q := p.pitch(w)
			p.slack = max(p.slack, q-w)
			if !have[q] {
				have[q] = true
				list = append(list, threshold{pitch: q})
			}
		}
	}
	sort.Slice(list, func(i, j int) bool { return list[i].pitch > list[j].pitch })
	for i := range list {
		t := &list[i]
		t.rise = t.pitch
		if i+1 < len(list) {
			t.rise -= list[i+1].pitch
		}
		t.many = make([]int, len(p.lots))
		for k, l := range p.lots {
			t.many[k] = sort.Search(len(l.widths), func(n int) bool { return p.pitch(l.widths[n]) < t.pitch })
		}
	}
	return list
}

// under is a total width that no way to go on from here gets below.
func (p *packer) under(left []int, room, sum int64) int64 {
	need := make([]int, len(left))
	for _, t := range p.floor {
		for i, l := range p.lots {
			need[i] = max(0, t.many[i]-len(l.widths)+left[i])
		}
		sum += t.rise * fewest(p.lots, need, room-p.motif)
	}
	return p.across(sum, p.slack)
}

// fewest is a number of lanes that these strips can't do with less of: the
// greatest of the bounds L2 of Martello and Toth over every length a that splits
// them. Strips longer than room − a lie alone among those of at least a; those
// longer than half the room have a lane each; the rest, down to a, fills what
// these leave and then more lanes. Lots are in order of length, longest first.
func fewest(lots []lot, need []int, room int64) int64 {
	var best int64
	for split := range lots {
		if need[split] == 0 && split != len(lots)-1 {
			continue
		}
		a := lots[split].length
		if 2*a > room {
			a = 0 // every length counts below
		}
		var alone, half, free, rest int64
		for i, l := range lots {
			n := int64(need[i])
			switch {
			case l.length > room-a && 2*l.length > room:
				alone += n
			case 2*l.length > room:
				half += n
				free += n * (room - l.length)
			case l.length >= a:
				rest += n * l.length
			}
		}
		lanes := alone + half
		if rest > free {
			lanes += (rest - free + room - 1) / room
		}
		best = max(best, lanes)
	}
	return best
}
