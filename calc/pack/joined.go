package pack

import (
	"slices"
	"sort"
)

// Strips that are joined from parts are cut from rows across the fabric. A part is as
// long as suits, within its bounds (parting.go), and lies in a row of its own or beside
// others in a shared one, which is as high as its widest part.
//
// Of all ways to cut them the one is wanted with the least height of all rows; of these
// the one with the fewest joins; of these the one whose joins lie farthest from the middles
// of their strips, in the sum over all joins.
//
// Strips that share no row, not even by way of others, may be cut apart from each other. So
// every way to put the strips into groups is tried (group.go), and for each group whether
// it takes less when its strips share rows. N rows that hang together need n − 1 joins at
// least, which tells for most groups, without a search, that it does not.
//
// The search goes strip by strip, the widest first, and tries for each its partings, and
// for each part a row of its own, a row that is shared already, and a new one to be
// shared. Whether the parts can be so long that each strip is made up and no row overflows
// is a flow from the strips to the rows (flow.go), and how long they are best is the
// cheapest such flow. A few joins more are tried than hang the rows together (mostExtra).
//
// With a print along the strip the parts of a row lie up to a whole motif apart, so that
// the print can be met at each join.

// exactStrips is how many strips are put into groups in every way. More are cut bunch by
// bunch, each from what the rows before have left, and then the layout is not known to be
// the least.
const exactStrips = 8

// farWork is how much is tried, at most, only to bring the joins farther from the middle: of
// the strips of one border, and of more than these.
const farWork, farWorkOfMany = 4000, 400

// placesATrial is how many places for parts count as much as a trial.
const placesATrial = 64

// flowATrial is how many parts, to the third power, count as much as a trial where their joins
// are brought farther out: to so many flows with so many ways each.
const flowATrial = 16 << 10

// oneBorder is how many strips a border has.
const oneBorder = 4

// Joined lays strips in rows of this room, joined where they are too long for one or where
// that saves fabric; loss is what a join takes of a strip so wide. It is nil where a strip
// would have more than MaxParts. The second result tells whether no layout is shorter.
func (t Task) Joined(room int64, loss func(width int64) int64) (*Layout, bool) {
	j := &joiner{packer: t.packer(), task: t, room: room, loss: loss}
	j.order = make([]int, len(t.Strips))
	for i := range j.order {
		j.order[i] = i
	}
	sort.SliceStable(j.order, func(a, b int) bool {
		x, y := t.Strips[j.order[a]], t.Strips[j.order[b]]
		return x.Width > y.Width || x.Width == y.Width && x.Length > y.Length
	})
	for _, i := range j.order {
		ways := partings(t.Strips[i], room-t.Motif, loss(t.Strips[i].Width))
		if len(ways) == 0 {
			return nil, true
		}
		j.ways = append(j.ways, ways)
	}
	j.levels()
	ground := j.across(j.under(0, 0, 0), j.slack)
	j.work = t.Work
	if len(t.Strips) <= exactStrips {
		best, proved := j.grouped()
		if proved = proved || best.height <= ground; !proved && len(t.Strips) > bunch {
			if bunched := j.bunches(); bunched != nil && bunched.better(best) {
				best = bunched
			}
		}
		return best.layout(j), proved
	}
	best := j.loose()
	if bunched := j.bunches(); bunched != nil && bunched.better(best) {
		best = bunched
	}
	return best.layout(j), best.height <= ground
}

// A joiner is the search's state.
type joiner struct {
	*packer
	task  Task
	room  int64
	loss  func(width int64) int64
	order []int       // the strips, widest first
	ways  [][]parting // of each in that order
	steps []level

	from, to    int
	picks       []pick
	rows        []shared
	best        *rowed
	reaches     [][]int64 // twice how far the joins of each parting can be from the middle
	fewest      int       // joins that there must be
	hang        bool      // that all rows are to hang together, and how many there are then
	rowsAtLeast int64
	extra       int   // how many joins more there may be than hang the rows together
	more        int   // how many there are
	of          []int // of each shared row, the last strip that hangs together with it, from 1
	far         int   // what is left of farWork once nothing can be shorter or have fewer joins
	placed      int   // how many places for parts were tried
}

// A level is a pitch that some row may have, how much that is more than the next lower
// one, and how many strips need as much.
type level struct {
	rise  int64
	count int
}

// A pick is a strip's parting and the row of each of its parts, -1 for one of its own.
type pick struct {
	way  int
	rows []int
}

// A shared row has room left beside the least that its parts may be.
type shared struct {
	width int64
	free  int64
	parts int
	given bool // it was there before, for other strips
}

func (j *joiner) strip(i int) Strip { return j.task.Strips[j.order[i]] }

// takes is how much of rows a strip takes at least.
// under is what the strips from one on add to the height at least, where the rows before
// have so much room left, and so many of them room for a part over half a row.
// lowest is the pitch of the lowest row.
// mostRows is how many rows there can be, where so many are so high, lest all get higher
// than the best.
// hanging is how many rows more the strips from i on take at least, when all rows hang
// together, which takes a join less than there are rows: the joins made so far, joins, are
// too few for that.
// bigs is how many parts over half a row a strip has at least. No two of them share one.
func (j *joiner) end() int {
	if j.to > 0 {
		return j.to
	}
	return len(j.order)
}

// search tries the strips from one to before another, with rows that have room left. What
// is found goes to best.
func (j *joiner) search(from, to int, given []shared) {
	j.from, j.to = from, to
	j.rows, j.picks = slices.Clone(given), make([]pick, to)
	j.of, j.more = make([]int, len(given)), 0
	j.fewest, j.far, j.reaches = 0, farWork, make([][]int64, to)
	if len(j.task.Strips) > oneBorder {
		j.far = farWorkOfMany
	}
	for i := from; i < to; i++ {
		j.fewest += len(j.ways[i][0].least) - 1
		for _, way := range j.ways[i] {
			j.reaches[i] = append(j.reaches[i], farthest(j.strip(i), way, j.loss(j.strip(i).Width)))
		}
	}
	j.fewest = max(j.fewest, int(j.rowsAtLeast)-1)
	j.part(from, 0, 0, 0, 0)
}

// touch notes that strip i, the one in hand, has a part in a shared row too. It is false
// where that makes one join more than hangs the rows together, and there may be none.
func (j *joiner) touch(i, row int) bool {
	if j.hang && j.of[row] == i+1 {
		j.more++
		return j.more <= j.extra
	}
	own := j.of[row]
	for r := range j.of {
		if j.of[r] == own {
			j.of[r] = i + 1
		}
	}
	return true
}

// done tells whether nothing better is to be found.
func (j *joiner) done() bool {
	return j.work <= 0 || j.far <= 0
}

// spend counts one more trial: of those that may only bring the joins farther out, once
// nothing can be less high or have fewer joins.
func (j *joiner) spend() {
	if b := j.best; b != nil && b.rows != nil && b.height <= j.ground && b.joins <= j.fewest {
		j.far--
	} else {
		j.work--
	}
}

// part tries every way with strip i and those behind it.
func (j *joiner) part(i int, sum, slack int64, joins, rows int) {
	if j.done() {
		return
	}
	if i == j.to {
		for _, r := range j.rows {
			if r.parts == 1 && !r.given {
				return // as good as a row of its own
			}
		}
		for _, strip := range j.of {
			if j.hang && strip != j.to {
				return // two groups
			}
		}
		j.finish(j.across(sum, slack), joins)
		return
	}
	least := joins
	for k := i; k < j.to; k++ {
		least += len(j.ways[k][0].least) - 1
	}
	if j.best != nil {
		roomy := int64(0)
		for _, r := range j.rows {
			if 2*r.free > j.room {
				roomy++
			}
		}
		free := j.left(i)
		more := j.under(i, free, roomy)
		if j.hang {
			more = max(more, j.hanging(i, free, joins, rows)*j.lowest())
		}
		height := j.across(sum+more, max(slack, j.slack))
		if j.hang && least > j.mostRows(sum, rows)-1+j.extra {
			return // too many joins for so few rows
		}
		if height > j.best.height || height == j.best.height && (least > j.best.joins || least == j.best.joins && j.reach(i, least) <= j.best.far) {
			return
		}
	}
	for w, way := range j.ways[i] {
		if i > j.from && j.strip(i) == j.strip(i-1) && w < j.picks[i-1].way {
			continue // the two may be changed for each other
		}
		if j.hang && j.best != nil && least+len(way.least)-len(j.ways[i][0].least) > j.mostRows(sum, rows)-1+j.extra {
			break
		}
		j.picks[i] = pick{w, make([]int, len(way.least))}
		j.place(i, 0, sum, slack, joins+len(way.least)-1, rows)
	}
}

// reach is twice the most that the joins can lie from the middles, with the partings of the
// strips before i as picked and with so many joins at the least.
// left is the most room that the rows so far have for the strips from i on.
// place tries every row for part n of strip i. Parts that may be changed for each other,
// both ends and all between, have rows in order.
func (j *joiner) place(i, n int, sum, slack int64, joins, rows int) {
	if j.placed++; j.placed%placesATrial == 0 {
		j.spend() // a strip of many parts has more places than can be tried
	}
	if j.done() {
		return
	}
	pick, way := &j.picks[i], j.ways[i][j.picks[i].way]
	k := len(way.least)
	if j.best != nil && j.across(sum, max(slack, j.slack)) > j.best.height {
		return
	}
	if n == k {
		if j.hang && j.to-j.from > 1 && !slices.Contains(j.of, i+1) {
			return // it shares no row
		}
		if j.goes(i) {
			j.part(i+1, sum, slack, joins, rows)
		}
		return
	}
	width := j.strip(i).Width
	pitch := j.pitch(width)
	from := -1
	if n > 1 && n < k-1 {
		from = pick.rows[n-1]
	} else if n == k-1 && k > 1 {
		from = pick.rows[0]
	}
	takes := way.least[n] + j.motif
	for row := len(j.rows); row >= from; row-- {
		switch {
		case row < 0:
			pick.rows[n] = -1
			j.place(i, n+1, sum+pitch, max(slack, pitch-width), joins, rows+1)
		case row == len(j.rows):
			// The last part has no one to share a new row with. Where all hang together each
			// join more than does it makes one more row to share, at most.
			if i == j.to-1 && n == k-1 || j.hang && row >= j.to-j.from-1+j.extra {
				continue
			}
			pick.rows[n] = row
			j.rows, j.of = append(j.rows, shared{width, j.room - takes, 1, false}), append(j.of, i+1)
			j.place(i, n+1, sum+pitch, max(slack, pitch-width), joins, rows+1)
			j.rows, j.of = j.rows[:row], j.of[:row]
		case j.rows[row].free >= takes && j.rows[row].width >= width:
			pick.rows[n] = row
			more, of := j.more, slices.Clone(j.of)
			if j.touch(i, row) {
				j.rows[row].free -= takes
				j.rows[row].parts++
				j.place(i, n+1, sum, slack, joins, rows)
				j.rows[row].free += takes
				j.rows[row].parts--
			}
			j.more, j.of = more, of
		}
		if j.done() {
			return
		}
	}
}

// goes tells whether the strips to i can be made up in their rows.
func (j *joiner) goes(i int) bool {
	j.spend()
	easy := true
	for k := j.from; k <= i; k++ {
		way := j.ways[k][j.picks[k].way]
		need, room := way.total, int64(0)
		for n, least := range way.least {
			need -= least
			if row := j.picks[k].rows[n]; row < 0 {
				need -= way.most[n] - least
			} else {
				room += min(way.most[n]-least, j.rows[row].free)
			}
		}
		if need > room {
			return false
		}
		easy = easy && need <= 0
	}
	if easy {
		return true
	}
	_, ok := j.lengths(i, nil)
	return ok
}

// lengths are how long the parts of the strips to i are, where they go into their rows;
// with weights, of each strip's parts, such that what these take is least.
func (j *joiner) lengths(i int, weights [][]int64) (parts [][]int64, ok bool) {
	n := i + 1 - j.from
	f := newFlow(n + len(j.rows) + 2)
	source, sink := n+len(j.rows), n+len(j.rows)+1
	var want int64
	arcs := make([][]int, n)
	for s := range n {
		p := j.picks[j.from+s]
		way := j.ways[j.from+s][p.way]
		need := way.total
		for k, least := range way.least {
			need -= least
			to, cost := sink, int64(0)
			if p.rows[k] >= 0 {
				to = n + p.rows[k]
			}
			if weights != nil {
				cost = weights[s][k]
			}
			arcs[s] = append(arcs[s], f.arc(s, to, way.most[k]-least, cost))
		}
		f.arc(source, s, need, 0)
		want += need
	}
	for r, row := range j.rows {
		f.arc(n+r, sink, row.free, 0)
	}
	if f.push(source, sink) < want {
		return nil, false
	}
	if weights == nil {
		return nil, true
	}
	for s := range n {
		p := j.picks[j.from+s]
		var lengths []int64
		for k, least := range j.ways[j.from+s][p.way].least {
			lengths = append(lengths, least+f.through(arcs[s][k]))
		}
		parts = append(parts, lengths)
	}
	return parts, true
}

// finish takes the picks in hand when they are the best so far, with the joins as far
// from the middles as these rows allow.
func (j *joiner) finish(height int64, joins int) {
	b := j.best
	if b != nil && (height > b.height || height == b.height && joins > b.joins) {
		return
	}
	all := make([][]weighing, j.to-j.from)
	at := make([]int, len(all))
	many := 1
	for s := range all {
		x := j.strip(j.from + s)
		all[s] = weighings(x, len(j.picks[j.from+s].rows), j.loss(x.Width))
		at[s] = len(all[s]) / 2
		many *= len(all[s])
	}
	try := func() int64 {
		weights := make([][]int64, len(all))
		for s, w := range all {
			weights[s] = w[at[s]].weights
		}
		parts, ok := j.lengths(j.to-1, weights)
		if !ok {
			return -1
		}
		found := j.rowed(parts, height, joins)
		if found.better(j.best) {
			j.best = found
		}
		return found.far
	}
	if many <= 128 { // all of them
		for n := range many {
			for s, w := range all {
				at[s], n = n%len(w), n/len(w)
			}
			if j.done() {
				if j.best == b {
					try()
				}
				return
			}
			j.spend()
			try()
		}
		return
	}
	best := try()
	parts := 0
	for s, w := range all { // else one strip after the other
		parts += len(w)
		was := at[s]
		for at[s] = range w {
			if far := try(); far > best {
				best, was = far, at[s]
			}
		}
		at[s] = was
	}
	for range parts * parts * parts / flowATrial { // a flow of many parts takes long
		j.spend()
	}
}
