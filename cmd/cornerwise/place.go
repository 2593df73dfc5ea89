package main

import (
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"time"

	"cornerwise/cmd/cornerwise/internal/addresses"
	"cornerwise/cmd/cornerwise/internal/announce"
	"cornerwise/cmd/cornerwise/internal/authority"
	"cornerwise/session/web"
)

// A place is where the server is reached: what it listens on, and the name that it
// announces.
type place struct {
	net.Listener
	at     netip.AddrPort
	name   string               // "" where none is announced
	trust  *authority.Authority // nil without --tls
	spoken *announce.Responder
}

func openPlace(c config, log *slog.Logger) (*place, error) {
	listener, err := net.Listen("tcp", c.listen)
	if err != nil {
		return nil, listenTrouble(c, err)
	}
	p := &place{Listener: listener, at: netip.MustParseAddrPort(listener.Addr().String())}
	if c.tls {
		if p.trust, err = authority.Open(c.data, time.Now(), p.reached()); err != nil {
			return nil, errors.Join(err, listener.Close())
		}
	}
	// A name leads to IPv4 addresses only; the wildcard of IPv6 takes those too.
	if a := p.at.Addr().Unmap(); c.name == noName || a.IsLoopback() || a.Is6() && !a.IsUnspecified() {
		return p, nil
	}
	p.spoken, err = announce.Start(c.name, p.at.Addr(), p.reached, log)
	if errors.Is(err, announce.ErrTaken) {
		log.Warn("another computer on this network has the name; --name gives this one another", "name", c.name)
		return p, nil
	}
	p.name = c.name
	return p, nil
}

func (p *place) reached() []netip.Addr { return addresses.Of(p.at.Addr()) }

// others are the addresses by which other devices come now, the likeliest first.
func (p *place) others() (list []string) {
	for _, a := range p.reached() {
		list = append(list, p.address(a))
	}
	return list
}

// address is as one types it for a browser, without the slash at its end.
func (p *place) address(a netip.Addr) string {
	scheme := p.scheme()
	if a.IsLoopback() {
		scheme = "http" // nothing goes over the network
	}
	return scheme + "://" + netip.AddrPortFrom(a, p.at.Port()).String()
}

func (p *place) scheme() string {
	if p.trust != nil {
		return "https"
	}
	return "http"
}

// certificate is the authority's, in DER; nil without --tls.
func (p *place) certificate() []byte {
	if p.trust == nil {
		return nil
	}
	return p.trust.DER()
}

// serve has the server answer, by http and, with --tls, by https on the same port,
// until it is shut down.
func (p *place) serve(server *http.Server) error {
	if p.trust == nil {
		return server.Serve(web.Crowd(p))
	}
	plain, secure := web.Split(web.Crowd(p))
	secure = tls.NewListener(secure, &tls.Config{
		NextProtos: []string{"http/1.1"}, // the live line needs the connection for itself
		GetCertificate: func(*tls.ClientHelloInfo) (*tls.Certificate, error) {
			return p.trust.Certificate(time.Now(), p.name, p.reached())
		},
	})
	failed := make(chan error, 2)
	go func() { failed <- server.Serve(plain) }()
	go func() { failed <- server.Serve(secure) }()
	err := <-failed
	plain.Close()
	<-failed
	return err
}

// Close stops listening, and answering for the name. The server does it first.
func (p *place) Close() error {
	if p.spoken != nil {
		p.spoken.Close()
	}
	return p.Listener.Close()
}
