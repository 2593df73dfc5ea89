package web

import (
	"net"
	"net/netip"
	"sync"
)

const (
	// A browser opens 6 connections to a host, and a live one for each tab.
	maxConns       = 512 // of other devices, in all
	maxConnsOfEach = 64

	maxLives       = 256 // live connections of other devices, in all
	maxLivesOfEach = 16
)

// Crowd is the listener with a limit on the connections of each device and of all:
// past it they are closed as they come. This computer's own are not counted, so
// that the owner always gets in.
func Crowd(listener net.Listener) net.Listener {
	return &crowd{listener, newQuota(maxConns, maxConnsOfEach)}
}

type crowd struct {
	net.Listener
	conns *quota
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
		key := neighbor(remote.Addr())
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
