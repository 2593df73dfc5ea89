package web_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
	"cornerwise/session/web"
)

// A street is a network on which anyone may come from any address.
type street struct {
	t    *testing.T
	h    *house
	come pipes
}

// A comer is one end of a connection whose other end says where it is from.
type comer struct {
	net.Conn
	from net.Addr
}

func (c comer) RemoteAddr() net.Addr { return c.from }

func openStreet(t *testing.T) *street {
	s := &street{t, openHouse(t), make(pipes)}
	server := &http.Server{Handler: s.h.web.Handler()}
	served := make(chan struct{})
	go func() {
		defer close(served)
		server.Serve(web.Crowd(s.come, server))
	}()
	t.Cleanup(func() {
		close(s.come)
		server.Close()
		<-served
	})
	return s
}

// A caller is a connection from an address.
type caller struct {
	net.Conn
	from *bufio.Reader
}

func (s *street) dial(address string) caller {
	here, there := net.Pipe()
	s.come <- comer{there, &net.TCPAddr{IP: net.ParseIP(address), Port: 50000}}
	s.t.Cleanup(func() { here.Close() })
	here.SetDeadline(time.Now().Add(patience))
	return caller{here, bufio.NewReader(here)}
}

// ask sends a request and reads the reply; the connection stays open.
func (c caller) ask(method, path, cookie, body string) (*http.Response, error) {
	_, err := fmt.Fprintf(c, "%s %s HTTP/1.1\r\nHost: %s\r\nCookie: cornerwise-device=%s\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: %d\r\n\r\n%s",
		method, path, hers, cookie, len(body), body)
	if err != nil {
		return nil, err
	}
	res, err := http.ReadResponse(c.from, nil)
	if err == nil {
		_, err = io.Copy(io.Discard, res.Body)
	}
	return res, err
}

// crowdIn has strangers open 64 connections each; some of them are closed for others.
func (s *street) crowdIn(addresses int, form string, begin func(caller)) (all []caller) {
	for n := range addresses {
		for range 64 {
			c := s.dial(fmt.Sprintf(form, n+1))
			begin(c)
			all = append(all, c)
		}
	}
	return all
}

// Strangers who hold every connection that they can get keep out neither the tablet that is to
// be paired nor those that are: whether they say nothing, or asked once, or are in the middle
// of a request; by IPv4 or from one network of IPv6.
func TestStrangersKeepNoTabletOut(t *testing.T) {
	for name, begin := range map[string]func(caller){
		"say nothing":  func(caller) {},
		"asked once":   func(c caller) { c.ask("GET", "/healthz", "", "") },
		"ask for ever": func(c caller) { io.WriteString(c, "POST /pair HTTP/1.1\r\nContent-Length: 9\r\n") },
	} {
		for _, net := range []struct{ strangers, tablet, second string }{
			{"192.168.7.%d", "192.168.7.201", "192.168.7.202"},
			{"fd00::%x", "fd00::201", "fd00::202"},
		} {
			t.Run(name+" from "+net.tablet, func(t *testing.T) {
				s := openStreet(t)
				pair := func(address string) (caller, string) {
					t.Helper()
					c := s.dial(address)
					res, err := c.ask("POST", "/pair", "", url.Values{"token": {s.h.web.Devices.Offer(session.Rights{}).Token}}.Encode())
					if err != nil || res.StatusCode != 303 || len(res.Cookies()) != 1 {
						t.Fatalf("POST /pair from %s: got %v, %v, want it let in", address, res, err)
					}
					return c, res.Cookies()[0].Value
				}
				in := func(what string, c caller, secret string) {
					t.Helper()
					if res, err := c.ask("GET", "/api/v1/sessions", secret, ""); err != nil || res.StatusCode != 200 {
						t.Errorf("%s: got %v, %v, want 200", what, res, err)
					}
				}
				first, secret := pair(net.tablet)
				in("the first tablet, paired", first, secret)
				s.crowdIn(10, net.strangers, begin)
				in("its open connection beside strangers", first, secret)
				in("another one of its", s.dial(net.tablet), secret)
				second, other := pair(net.second)
				in("a tablet that was paired beside strangers", second, other)
				s.crowdIn(10, strings.Replace(net.strangers, "%", "1%", 1), begin)
				in("its open connection beside more strangers", second, other)
				in("the first one's", first, secret)
				in("another one of the first's", s.dial(net.tablet), secret)
			})
		}
	}
}

// Devices that are in have no more than a share either: who is not in yet finds another.
func TestDevicesKeepNoTabletOut(t *testing.T) {
	s := openStreet(t)
	for n := range 5 {
		v := s.h.visitor()
		v.pair("token", s.h.web.Devices.Offer(session.Rights{}).Token)
		secret := v.cookies["cornerwise-device"].Value
		for i := range 70 { // 64, and the rest as strangers
			if res, err := s.dial(fmt.Sprintf("fd00::%x:%x", n+1, i+1)).ask("GET", "/api/v1/sessions", secret, ""); err != nil || res.StatusCode != 200 {
				t.Fatalf("device %d, connection %d: got %v, %v, want 200", n+1, i+1, res, err)
			}
		}
	}
	res, err := s.dial("192.168.7.9").ask("POST", "/pair", "", url.Values{"token": {s.h.web.Devices.Offer(session.Rights{}).Token}}.Encode())
	if err != nil || res.StatusCode != 303 {
		t.Errorf("POST /pair beside them: got %v, %v, want it let in", res, err)
	}
}

// Who is let in without pairing is counted by address, and with the others in its network.
func TestAnOpenServerCountsAddressesAndNetworks(t *testing.T) {
	s := openStreet(t)
	s.h.web.Open = true
	id := s.h.begin()
	join := func(address string) int {
		t.Helper()
		c := s.dial(address)
		fmt.Fprintf(c, "GET %s HTTP/1.1\r\nHost: %s\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n\r\n", at(id, "live"), hers)
		res, err := http.ReadResponse(c.from, nil)
		if err != nil {
			t.Fatal(err)
		}
		go io.Copy(io.Discard, c.from)
		return res.StatusCode
	}
	for n := range 4 {
		for range 16 {
			if got := join(fmt.Sprintf("fd00::%x", n+1)); got != 101 {
				t.Fatalf("address %d: got %d, want 101", n+1, got)
			}
		}
		if n == 0 {
			if got := join("fd00::1"); got != 429 {
				t.Errorf("line 17 of one address: got %d, want 429", got)
			}
		}
	}
	if got := join("fd00::5"); got != 429 {
		t.Errorf("line 65 of one network: got %d, want 429", got)
	}
	if got := join("192.168.7.9"); got != 101 {
		t.Errorf("from elsewhere: got %d, want 101", got)
	}
}
