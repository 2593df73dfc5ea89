package web

import (
	"context"
	"crypto/tls"
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"
)

const (
	// A browser opens 6 connections to a host, and a live one for each tab.
	maxConnsOfEach = 64
	maxConnsAround = 128 // of strangers in one network of IPv6
	maxConns       = 256 // of devices in all, and as many of strangers

	maxRequestsOfEach = 16 // under way: a reply is held until it is read
	maxRequestsAround = 64
	maxRequests       = 128 // of devices in all
	maxStrangers      = 64  // of those who are not in

	// fewOfEach requests and live connections each one has when the others hold all.
	fewOfEach = 2

	maxLivesOfEach = 16 // live connections
	maxLivesAround = 64
	maxLives       = 256

	// knownFor is how long an address is taken for that of the device that came from it.
	knownFor = 24 * time.Hour
	// maxKnown addresses are remembered, one for each device.
	maxKnown = 256
)

// Crowd is the listener of a server with limits on the connections that are open. Devices that
// came in have a share of them, and strangers another: those who have not said who they are.
// Where strangers are too many the newest is taken and the one that has been idle the longest
// is closed, so that nobody keeps a new tablet out by doing nothing. This computer's own are
// not counted: the owner always gets in.
func Crowd(listener net.Listener, server *http.Server) net.Listener {
	server.ConnState = func(conn net.Conn, state http.ConnState) {
		if c := countedOf(conn); c != nil {
			c.become(state)
		}
	}
	server.ConnContext = func(ctx context.Context, conn net.Conn) context.Context {
		return context.WithValue(ctx, countedKey{}, countedOf(conn))
	}
	return &crowd{
		Listener:  listener,
		strangers: newShare(maxConnsOfEach, maxConnsAround, maxConns),
		devices:   newShare(maxConnsOfEach, maxConns, maxConns),
		known:     map[string]sight{},
	}
}

type crowd struct {
	net.Listener

	mu                 sync.Mutex
	strangers, devices share
	known              map[string]sight // by what limits count a device by
	events             uint64           // so far: what happened before what
}

// A share is a part of the connections.
type share struct {
	*quota
	open map[*counted]struct{}
}

func newShare(one, around, all int) share {
	return share{newQuota(one, around, all), map[*counted]struct{}{}}
}

// A sight is where and when a device came from last.
type sight struct {
	addr netip.Addr
	at   time.Time
}

// A counted connection is in one of the shares until it is closed.
type counted struct {
	net.Conn
	crowd *crowd
	addr  netip.Addr

	// The rest is with the crowd's mu.
	in    *share // nil once it is closed
	as    party
	state http.ConnState
	since uint64 // the event by which it came to the state
}

type countedKey struct{}

// countedOf is the counted one inside a connection; nil where it is this computer's own.
func countedOf(conn net.Conn) *counted {
	for {
		switch c := conn.(type) {
		case *counted:
			return c
		case *peeked:
			conn = c.Conn
		case *tls.Conn:
			conn = c.NetConn()
		default:
			return nil
		}
	}
}

func (c *crowd) Accept() (net.Conn, error) {
	for {
		conn, err := c.Listener.Accept()
		if err != nil {
			return nil, err
		}
		remote, _ := netip.ParseAddrPort(conn.RemoteAddr().String())
		if remote.Addr().Unmap().IsLoopback() {
			return conn, nil
		}
		if counted := c.admit(conn, remote.Addr()); counted != nil {
			return counted, nil
		}
		conn.Close()
	}
}

// admit counts a connection, and closes others for it; nil where it can't.
func (c *crowd) admit(conn net.Conn, addr netip.Addr) *counted {
	c.mu.Lock()
	defer c.mu.Unlock()
	n := &counted{Conn: conn, crowd: c, addr: addr}
	if device := c.deviceAtLocked(addr); device != "" && n.enterLocked(&c.devices, party{one: device}) == free {
		return n
	}
	p := partyAt(addr)
	for {
		met := n.enterLocked(&c.strangers, p)
		if met == free {
			return n
		}
		idlest := c.idlestLocked(met, p)
		if idlest == nil {
			return nil
		}
		idlest.leaveLocked()
		idlest.Conn.Close()
	}
}

// idlestLocked is the stranger whose place the next one gets who met a bound: one that has
// been idle the longest, or else the slowest with a request. A device has no more than its own.
func (c *crowd) idlestLocked(met bound, p party) (idlest *counted) {
	for n := range c.strangers.open {
		switch {
		case met == ofOne, n.state == http.StateHijacked, met == ofAround && n.as.around != p.around:
		case idlest == nil, n.idleLocked() && !idlest.idleLocked(),
			n.idleLocked() == idlest.idleLocked() && n.since < idlest.since:
			idlest = n
		}
	}
	return idlest
}

func (n *counted) idleLocked() bool { return n.state != http.StateActive }

func (c *crowd) deviceAtLocked(addr netip.Addr) string {
	for device, s := range c.known {
		if s.addr == addr && time.Since(s.at) < knownFor {
			return device
		}
	}
	return ""
}

// enterLocked has the connection counted in a share and in no other.
func (n *counted) enterLocked(to *share, as party) bound {
	if met := to.take(as); met != free {
		return met
	}
	n.leaveLocked()
	n.in, n.as = to, as
	to.open[n] = struct{}{}
	n.crowd.events++
	n.since = n.crowd.events
	return free
}

func (n *counted) leaveLocked() {
	if n.in != nil {
		delete(n.in.open, n)
		n.in.give(n.as)
		n.in = nil
	}
}

func (n *counted) become(state http.ConnState) {
	n.crowd.mu.Lock()
	defer n.crowd.mu.Unlock()
	n.crowd.events++
	n.state, n.since = state, n.crowd.events
}

// isOf is told that a device has come in by the connection.
func (n *counted) isOf(device string) {
	c := n.crowd
	c.mu.Lock()
	defer c.mu.Unlock()
	if n.in == nil {
		return
	}
	if as := (party{one: device}); n.in != &c.devices || n.as != as {
		n.enterLocked(&c.devices, as) // where it can't it stays as it is
	}
	c.known[device] = sight{n.addr, time.Now()}
	if len(c.known) > maxKnown {
		longest := device
		for other, s := range c.known {
			if s.at.Before(c.known[longest].at) {
				longest = other
			}
		}
		delete(c.known, longest)
	}
}

func (n *counted) Close() error {
	n.crowd.mu.Lock()
	n.leaveLocked()
	n.crowd.mu.Unlock()
	return n.Conn.Close()
}
