package main

import (
	"io"
	"net"
	"strings"
	"sync"
	"testing"
)

// A network is the way from a browser to the server. It can go dead as Wi-Fi does:
// what is open stays open, and nothing comes through.
type network struct {
	url    string
	to     string
	listen net.Listener

	mu    sync.Mutex
	dark  bool // what is opened now is dead from the start
	wires map[*wire]bool
}

// A wire is one connection through the network.
type wire struct {
	near, far net.Conn
	dead      bool // with the network's mu
}

func newNetwork(t *testing.T, s *server) *network {
	t.Helper()
	listen, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	n := &network{url: "http://" + listen.Addr().String(), to: strings.TrimPrefix(s.url, "http://"),
		listen: listen, wires: map[*wire]bool{}}
	var carriers sync.WaitGroup
	carriers.Go(func() { n.accept(&carriers) })
	t.Cleanup(func() {
		listen.Close()
		n.each(func(p *wire) { p.near.Close(); p.far.Close() })
		carriers.Wait()
	})
	return n
}

func (n *network) accept(carriers *sync.WaitGroup) {
	for {
		near, err := n.listen.Accept()
		if err != nil {
			return
		}
		far, err := net.Dial("tcp", n.to)
		if err != nil {
			near.Close()
			continue
		}
		p := &wire{near: near, far: far}
		n.mu.Lock()
		p.dead = n.dark
		n.wires[p] = true
		n.mu.Unlock()
		carriers.Go(func() { n.carry(p, far, near) })
		carriers.Go(func() { n.carry(p, near, far) })
	}
}

// carry takes bytes across for as long as the wire is alive.
func (n *network) carry(p *wire, to, from net.Conn) {
	buffer := make([]byte, 32<<10)
	for {
		got, err := from.Read(buffer)
		n.mu.Lock()
		dead := p.dead
		n.mu.Unlock()
		if dead && err == nil {
			continue // swallowed
		}
		if got > 0 {
			if _, broken := to.Write(buffer[:got]); broken != nil {
				err = io.ErrClosedPipe
			}
		}
		if err != nil {
			p.near.Close()
			p.far.Close()
			n.mu.Lock()
			delete(n.wires, p)
			n.mu.Unlock()
			return
		}
	}
}

func (n *network) each(do func(*wire)) {
	n.mu.Lock()
	defer n.mu.Unlock()
	for p := range n.wires {
		do(p)
	}
}

// die kills what is open by now, without a word to either end. What is opened later
// works.
func (n *network) die() { n.each(func(p *wire) { p.dead = true }) }

// silence makes the network swallow everything, or lets through what is opened from
// now on.
func (n *network) silence(on bool) {
	n.mu.Lock()
	n.dark = on
	n.mu.Unlock()
	n.die()
}
