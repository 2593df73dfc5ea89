package pack

// A flow tells how long parts may be: each strip has so much left to give to its parts,
// each part takes at most so much, and each row has so much room.
type flow struct {
	first []int // the first arc from each node, -1 for none
	arcs  []arc
}

type arc struct {
	to, next int
	room     int64 // how much more may go through
	cost     int64
}

func newFlow(nodes int) *flow {
	f := &flow{first: make([]int, nodes)}
	for i := range f.first {
		f.first[i] = -1
	}
	return f
}

// arc adds one from a node to another and gives its number; the next is its way back.
func (f *flow) arc(from, to int, room, cost int64) int {
	n := len(f.arcs)
	f.arcs = append(f.arcs, arc{to, f.first[from], room, cost}, arc{from, f.first[to], 0, -cost})
	f.first[from], f.first[to] = n, n+1
	return n
}

// through is how much has gone through an arc.
func (f *flow) through(arc int) int64 { return f.arcs[arc^1].room }

const far = int64(1) << 62

// push brings as much as goes from a node to another, the cheapest way first, and gives
// how much that is.
func (f *flow) push(from, to int) (sum int64) {
	cost, by := make([]int64, len(f.first)), make([]int, len(f.first))
	for {
		for i := range cost {
			cost[i], by[i] = far, -1
		}
		cost[from] = 0
		for again := true; again; {
			again = false
			for i, c := range cost {
				if c == far {
					continue
				}
				for a := f.first[i]; a >= 0; a = f.arcs[a].next {
					if x := f.arcs[a]; x.room > 0 && c+x.cost < cost[x.to] {
						cost[x.to], by[x.to], again = c+x.cost, a, true
					}
				}
			}
		}
		if cost[to] == far {
			return sum
		}
		n := far
		for i := to; i != from; i = f.arcs[by[i]^1].to {
			n = min(n, f.arcs[by[i]].room)
		}
		for i := to; i != from; i = f.arcs[by[i]^1].to {
			f.arcs[by[i]].room -= n
			f.arcs[by[i]^1].room += n
		}
		sum += n
	}
}
