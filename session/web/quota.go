package web

import (
	"net/netip"
	"sync"
)

// A party is whom limits count: one device or address, and the network around it, "" where
// that does not matter. IPv6 gives each device as many addresses as it likes, all with the
// same first 64 bits; and all devices of a home have those.
type party struct{ one, around string }

// partyAt is the party at an address.
func partyAt(addr netip.Addr) party {
	addr = addr.Unmap().WithZone("")
	p := party{one: addr.String()}
	if network, err := addr.Prefix(64); err == nil && addr.Is6() {
		p.around = network.String()
	}
	return p
}

// A bound is what keeps a party from having more.
type bound int

const (
	free bound = iota
	ofOne
	ofAround
	ofAll
)

// A quota is how much one party may hold, all in its network, and all there are; and how much
// they do.
type quota struct {
	one, around, all int
	few              int // that each may hold whatever the others do

	mu    sync.Mutex
	held  map[party]int // those of a network under that alone
	inAll int
}

func newQuota(one, around, all int) *quota {
	return &quota{one: one, around: around, all: all, held: map[party]int{}}
}

// take has the party hold one more, where nothing but free is in its way.
func (q *quota) take(p party) bound {
	q.mu.Lock()
	defer q.mu.Unlock()
	network := party{around: p.around}
	switch {
	case q.held[p] >= q.one:
		return ofOne
	case p.around != "" && q.held[network] >= q.around:
		return ofAround
	case q.inAll >= q.all && q.held[p] >= q.few:
		return ofAll
	}
	q.held[p]++
	if p.around != "" {
		q.held[network]++
	}
	q.inAll++
	return free
}

func (q *quota) give(p party) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.lessLocked(p)
	if p.around != "" {
		q.lessLocked(party{around: p.around})
	}
	q.inAll--
}

func (q *quota) lessLocked(p party) {
	if q.held[p]--; q.held[p] == 0 {
		delete(q.held, p)
	}
}
