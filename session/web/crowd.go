package web

import (
	"net"
	"net/netip"
	"sync"
)

const (
	// A browser opens 6 connections to a host, and a live one for each tab.
	mostConns       = 512 // of other devices, in all
	mostConnsOfEach = 64

	mostLives       = 256 // live connections of other devices, in all
	mostLivesOfEach = 16
)

// A count counts what each key holds, up to a limit for each and one for all.
type count struct {
	all, each int

	mu   sync.Mutex
	held map[string]int
	sum  int
}

func newCount(all, each int) *count { return &count{all: all, each: each, held: map[string]int{}} }

// take is false where the key, or all, hold as much as they may.
func (c *count) take(key string) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.sum >= c.all || c.held[key] >= c.each {
		return false
	}
	c.held[key]++
	c.sum++
	return true
}

func (c *count) give(key string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.sum--
	if c.held[key]--; c.held[key] == 0 {
		delete(c.held, key)
	}
}

// Crowd is the listener with a limit on the connections of each device and of all:
// past it they are closed as they come. This computer's own are not counted, so
// that the owner always gets in.
func Crowd(listener net.Listener) net.Listener {
	return &crowd{listener, newCount(mostConns, mostConnsOfEach)}
}

type crowd struct {
	net.Listener
	conns *count
}

func (c *crowd) Accept() (net.Conn, error) {
	for {
		conn, err := c.Listener.Accept()
		if err != nil {
			return nil, err
		}
		remote, err := netip.ParseAddrPort(conn.RemoteAddr().String())
		if err == nil && remote.Addr().Unmap().IsLoopback() {
			return conn, nil
		}
		key := neighbour(remote.Addr())
		if c.conns.take(key) {
			return &counted{Conn: conn, end: sync.OnceFunc(func() { c.conns.give(key) })}, nil
		}
		conn.Close()
	}
}

type counted struct {
	net.Conn
	end func()
}

func (c *counted) Close() error {
	c.end()
	return c.Conn.Close()
}
