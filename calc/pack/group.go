package pack

import (
	"math"
	"math/bits"
	"slices"
)

// grouped puts the strips into groups in the way that takes least. The second result tells
// whether nothing takes less, as far as it was tried.
//
// A group is a set of strips as bits. The best of a set is either its own best, with rows
// that hang together, or that of two sets that make it up. The first is worth a search where it
// may save height; as high, only where the sets that make it up have as many joins as hang its
// rows together, or more.
func (j *joiner) grouped() (best *rowed, proved bool) {
	n := len(j.order)
	proved = true
	sets := make([]*rowed, 1<<n)
	for _, set := range j.setsInOrder() {
		if like, names := j.like(set); like != set {
			sets[set] = sets[like].named(names)
			continue
		}
		first := set & -set
		for part := (set - 1) & set; part > 0; part = (part - 1) & set {
			if part&first == 0 || sets[part] == nil || sets[set&^part] == nil {
				continue
			}
			if both := sets[part].and(sets[set&^part], j); both.better(sets[set]) {
				sets[set] = both
			}
		}
		together, sure := j.together(set, sets[set])
		proved = proved && sure
		if together != nil && together.better(sets[set]) {
			sets[set] = together
		}
	}
	return sets[1<<n-1], proved
}

// setsInOrder are all sets, smaller ones first, and before all others those of strips of one
// width: they are what is joined best, and are not to go short of work.
func (j *joiner) setsInOrder() []int {
	widths := func(set int) (n int) {
		for i := range j.order {
			if set>>i&1 == 1 && (n == 0 || j.strip(i).Width != j.strip(bits.Len(uint(set&(1<<i-1)))-1).Width) {
				n++
			}
		}
		return n
	}
	var all []int
	for set := 1; set < 1<<len(j.order); set++ {
		all = append(all, set)
	}
	slices.SortStableFunc(all, func(a, b int) int {
		if n := widths(a) - widths(b); n != 0 {
			return n
		}
		return bits.OnesCount(uint(a)) - bits.OnesCount(uint(b))
	})
	return all
}

// like is the set of the first strips of each kind that has as many of each, and whose place
// each of its strips takes. Strips alike make sets alike.
func (j *joiner) like(set int) (like int, names map[int]int) {
	names = map[int]int{}
	var first, taken int
	for i := range j.order {
		if i == 0 || j.strip(i) != j.strip(i-1) {
			first, taken = i, 0
		}
		if set>>i&1 == 1 {
			like |= 1 << (first + taken)
			names[j.order[first+taken]] = j.order[i]
			taken++
		}
	}
	return like, names
}

// named is the same for other strips.
func (r *rowed) named(names map[int]int) *rowed {
	out := *r
	out.rows = nil
	for _, row := range r.rows {
		parts := slices.Clone(row.parts)
		for i := range parts {
			parts[i].Strip = names[parts[i].Strip]
		}
		row.parts = parts
		out.rows = append(out.rows, row)
	}
	return &out
}

// and is both, one beside the other.
func (r *rowed) and(other *rowed, j *joiner) *rowed {
	both := &rowed{joins: r.joins + other.joins, far: r.far + other.far}
	both.rows = append(append(both.rows, r.rows...), other.rows...)
	both.measure(j)
	return both
}

// measure works out how high the rows are.
func (r *rowed) measure(j *joiner) {
	var sum, slack int64
	for _, x := range r.rows {
		sum += j.pitch(x.width)
		slack = max(slack, j.pitch(x.width)-x.width)
	}
	r.height = j.across(sum, slack)
}

// aloneWork is enough for any strip by itself.
const aloneWork = 500

// together is the best for a set whose rows hang together, nil where that is no better
// than the best of its parts.
func (j *joiner) together(set int, apart *rowed) (found *rowed, sure bool) {
	own := *j.packer
	g := &joiner{packer: &own, task: j.task, room: j.room, loss: j.loss, hang: true}
	for i := range j.order {
		if set>>i&1 == 1 {
			g.order, g.ways = append(g.order, j.order[i]), append(g.ways, j.ways[i])
		}
	}
	g.levels()
	g.to = len(g.order)
	g.rowsAtLeast = g.hanging(0, 0, 0, 0)
	g.ground = g.across(max(g.under(0, 0, 0), g.rowsAtLeast*g.lowest()), g.slack)
	if apart != nil {
		least := int(g.rowsAtLeast) - 1
		if must := g.must(); must > least {
			least = must
		}
		if g.ground > apart.height || g.ground == apart.height && apart.joins < least {
			return nil, true
		}
		if g.best = apart; apart.joins < least { // only what is less high counts
			g.best = &rowed{height: apart.height, joins: -1}
		}
	}
	g.work = min(j.work, j.task.Work/2)
	if apart == nil {
		g.work = aloneWork // a strip by itself must be cut somehow
	} else if g.work <= 0 {
		return nil, false
	}
	before := g.work
	for g.extra = 0; g.extra == 0 || g.extra <= g.mostExtra() && !g.settled(); g.extra++ {
		g.search(0, len(g.order), nil)
	}
	sure = g.work > 0 || g.best != nil && g.best.rows != nil && g.best.height <= g.ground
	if apart != nil {
		j.work -= before - max(g.work, 0)
	}
	if g.best == nil || g.best.rows == nil || g.best == apart {
		return nil, sure
	}
	return g.best, sure
}

// mostExtra is how many joins more than hang the rows together are tried.
func (j *joiner) mostExtra() int {
	if len(j.order) <= oneBorder {
		return 3
	}
	return 1
}

// settled tells whether so many more joins could bring nothing: what they take of the rows
// asks for more height than the best has.
func (j *joiner) settled() bool {
	b := j.best
	if b == nil {
		return false
	}
	loss, need := int64(math.MaxInt64>>1), int64(0)
	for i := range j.order {
		s := j.strip(i)
		loss = min(loss, j.loss(s.Width)+j.motif)
		need += s.Length + j.motif
	}
	if loss >= j.room {
		return true
	}
	rows := (need + int64(j.extra-1)*loss + j.room - loss - 1) / (j.room - loss)
	height, joins := max(j.ground, j.across(rows*j.lowest(), j.slack)), int(rows)-1+j.extra
	return height > b.height || height == b.height && joins >= b.joins
}

// must is how many joins the strips have at least, each by itself.
func (j *joiner) must() (joins int) {
	for _, ways := range j.ways {
		joins += len(ways[0].least) - 1
	}
	return joins
}
