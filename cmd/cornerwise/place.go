package main

import (
	"errors"
	"log/slog"
	"net"
	"net/netip"
)

// A place is where the server is reached: what it listens on, and the name that it
// announces.
type place struct {
	net.Listener
	at     netip.AddrPort
	name   string // "" where none is announced
	spoken *announcement
}

func openPlace(c config, log *slog.Logger) (*place, error) {
	listener, err := net.Listen("tcp", c.listen)
	if err != nil {
		return nil, listenTrouble(c, err)
	}
	p := &place{Listener: listener, at: netip.MustParseAddrPort(listener.Addr().String())}
	// A name leads to IPv4 addresses only; the wildcard of IPv6 takes those too.
	if a := p.at.Addr().Unmap(); c.name == noName || a.IsLoopback() || a.Is6() && !a.IsUnspecified() {
		return p, nil
	}
	p.spoken, err = announce(c.name, p.at.Addr(), log)
	if errors.Is(err, errNameTaken) {
		log.Warn("another computer on this network has the name; --name gives this one another", "name", c.name)
		return p, nil
	}
	p.name = c.name
	return p, nil
}

// others are the addresses by which other devices come now, the likeliest first.
func (p *place) others() (list []string) {
	for _, a := range neighbours(p.at.Addr()) {
		list = append(list, address(a, p.at.Port()))
	}
	return list
}

// Close stops listening, and answering for the name. The server does it first.
func (p *place) Close() error {
	if p.spoken != nil {
		p.spoken.Close()
	}
	return p.Listener.Close()
}
