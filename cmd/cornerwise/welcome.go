package main

import (
	"fmt"
	"net"
	"net/netip"
	"strings"
)

// welcome says in words where to go.
func welcome(c config, on net.Addr, demo string) string {
	listen := netip.MustParseAddrPort(on.String())
	here := listen.Addr().Unmap()
	if here.IsUnspecified() {
		here = netip.AddrFrom4([4]byte{127, 0, 0, 1})
	}
	var b strings.Builder
	first := address(here, listen.Port())
	fmt.Fprintf(&b, "Cornerwise is ready.\n\nOn this computer open    %s\n", first)
	if demo != "" {
		fmt.Fprintf(&b, "The demo session is at   %s%s\n", first, demo)
	}
	switch others := neighbours(listen.Addr()); {
	case c.open && len(others) > 0:
		b.WriteString("\nEvery device on the network may open and change the sessions. Open there\n")
		for _, a := range others {
			fmt.Fprintf(&b, "                         %s\n", address(a, listen.Port()))
		}
	case c.open:
		b.WriteString("\nEvery device that reaches this address may open and change the sessions.\n")
	default:
		b.WriteString("\nIt serves this computer only; --open lets in every device on the network.\n")
	}
	fmt.Fprintf(&b, "\nThe sessions are kept in %s\nCtrl-C stops it.\n", c.data)
	return b.String()
}

func address(a netip.Addr, port uint16) string {
	return "http://" + netip.AddrPortFrom(a, port).String() + "/"
}

// neighbours are the addresses by which other devices reach what listens on a.
func neighbours(a netip.Addr) []netip.Addr {
	if !a.IsUnspecified() {
		return nil
	}
	var list []netip.Addr
	all, _ := net.InterfaceAddrs() // none to show is no reason not to serve
	for _, one := range all {
		prefix, err := netip.ParsePrefix(one.String())
		// Link-local IPv6 needs a zone, which no browser takes.
		if ip := prefix.Addr(); err == nil && ip.Is4() && !ip.IsLoopback() && !ip.IsLinkLocalUnicast() {
			list = append(list, ip)
		}
	}
	return list
}
