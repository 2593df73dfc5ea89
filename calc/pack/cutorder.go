package pack

import (
	"slices"
	"sort"
)

// Strips are cut in the order of the task. Whoever cuts goes across the fabric once: the lanes
// are laid so that no strip lies in a lane before that of the strip cut before it, wherever
// that takes no more fabric.
//
// Without going back each lane holds strips that follow each other in the order. Whether such
// lanes take as little as the best is found out for all of them (inOrder). Where they do not,
// the best lanes are put into the order with the fewest ways back (fewestBacks).

// A span is the strips from one to before another, in a lane.
type span struct{ from, to int }

// inOrder are spans of all strips with the least total width that is at most limit, each at
// most room long; nil where there are none.
func (p *packer) inOrder(strips []Strip, room, limit int64) []span {
	n := len(strips)
	lot := make([]int, n)
	for k, l := range p.lots {
		for _, i := range l.strips {
			lot[i] = k
		}
	}
	const none = int64(1) << 62
	sum, from := make([]int64, n+1), make([]int, n+1) // of the first so many strips
	for i := range sum {
		sum[i] = none
	}
	sum[0] = p.step
	for i := range n {
		if sum[i] == none {
			continue
		}
		counts := make([]int, len(p.lots))
		wide := int64(0)
		for to := i + 1; to <= n; to++ {
			counts[lot[to-1]]++
			wide = max(wide, strips[to-1].Width)
			if p.lengthOf(counts) > room {
				break
			}
			more := p.pitch(wide)
			if to == n {
				more = wide // the last need not end on a step
			}
			if s := sum[i] + more; s < sum[to] {
				sum[to], from[to] = s, i
			}
		}
	}
	if sum[n] > limit {
		return nil
	}
	var spans []span
	for to := n; to > 0; to = from[to] {
		spans = append(spans, span{from[to], to})
	}
	slices.Reverse(spans)
	return spans
}

// laySpans lays them side by side. The length of the layout is that of the lanes, or, where 0
// is given, what they take across.
func (p *packer) laySpans(strips []Strip, spans []span, length int64) *Layout {
	out := &Layout{Length: length}
	at := p.step
	for _, s := range spans {
		counts := make([]int, len(p.lots))
		mine := make([][]int, len(p.lots))
		wide := int64(0)
		for k, l := range p.lots {
			for i := s.from; i < s.to; i++ {
				if slices.Contains(l.strips, i) {
					counts[k]++
					mine[k] = append(mine[k], i)
				}
			}
		}
		for i := s.from; i < s.to; i++ {
			wide = max(wide, strips[i].Width)
		}
		lots, along := p.order(lane{counts, wide})
		if p.motif == 0 { // any order will do
			lots = lots[:0]
			var end int64
			for i := s.from; i < s.to; i++ {
				along[i-s.from] = end
				end += strips[i].Length
				for k := range mine {
					if slices.Contains(mine[k], i) {
						lots = append(lots, k)
					}
				}
			}
		}
		for n, k := range lots {
			i := mine[k][0]
			mine[k] = mine[k][1:]
			out.Parts = append(out.Parts, Part{i, at, along[n], strips[i].Width, strips[i].Length, 0})
		}
		if length == 0 {
			out.Length = at + wide
		}
		at += p.pitch(wide)
	}
	p.onPrint(strips, out, nil)
	return out
}

// mostLanes is how many lanes are put into every order.
const mostLanes = 5

// changedLanes is how many lanes two of them are changed for each other of; more stay in the
// order of the first that is cut from each.
const changedLanes = 24

// fewestBacks puts lanes, each with its strips and parts in the order in which they are cut
// from it, into an order in which whoever cuts them goes back the fewest times. Lanes that
// may not be last stay before one that may.
func fewestBacks(ranks [][]int, last []bool) []int {
	order := make([]int, len(ranks))
	for i := range order {
		order[i] = i
	}
	first := func(i int) int { return slices.Min(ranks[i]) }
	sort.SliceStable(order, func(a, b int) bool { return first(order[a]) < first(order[b]) })
	if n := len(order); !last[order[n-1]] {
		for k := n - 1; k >= 0; k-- { // the last of those that may
			if last[order[k]] {
				i := order[k]
				order = append(slices.Delete(order, k, k+1), i)
				break
			}
		}
	}
	if len(order) > mostLanes {
		return fewerBacks(ranks, last, order)
	}
	best, least := slices.Clone(order), backs(ranks, order)
	var try func(k int)
	try = func(k int) {
		if least == 0 {
			return
		}
		if k == len(order) {
			if n := backs(ranks, order); last[order[k-1]] && n < least {
				best, least = slices.Clone(order), n
			}
			return
		}
		for i := k; i < len(order); i++ {
			order[k], order[i] = order[i], order[k]
			try(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	try(0)
	return best
}

// fewerBacks changes two lanes for each other as long as that saves ways back.
func fewerBacks(ranks [][]int, last []bool, order []int) []int {
	least := backs(ranks, order)
	for again := len(order) <= changedLanes; again && least > 0; {
		again = false
		for i := range order {
			for k := range i {
				order[i], order[k] = order[k], order[i]
				if n := backs(ranks, order); n < least && last[order[len(order)-1]] {
					least, again = n, true
				} else {
					order[i], order[k] = order[k], order[i]
				}
			}
		}
	}
	return order
}

// backs is how often the next of all that is cut lies in a lane before.
func backs(ranks [][]int, order []int) (n int) {
	type cut struct{ rank, lane int }
	all := make([]cut, 0, 64)
	for at, i := range order {
		for _, r := range ranks[i] {
			all = append(all, cut{r, at})
		}
	}
	slices.SortFunc(all, func(a, b cut) int { return a.rank - b.rank })
	for i := 1; i < len(all); i++ {
		if all[i].lane < all[i-1].lane {
			n++
		}
	}
	return n
}
