package pack

import (
	"cmp"
	"slices"
	"sort"
)

// A slot is a row that strips across may be cut from, beside the columns that there are.
type slot struct{ at, from, room int64 }

// rows lays the strips across into what the columns leave, the widest first; nil where no way
// is found.
func (f *frame) rows() []Part {
	left := map[int64][]int{} // by their width
	var widths []int64
	for i, s := range f.Across {
		if left[s.Width] == nil {
			widths = append(widths, s.Width)
		}
		left[s.Width] = append(left[s.Width], i)
	}
	slices.SortFunc(widths, func(a, b int64) int { return cmp.Compare(b, a) })
	out := &Layout{}
	var taken []slot // by wider rows; room is how high they are
	for _, w := range widths {
		var found []Part
		for _, worth := range f.worths(left[w]) {
			slots := f.slots(w, taken, worth, f.mostParts(left[w]))
			if found = f.fit(left[w], slots); found != nil {
				break
			}
		}
		if found == nil {
			return nil
		}
		for _, x := range found {
			taken = append(taken, slot{at: x.Lane - f.Motif, room: w + f.Motif})
		}
		taken = merged(taken)
		out.Parts = append(out.Parts, found...)
	}
	p := Task{Strips: f.Across, Motif: f.Motif}.packer()
	p.onPrint(f.Across, out, f.loss)
	return out.Parts
}

// worths are what a row with so much room is worth to these strips: how many go into it, or
// what of them; and where they may be joined, by its square, so that wide ones count more.
func (f *frame) worths(own []int) []func(room int64) int64 {
	short := f.Across[own[0]].Length
	for _, i := range own {
		short = min(short, f.Across[i].Length)
	}
	whole := func(room int64) int64 { return max(0, room) / (short + f.Motif) }
	if !f.Joins {
		return []func(int64) int64{whole}
	}
	loss := f.loss(f.Across[own[0]].Width) + f.Motif
	return []func(int64) int64{
		func(room int64) int64 { return max(0, room-loss) },
		whole,
	}
}

// merged are stretches of the fabric, those that touch as one.
func merged(taken []slot) (all []slot) {
	slices.SortFunc(taken, func(a, b slot) int { return cmp.Compare(a.at, b.at) })
	for _, t := range taken {
		if n := len(all); n > 0 && t.at <= all[n-1].at+all[n-1].room {
			all[n-1].room = max(all[n-1].room, t.at+t.room-all[n-1].at)
			continue
		}
		all = append(all, t)
	}
	return all
}

// mostParts is how many rows strips may come from, and are looked for from each place where the
// room changes.
func (m *mixer) mostParts(own []int) (n int64) {
	for _, i := range own {
		if ways := m.ways(m.Across[i]); len(ways) > 0 {
			n += int64(len(ways[len(ways)-1].least))
		}
	}
	return min(n, maxSlots)
}

const maxSlots = 120

// startsATrial is how many places for rows count as much as a trial.
const startsATrial = 64

// slots are rows so high, none over another, that are worth most together. With a print they
// start on whole motifs, and have their room from one motif before.
func (f *frame) slots(high int64, taken []slot, worth func(room int64) int64, many int64) []slot {
	downs, ups := []int64{0}, []int64{f.length}
	for _, c := range f.hung {
		downs = append(downs, c.long)
	}
	for _, c := range f.stood {
		ups = append(ups, f.length-c.long)
	}
	for _, t := range taken {
		downs, ups = append(downs, t.at+t.room), append(ups, t.at)
	}
	grid, pitch := int64(1), high
	if f.Motif > 0 {
		grid, pitch = f.Motif, (high+f.Motif-1)/f.Motif*f.Motif
	}
	var starts []int64
	for _, y := range downs {
		for n := range many {
			starts = append(starts, (y+grid-1)/grid*grid+f.Motif+n*pitch)
		}
	}
	for _, y := range ups {
		for n := range many {
			if at := y - high; at >= 0 {
				starts = append(starts, at/grid*grid-n*pitch)
			}
		}
	}
	slices.Sort(starts)
	starts = slices.Compact(starts)
	f.work -= len(starts) / startsATrial
	type ending struct {
		worth  int64
		slot   slot
		before int // the last ending that this one comes after, -1 for none
		end    int64
	}
	var ends []ending // each the best with its slot as the last
	var best []int    // the best ending up to each
	for _, y := range starts {
		laps := func(t slot) bool { return y-f.Motif < t.at+t.room && t.at < y+high }
		if y < f.Motif || y+high > f.length || slices.ContainsFunc(taken, laps) {
			continue
		}
		from, to := f.between(y-f.Motif, y+high)
		w := worth(to - from)
		if w <= 0 {
			continue
		}
		e := ending{w, slot{y, from, to - from}, -1, y + high}
		if k := sort.Search(len(ends), func(k int) bool { return ends[k].end > y }) - 1; k >= 0 {
			e.before = best[k]
			e.worth += ends[best[k]].worth
		}
		ends = append(ends, e)
		n := len(ends) - 1
		if n > 0 && ends[best[n-1]].worth >= e.worth {
			best = append(best, best[n-1])
		} else {
			best = append(best, n)
		}
	}
	var all []slot
	if len(best) > 0 {
		for k := best[len(best)-1]; k >= 0; k = ends[k].before {
			all = append(all, ends[k].slot)
		}
	}
	slices.Reverse(all)
	return all
}

// ways are the ways to put a strip across together, fewest parts first.
func (m *mixer) ways(s Strip) []parting {
	room := m.width - m.Motif
	if !m.Joins {
		if s.Length > room {
			return nil
		}
		return []parting{{s.Length, []int64{s.Length}, []int64{s.Length}}}
	}
	return partingsUpTo(s, room, m.loss(s.Width), moreBeside)
}

// moreBeside is how many parts more than the fewest a strip may have, of rows that are short
// for the columns beside them.
const moreBeside = 4

// fitWork is how much is tried for one set of rows, at the least.
const fitWork = 200

// fit puts strips of one width into slots with as few joins as it can; nil where that is not
// found. While there is work left, that tells that it can't be.
func (m *mixer) fit(own []int, slots []slot) []Part {
	slots = slices.Clone(slots)
	slices.SortStableFunc(slots, func(a, b slot) int { return cmp.Compare(b.room, a.room) })
	task := Task{Strips: m.Across, Motif: m.Motif, Work: max(m.work, fitWork)}
	j := &joiner{packer: task.packer(), task: task, room: m.width, loss: m.loss, order: own}
	j.work = task.Work
	defer func() { m.work = min(m.work, j.work) }()
	var room, need int64
	least, most := 0, 0
	for _, i := range own {
		ways := m.ways(m.Across[i])
		if len(ways) == 0 {
			return nil
		}
		j.ways = append(j.ways, ways)
		need += ways[0].total
		least, most = least+len(ways[0].least), most+len(ways[len(ways)-1].least)
	}
	for _, s := range slots {
		room += s.room
		j.rows = append(j.rows, shared{m.Across[own[0]].Width, s.room, 0, true})
	}
	if room < need {
		return nil
	}
	j.to, j.picks = len(own), make([]pick, len(own))
	for parts := least; parts <= most && j.work > 0; parts++ {
		if j.seat(0, 0, parts) {
			return m.seated(j, slots)
		}
	}
	return nil
}

// seat tries every row for part n of strip i and those behind it, with so many parts left for
// the strips from i on. Parts that may be changed for each other have rows in order, and of rows
// that are alike the first is taken.
func (j *joiner) seat(i, n, parts int) bool {
	if i == j.to {
		return parts == 0
	}
	if n == 0 {
		least, most := 0, 0
		for _, ways := range j.ways[i+1:] {
			least, most = least+len(ways[0].least), most+len(ways[len(ways)-1].least)
		}
		for w, way := range j.ways[i] {
			k := len(way.least)
			if k > parts-least || k < parts-most {
				continue
			}
			if i > 0 && j.strip(i) == j.strip(i-1) && w < j.picks[i-1].way {
				continue // the two may be changed for each other
			}
			j.picks[i] = pick{w, make([]int, k)}
			if j.seatPart(i, 0, parts-k) {
				return true
			}
		}
		return false
	}
	return j.seatPart(i, n, parts)
}

func (j *joiner) seatPart(i, n, parts int) bool {
	pick, way := &j.picks[i], j.ways[i][j.picks[i].way]
	k := len(way.least)
	if n == k {
		return j.goes(i) && j.seat(i+1, 0, parts)
	}
	if j.placed++; j.placed%placesATrial == 0 {
		j.spend()
	}
	from := 0
	if n > 1 && n < k-1 {
		from = pick.rows[n-1]
	} else if n == k-1 && k > 1 {
		from = pick.rows[0]
	}
	takes := way.least[n] + j.motif
	for row := from; row < len(j.rows) && j.work > 0; row++ {
		r := &j.rows[row]
		if r.free < takes {
			continue
		}
		if row > from && r.parts == 0 && j.rows[row-1].parts == 0 && j.rows[row-1].free == r.free {
			continue
		}
		pick.rows[n] = row
		r.free -= takes
		r.parts++
		if j.seatPart(i, n+1, parts) {
			return true
		}
		r.free += takes
		r.parts--
	}
	return false
}

// seated are the parts as picked, the joins as far from the middles as these rows allow.
func (m *mixer) seated(j *joiner, slots []slot) []Part {
	all := make([][]weighing, j.to)
	many := 1
	for s := range all {
		all[s] = weighings(j.strip(s), len(j.picks[s].rows), m.loss(j.strip(s).Width))
		many *= len(all[s])
	}
	var best [][]int64
	far := int64(-1)
	for n := range min(many, maxWeighed) {
		weights := make([][]int64, j.to)
		for s, w := range all {
			weights[s], n = w[n%len(w)].weights, n/len(w)
		}
		lengths, _ := j.lengths(j.to-1, weights)
		var sum int64
		for s, parts := range lengths {
			sum += j.away(j.strip(s), parts)
		}
		if sum > far {
			best, far = lengths, sum
		}
	}
	var out []Part
	ends := make([]int64, len(slots))
	for s, lengths := range best {
		for n, length := range lengths {
			row := j.picks[s].rows[n]
			at := slots[row].from + ends[row] + m.Motif
			ends[row] += length + m.Motif
			number := n + 1
			if len(lengths) == 1 {
				number = 0
			}
			out = append(out, Part{j.order[s], slots[row].at, at, j.strip(s).Width, length, number})
		}
	}
	return out
}

// maxWeighed is how many ways to weigh the parts are tried.
const maxWeighed = 128
