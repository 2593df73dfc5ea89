package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/netip"
	"regexp"
	"slices"
	"sync"
	"time"

	"github.com/pion/mdns/v2"
	"golang.org/x/net/ipv4"
)

// noName is what --name says where nothing is to be announced.
const noName = "none"

// localName is a name of one part below .local, as mDNS has them (RFC 6762, 3).
var localName = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.local$`)

const (
	askFor    = 300 * time.Millisecond // RFC 6762, 8.1: three questions, 250 ms apart, are enough
	lookEvery = 5 * time.Second        // for an address that changed
)

var errNameTaken = errors.New("another computer on this network has the name")

// An announcement answers for a name on the networks of this computer until it is
// closed. What it answers follows the addresses as they change.
type announcement struct {
	name   string
	listen netip.Addr
	log    *slog.Logger
	once   sync.Once
	stop   chan struct{}
	ended  chan struct{}
}

// announce begins to answer for the name, now or once there is a network. It is
// errNameTaken where someone else answers.
func announce(name string, listen netip.Addr, log *slog.Logger) (*announcement, error) {
	if err := askWhoHas(name); errors.Is(err, errNameTaken) {
		return nil, err
	}
	a := &announcement{name: name, listen: listen.Unmap(), log: log, stop: make(chan struct{}), ended: make(chan struct{})}
	conn, err := a.answer()
	if err != nil {
		log.Warn("announce", "name", name, "err", err)
	}
	go a.run(conn)
	return a, nil
}

// Close ends it, and returns when it has ended. It is safe to repeat.
func (a *announcement) Close() {
	a.once.Do(func() { close(a.stop) })
	<-a.ended
}

// run begins anew when the addresses change: an answer goes out by the networks
// that were there when it began.
func (a *announcement) run(conn *mdns.Conn) {
	defer close(a.ended)
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	was := neighbours(a.listen)
	for {
		select {
		case <-a.stop:
			if conn != nil {
				conn.Close()
			}
			return
		case <-tick.C:
		}
		now := neighbours(a.listen)
		if conn != nil && slices.Equal(was, now) {
			continue
		}
		if conn != nil {
			conn.Close()
		}
		var err error
		if conn, err = a.answer(); err != nil {
			if !slices.Equal(was, now) {
				a.log.Warn("announce", "name", a.name, "err", err)
			}
			conn = nil // again at the next tick
		}
		was = now
	}
}

func (a *announcement) answer() (*mdns.Conn, error) {
	options := []mdns.ServerOption{mdns.WithLocalNames(a.name)}
	if !a.listen.IsUnspecified() {
		options = append(options, mdns.WithLocalAddress(a.listen.AsSlice()))
	}
	return openMDNS(options...)
}

func openMDNS(options ...mdns.ServerOption) (*mdns.Conn, error) {
	at, err := net.ResolveUDPAddr("udp4", mdns.DefaultAddressIPv4)
	if err != nil {
		return nil, fmt.Errorf("announce a name: %w", err)
	}
	// Go shares the port of a multicast address with the system's own responder.
	listener, err := net.ListenUDP("udp4", at)
	if err != nil {
		return nil, fmt.Errorf("announce a name: %w", err)
	}
	conn, err := mdns.NewServer(ipv4.NewPacketConn(listener), nil, options...)
	if err != nil {
		listener.Close()
		return nil, fmt.Errorf("announce a name: %w", err)
	}
	return conn, nil
}

// askWhoHas is errNameTaken where another computer answers for the name.
func askWhoHas(name string) error {
	conn, err := openMDNS()
	if err != nil {
		return err
	}
	defer conn.Close()
	ctx, done := context.WithTimeout(context.Background(), askFor)
	defer done()
	_, who, err := conn.QueryAddr(ctx, name)
	if err != nil {
		return nil // no one
	}
	own, _ := net.InterfaceAddrs()
	for _, one := range own {
		if prefix, err := netip.ParsePrefix(one.String()); err == nil && prefix.Addr() == who.Unmap() {
			return nil
		}
	}
	return errNameTaken
}
