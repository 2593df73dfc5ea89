package pack

import "sort"

// A lot is all strips of one length whose middles lie on the same point of the
// print. Within a lot a wider strip is never better off in a narrower lane
// (swap the two: no lane grows), so a lane always takes a lot's widest that is
// left, and how far a packing has come is a count for each lot.
type lot struct {
	length int64
	gap    bool    // the middles lie between two motifs
	widths []int64 // widest first
	strips []int   // whose they are, by their number in the task
}

// A packer lays lots into lanes.
type packer struct {
	lots  []lot // longest first
	step  int64 // as in the task
	motif int64 // as in the task
	work  int   // how many lanes may still be tried; under 0 nothing more is proved

	missed bool           // some ways to fill a lane were not listed: nothing more is proved
	runs   map[string]run // best orders, see order.go
	limit  int64
	best   []lane
	taste  int64 // how much emptier a lane may be for each strip less in it
	seen   map[string]reached
	floor  []threshold
	slack  int64 // the most that a last lane can gain
	ground int64 // no packing is less wide
}

// A lane is what one column or row holds: how many of each lot.
type lane struct {
	counts []int
	width  int64
}

// reached is how cheaply a count was come by.
type reached struct{ sum, slack int64 }

// pitch is the width that a lane takes with another beside it.
func (p *packer) pitch(width int64) int64 {
	if p.step == 0 {
		return width
	}
	return (width + p.step - 1) / p.step * p.step
}

// across is what lanes of these widths take, side by side: only the last need not
// end on a whole step, so the one that gains most by it comes last.
func (p *packer) across(sum, slack int64) int64 { return p.step + sum - slack }

// least finds lanes with the least total width, each at most room long. The first
// result is nil when no lanes of at most limit in total were found; the second
// tells whether that, or that it can't be less, is proved.
func (p *packer) least(room, limit int64) ([]lane, bool) {
	return p.search(room, limit, false)
}

// within is least, content with the first that is within the limit.
func (p *packer) within(room, limit int64) ([]lane, bool) {
	return p.search(room, limit, true)
}

func (p *packer) search(room, limit int64, first bool) ([]lane, bool) {
	p.limit, p.best = limit+1, nil
	left := make([]int, len(p.lots))
	for i, l := range p.lots {
		left[i] = len(l.widths)
	}
	for i := range p.lots {
		if p.lengthOf(alone(len(p.lots), i)) > room {
			return nil, true
		}
	}
	p.floor = p.thresholds()
	p.ground = p.under(left, room, 0)
	if p.ground >= p.limit {
		return nil, true
	}
	// Where there is much to search, first look near the way that fills every lane
	// best, straying from it a few times only, with ever more taste for lanes of
	// few strips, since short ones are of use later; then everywhere.
	dive := 0
	if p.states() <= fewStates {
		dive = maxDives * maxStray
	}
	for ; ; dive++ {
		p.taste = room * int64(dive/maxStray) / 100
		stray := dive % maxStray
		last := dive == maxDives*maxStray
		p.seen = nil
		share := p.work / 32
		if last {
			p.taste, p.seen, share = 0, map[string]reached{}, p.work
		}
		before := p.work
		p.work = share
		done := p.fillLanes(left, nil, room, 0, 0, stray, first)
		p.work += before - share
		if done || last && p.work >= 0 || p.best != nil && p.ground >= p.limit {
			return p.best, p.best != nil && (p.ground >= p.limit || first) || !p.missed
		}
		if last {
			return p.best, false
		}
	}
}

// maxStray is how often a dive may leave the best filled lane before the search
// is let loose on everything; maxDives is with how many tastes it is tried.
const (
	maxStray = 3
	maxDives = 4
	// With so few counts to come by, everything is looked at soon enough.
	fewStates = 4096
)

// states is how many counts there are to come by, or many.
func (p *packer) states() int {
	n := 1
	for _, l := range p.lots {
		if n *= len(l.widths) + 1; n > fewStates {
			break
		}
	}
	return n
}

// fillLanes fills one lane after the other, the widest strip left always first. It
// is true when the search may end.
func (p *packer) fillLanes(left []int, lanes []lane, room, sum, slack int64, stray int, first bool) bool {
	lead := p.widest(left)
	if lead < 0 {
		if total := p.across(sum, slack); total < p.limit {
			p.limit = total
			p.best = append([]lane(nil), lanes...)
			return first || p.ground >= p.limit
		}
		return false
	}
	if p.under(left, room, sum) >= p.limit {
		return false
	}
	if p.seen != nil {
		key := countsKey(left)
		if r, ok := p.seen[key]; ok && r.sum <= sum && r.slack >= slack {
			return false
		}
		p.seen[key] = reached{sum, slack}
	}
	width := p.lots[lead].widths[len(p.lots[lead].widths)-left[lead]]
	pitch := p.pitch(width)
	for i, fill := range p.fills(left, lead, room) {
		if p.work--; p.work < 0 {
			return false
		}
		if p.seen == nil && i > stray {
			return false
		}
		for k, n := range fill {
			left[k] -= n
		}
		done := p.fillLanes(left, append(lanes, lane{fill, width}), room, sum+pitch, max(slack, pitch-width), stray-i, first)
		for k, n := range fill {
			left[k] += n
		}
		if done {
			return true
		}
	}
	return false
}

// widest is the lot with the widest strip left, the longer of two alike; -1 when
// none is left.
func (p *packer) widest(left []int) int {
	lead, width := -1, int64(-1)
	for i, l := range p.lots { // longest first
		if left[i] > 0 {
			if w := l.widths[len(l.widths)-left[i]]; w > width {
				lead, width = i, w
			}
		}
	}
	return lead
}

// Of many lengths there are more ways to fill a lane than can be listed: so many are looked
// at, those with the longest strips first; fewer with a print, where each asks for the best
// order of its strips.
const maxLooked, maxLookedPrinted = 3000, 400

// fills are the ways to fill a lane that begins with a strip of the lead, such
// that nothing more goes in: the lane is paid for, so leaving room empty gains
// nothing. The fullest come first.
func (p *packer) fills(left []int, lead int, room int64) [][]int {
	type filled struct {
		counts []int
		worth  int64
	}
	var all []filled
	counts := make([]int, len(left))
	counts[lead] = 1
	looked, most := 0, maxLooked
	if p.motif > 0 {
		most = maxLookedPrinted
	}
	var fill func(k int, length int64)
	fill = func(k int, length int64) {
		if looked++; looked > most {
			p.missed = true
			return
		}
		if k == len(left) {
			for i := range left {
				if counts[i] < left[i] && p.lengthWith(counts, i, length) <= room {
					return
				}
			}
			worth := length
			for _, n := range counts {
				worth -= int64(n) * p.taste
			}
			all = append(all, filled{append([]int(nil), counts...), worth})
			return
		}
		from, n := counts[k], length
		for counts[k] < left[k] {
			more := p.lengthWith(counts, k, n)
			if more > room {
				break
			}
			counts[k]++
			n = more
		}
		for {
			fill(k+1, n)
			if counts[k] == from {
				return
			}
			if looked > most {
				counts[k] = from
				return
			}
			counts[k]--
			n = p.lengthWithout(counts, k, n)
		}
	}
	fill(0, p.lengthOf(counts))
	p.work -= looked / 256
	sort.SliceStable(all, func(i, j int) bool { return all[i].worth > all[j].worth })
	out := make([][]int, len(all))
	for i, f := range all {
		out[i] = f.counts
	}
	return out
}

func alone(n, i int) []int {
	counts := make([]int, n)
	counts[i] = 1
	return counts
}

func countsKey(counts []int) string {
	b := make([]byte, 0, 2*len(counts))
	for _, n := range counts {
		b = append(b, byte(n), byte(n>>8))
	}
	return string(b)
}
