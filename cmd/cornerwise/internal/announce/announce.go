// Package announce announces the computer's name on its networks by mDNS (RFC 6762),
// so that other devices find it without its address.
//
// The name stands beside the address and not instead of it: tablets from before 2022 do not
// look up .local. Who else has the name is asked once, at the start. When the addresses change,
// the responder begins anew, because it answers only by the networks that it joined
// (TestTheNameFollowsTheAddress moves a computer to another network, where it may).
package announce

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

// Valid tells whether a name is one part below .local, as mDNS has them (RFC 6762, 3).
func Valid(name string) bool { return localName.MatchString(name) }

var localName = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.local$`)

const (
	askFor    = 300 * time.Millisecond // RFC 6762, 8.1: three questions 250 ms apart
	lookEvery = 5 * time.Second        // for an address that changed
)

// ErrTaken tells that another computer has the name.
var ErrTaken = errors.New("another computer on this network has the name")

// A Responder answers for a name (RFC 6762 calls it so) on the networks of this
// computer until it is closed. Its answers follow the addresses as they change.
type Responder struct {
	name      string
	listens   netip.Addr
	addresses func() []netip.Addr
	log       *slog.Logger
	once      sync.Once
	stop      chan struct{}
	ended     chan struct{}
}

// Start begins to answer for a name, now or once there is a network. listens is the
// address that the server listens on, which may be unspecified; addresses tells by which
// others reach it now. The error is ErrTaken where another computer has the name.
func Start(name string, listens netip.Addr, addresses func() []netip.Addr, log *slog.Logger) (*Responder, error) {
	if err := askWhoHas(name); errors.Is(err, ErrTaken) {
		return nil, err
	}
	r := &Responder{
		name:      name,
		listens:   listens.Unmap(),
		addresses: addresses,
		log:       log,
		stop:      make(chan struct{}),
		ended:     make(chan struct{}),
	}
	conn, err := r.respond()
	if err != nil {
		log.Warn("announce", "name", name, "err", err)
	}
	go r.run(conn)
	return r, nil
}

// Close ends it, and returns when it has ended. It is safe to repeat.
func (r *Responder) Close() {
	r.once.Do(func() { close(r.stop) })
	<-r.ended
}

// run begins anew when the addresses change: an answer goes out only by the networks
// that were there when the responder was made. conn is nil where there was none.
func (r *Responder) run(conn *mdns.Conn) {
	defer close(r.ended)
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	was := r.addresses()
	for {
		select {
		case <-r.stop:
			if conn != nil {
				conn.Close()
			}
			return
		case <-tick.C:
		}
		now := r.addresses()
		if conn != nil && slices.Equal(was, now) {
			continue
		}
		if conn != nil {
			conn.Close()
		}
		var err error
		if conn, err = r.respond(); err != nil {
			if !slices.Equal(was, now) {
				r.log.Warn("announce", "name", r.name, "err", err)
			}
			conn = nil // again at the next tick
		}
		was = now
	}
}

func (r *Responder) respond() (*mdns.Conn, error) {
	options := []mdns.ServerOption{mdns.WithLocalNames(r.name)}
	if !r.listens.IsUnspecified() {
		options = append(options, mdns.WithLocalAddress(r.listens.AsSlice()))
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

// askWhoHas is ErrTaken where another computer answers for the name.
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
	return ErrTaken
}
