// Package addresses tells by which addresses other devices reach this computer.
package addresses

import (
	"cmp"
	"net"
	"net/netip"
	"slices"
)

// Of are the addresses by which other devices reach what listens on one address, as
// they are now, the likeliest first; none where it listens on loopback.
func Of(listens netip.Addr) []netip.Addr {
	if listens = listens.Unmap(); !listens.IsUnspecified() {
		if listens.IsLoopback() {
			return nil
		}
		return []netip.Addr{listens}
	}
	var list []netip.Addr
	all, _ := net.InterfaceAddrs() // none to show is no reason not to serve
	for _, one := range all {
		prefix, err := netip.ParsePrefix(one.String())
		// Link-local IPv6 needs a zone, which no browser takes.
		if ip := prefix.Addr(); err == nil && ip.IsGlobalUnicast() {
			list = append(list, ip)
		}
	}
	out := outward()
	rank := func(ip netip.Addr) int {
		switch {
		case ip == out:
			return 0
		case ip.Is4() && ip.IsPrivate():
			return 1
		case ip.Is4():
			return 2
		}
		return 3
	}
	slices.SortStableFunc(list, func(a, b netip.Addr) int { return cmp.Compare(rank(a), rank(b)) })
	// IPv6 only where there is nothing else: it is hard to type.
	if len(list) > 0 && list[0].Is4() {
		list = slices.DeleteFunc(list, netip.Addr.Is6)
	}
	return list
}

// outward is the address that leads out of the room, where the tablets are too.
// Nothing is sent: the system is only asked which way it would go.
func outward() netip.Addr {
	conn, err := net.Dial("udp4", "192.0.2.1:9") // RFC 5737: an address that is never used
	if err != nil {
		return netip.Addr{}
	}
	defer conn.Close()
	at, _ := netip.ParseAddrPort(conn.LocalAddr().String())
	return at.Addr().Unmap()
}
