package powerloss

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"sort"
	"time"
)

// A State is what may be on the disk, at one moment or at several.
type State struct {
	Moments []Moment
	rec     *Recording
	plan    plan
}

// A Moment is one at which the power may go and leave a State.
type Moment struct {
	At      int64 // nanoseconds since 1970
	Ordered bool  // also where names come to the disk in their order
	Kind    string
	Missing []string // what was done and is not on the disk, or not all of it
	Before  []string // the last that was done
}

func (m Moment) String() string {
	order := "on any file system"
	if !m.Ordered {
		order = "on a file system that keeps no order of names"
	}
	when := "at the end"
	if m.At != end {
		when = time.Unix(0, m.At).Format("at 15:04:05.000000")
	}
	return fmt.Sprintf("%s, %s, %s\n  not on the disk, or not all of it:%s\n  done last:%s",
		when, m.Kind, order, indented(m.Missing), indented(m.Before))
}

func indented(lines []string) (s string) {
	const most = 12
	for i, line := range lines {
		if i == most {
			return s + fmt.Sprintf("\n    and %d more", len(lines)-most)
		}
		s += "\n    " + line
	}
	return s
}

// Files are what lies in the folder then.
func (s *State) Files() Files { return s.rec.files(s.plan) }

// A plan says what is on the disk when the power goes at t: what is synced, and which of the
// other changes, and parts of those that are torn.
type plan struct {
	t     int64
	there map[*change]bool
	torn  map[*change][]span
}

func (r *Recording) files(p plan) Files {
	d := r.first.copied()
	for _, c := range r.changes {
		if c.synced < p.t || p.there[c] {
			spans, torn := p.torn[c]
			d.do(c, spans, torn)
		}
	}
	return d.files(r.root)
}

// A kind picks those of the changes that were not synced which are on the disk all the same.
type kind struct {
	name string
	pick func(p *plan, pending []*change, rnd *rand.Rand)
}

var kinds = []kind{
	{"with nothing that was not synced", func(*plan, []*change, *rand.Rand) {}},
	{"with all, synced or not", func(p *plan, pending []*change, _ *rand.Rand) { p.take(pending) }},
	{"with one missing", func(p *plan, pending []*change, rnd *rand.Rand) {
		p.take(pending)
		delete(p.there, pending[rnd.IntN(len(pending))])
	}},
	{"with some of what was not synced", func(p *plan, pending []*change, rnd *rand.Rand) {
		part := rnd.Float64()
		p.takeWhere(pending, func(*change) bool { return rnd.Float64() < part })
	}},
	{"with a write torn", tearOne},
	{"with the first of what was not synced", func(p *plan, pending []*change, rnd *rand.Rand) { p.take(pending[:rnd.IntN(len(pending))]) }},
	{"with names, without what the files hold", func(p *plan, pending []*change, _ *rand.Rand) { p.takeWhere(pending, (*change).named) }},
	{"with names and sizes", func(p *plan, pending []*change, _ *rand.Rand) {
		p.take(pending)
		for _, c := range pending {
			if c.data != nil {
				p.torn[c] = nil
			}
		}
	}},
	{"with a write torn", tearOne}, // there are many ways
	{"with what the files hold, without names", func(p *plan, pending []*change, _ *rand.Rand) {
		p.takeWhere(pending, func(c *change) bool { return !c.named() })
	}},
}

func tearOne(p *plan, pending []*change, rnd *rand.Rand) {
	n := rnd.IntN(len(pending))
	if rnd.IntN(2) == 0 {
		p.take(pending)
	}
	for i := range pending { // the first write from there on
		if c := pending[(n+i)%len(pending)]; len(c.data) > 0 {
			p.take(pending[:(n+i)%len(pending)+1])
			p.torn[c] = tear(c, rnd)
			return
		}
	}
}

func (p *plan) take(changes []*change) { p.takeWhere(changes, func(*change) bool { return true }) }

func (p *plan) takeWhere(changes []*change, where func(*change) bool) {
	for _, c := range changes {
		if where(c) {
			p.there[c] = true
		}
	}
}

// tear is the part of a write that arrives: some of its blocks, as the disk has them, often the
// first or the last of them, or none.
func tear(c *change, rnd *rand.Rand) (spans []span) {
	block := []int{512, 4096}[rnd.IntN(2)]
	cuts := []int{0}
	for at := block - int(c.at)%block; at < len(c.data); at += block {
		cuts = append(cuts, at)
	}
	cuts = append(cuts, len(c.data))
	way, cut := rnd.IntN(5), rnd.IntN(len(cuts))
	for i := range len(cuts) - 1 {
		if way == 0 && i < cut || way == 1 && i >= cut || way > 1 && rnd.IntN(2) == 0 {
			spans = append(spans, span{cuts[i], cuts[i+1]})
		}
	}
	return spans
}

// inOrder makes a plan as it may be where names come to the disk in their order, and all that
// were made before a sync with it.
func (p *plan) inOrder(pending []*change, fence int64) {
	gap := false
	for _, c := range pending {
		if c.named() {
			p.there[c] = c.ended <= fence || p.there[c] && !gap
			gap = gap || !p.there[c]
		}
	}
}

// pending is what had begun at t and was not synced, and fence when the last sync that had ended
// began.
func (r *Recording) pending(t int64) (pending []*change, fence int64) {
	for _, c := range r.changes {
		if c.began < t && c.synced >= t {
			pending = append(pending, c)
		}
	}
	for _, s := range r.syncs {
		if s.ended < t {
			fence = max(fence, s.began)
		}
	}
	return pending, fence
}

// moments are lists of those just before a change and the end, those about a change of names,
// and those about a sync.
func (r *Recording) moments() [][]int64 {
	all, named, synced := []int64{end}, []int64{end}, []int64{end}
	for _, c := range r.changes {
		all = append(all, c.began)
		if c.named() {
			named = append(named, c.began, c.ended+1)
		}
	}
	for _, s := range r.syncs {
		synced = append(synced, s.ended, s.ended+1)
	}
	return [][]int64{all, named, synced}
}

const end = never - 1

// States are up to most that differ, sampled by a seed over the moments and the kinds of what may
// be missing. answers are moments at which the program had just answered: there nothing is tried
// that was not synced.
func (r *Recording) States(seed uint64, most int, answers ...int64) []*State {
	rnd := rand.New(rand.NewPCG(seed, 0))
	moments := r.moments()
	if len(answers) > 0 {
		moments = append(moments, answers)
	}
	found := map[[32]byte]*State{}
	var states []*State
	// A try costs as much as there are changes.
	for try := range max(4*most, min(40*most, 100_000/len(r.changes))) {
		of, k := rnd.IntN(len(moments)), kinds[try%len(kinds)]
		t := moments[of][rnd.IntN(len(moments[of]))]
		if try < len(kinds) {
			t = end
		} else if of == 3 {
			k = kinds[0]
		}
		p := plan{t, map[*change]bool{}, map[*change][]span{}}
		pending, fence := r.pending(t)
		if len(pending) == 0 {
			k = kinds[0]
		}
		k.pick(&p, pending, rnd)
		ordered := try/len(kinds)%2 == 0
		if ordered {
			p.inOrder(pending, fence)
		}
		key := r.files(p).sum()
		if found[key] == nil {
			if len(states) == most {
				continue
			}
			found[key] = &State{rec: r, plan: p}
			states = append(states, found[key])
		}
		found[key].Moments = append(found[key].Moments, r.moment(p, ordered, k.name, pending))
	}
	return states
}

func (r *Recording) moment(p plan, ordered bool, kind string, pending []*change) Moment {
	m := Moment{At: p.t, Ordered: ordered, Kind: kind}
	for _, c := range pending {
		spans, torn := p.torn[c]
		switch {
		case !p.there[c]:
			m.Missing = append(m.Missing, c.String())
		case torn:
			m.Missing = append(m.Missing, fmt.Sprintf("%s, but for %v", c, spans))
		}
	}
	before := sort.Search(len(r.changes), func(i int) bool { return r.changes[i].began >= p.t })
	for _, c := range r.changes[max(0, before-12):before] {
		m.Before = append(m.Before, c.String())
	}
	return m
}

// sum is the same for files that are alike.
func (f Files) sum() [32]byte {
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(f)) {
		fmt.Fprintf(h, "%q %d %t\n", name, len(f[name]), f[name] == nil)
		h.Write(f[name])
	}
	return [32]byte(h.Sum(nil))
}
