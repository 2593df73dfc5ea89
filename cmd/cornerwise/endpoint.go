package main

import (
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"cornerwise/cmd/cornerwise/internal/addresses"
	"cornerwise/cmd/cornerwise/internal/announce"
	"cornerwise/cmd/cornerwise/internal/authority"
	"cornerwise/session/web"
)

// An endpoint is where the server is reached: what it listens on, the name that it
// announces, and the authority of its certificate.
type endpoint struct {
	net.Listener
	listens   netip.AddrPort
	name      string               // "" where none is announced
	authority *authority.Authority // nil without --tls
	responder *announce.Responder  // nil where no name is announced
}

// openEndpoint listens, and announces the name. An error is a whole sentence.
func openEndpoint(c config, log *slog.Logger) (*endpoint, error) {
	listener, err := listen(c)
	if err != nil {
		return nil, err
	}
	e := &endpoint{Listener: listener, listens: netip.MustParseAddrPort(listener.Addr().String())}
	if c.tls {
		if e.authority, err = authority.Open(c.data, time.Now(), e.reached()); err != nil {
			return nil, errors.Join(err, listener.Close())
		}
		if aside := e.authority.SetAside; len(aside) > 0 {
			log.Warn("the authority for https was not whole, and a new one was made; devices that trusted one before must trust this one",
				"kept", strings.Join(aside, " "))
		}
	}
	if e.authority != nil && e.authority.Wide() {
		// Devices trust it: it is not replaced unasked.
		log.Warn("the authority for https is an older one, which may sign for more than servers. "+
			"For a narrower one move both its files away, start again, open /trust on each device, "+
			"trust the new one there and remove the old one", "files", authority.Files(c.data))
	}
	// A name leads to IPv4 addresses only; a listener on :: takes those too.
	a := e.listens.Addr().Unmap()
	if c.name == noName || a.IsLoopback() || a.Is6() && !a.IsUnspecified() {
		return e, nil
	}
	e.responder, err = announce.Start(c.name, a, e.reached, log)
	if errors.Is(err, announce.ErrTaken) {
		log.Warn(err.Error()+"; --name gives this one another", "name", c.name)
		return e, nil
	}
	e.name = c.name
	return e, nil
}

func (e *endpoint) reached() []netip.Addr { return addresses.Of(e.listens.Addr()) }

// others are the URLs by which other devices come now, the likeliest first.
func (e *endpoint) others() (list []string) {
	for _, a := range e.reached() {
		list = append(list, e.url(a))
	}
	return list
}

// here is the address of the first page as one opens it on this computer, without the slash at
// its end.
func (e *endpoint) here() string {
	at := e.listens.Addr().Unmap()
	if at.IsUnspecified() {
		at = netip.AddrFrom4([4]byte{127, 0, 0, 1})
	}
	return e.url(at)
}

// url is what one types in a browser, without the slash at its end.
func (e *endpoint) url(a netip.Addr) string {
	scheme := e.scheme()
	if a.IsLoopback() {
		scheme = "http" // nothing goes over the network
	}
	return scheme + "://" + netip.AddrPortFrom(a, e.listens.Port()).String()
}

func (e *endpoint) scheme() string {
	if e.authority != nil {
		return "https"
	}
	return "http"
}

// authorityDER is the authority's certificate; nil without --tls.
func (e *endpoint) authorityDER() []byte {
	if e.authority == nil {
		return nil
	}
	return e.authority.DER()
}

// serve has the server answer, by http and, with --tls, by https on the same port,
// until it is shut down.
func (e *endpoint) serve(server *http.Server) error {
	if e.authority == nil {
		return server.Serve(web.Crowd(e, server))
	}
	plain, secure := web.Split(web.Crowd(e, server))
	secure = tls.NewListener(secure, &tls.Config{
		NextProtos: []string{"http/1.1"}, // the live line needs the connection for itself
		GetCertificate: func(*tls.ClientHelloInfo) (*tls.Certificate, error) {
			return e.authority.Certificate(time.Now(), e.name, e.reached())
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

// Close stops listening, and announcing the name. The server does it first.
func (e *endpoint) Close() error {
	if e.responder != nil {
		e.responder.Close()
	}
	return e.Listener.Close()
}
