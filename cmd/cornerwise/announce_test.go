package main

import (
	"fmt"
	"net"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/dns/dnsmessage"
)

// lookUp asks the network for the address of a name, as RFC 6762, 6.7 lets a plain
// resolver do: from a port of its own, answered to that port.
func lookUp(t *testing.T, name string, patience time.Duration) string {
	t.Helper()
	conn, err := net.ListenUDP("udp4", nil)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	question := dnsmessage.Message{Header: dnsmessage.Header{ID: 7},
		Questions: []dnsmessage.Question{{Name: dnsmessage.MustNewName(name + "."), Type: dnsmessage.TypeA, Class: dnsmessage.ClassINET}}}
	packed, err := question.Pack()
	if err != nil {
		t.Fatal(err)
	}
	buffer := make([]byte, 1500)
	for end := time.Now().Add(patience); time.Now().Before(end); {
		if _, err := conn.WriteTo(packed, &net.UDPAddr{IP: net.IPv4(224, 0, 0, 251), Port: 5353}); err != nil {
			t.Skipf("this network has no multicast: %v", err)
		}
		conn.SetReadDeadline(time.Now().Add(200 * time.Millisecond))
		n, _, err := conn.ReadFrom(buffer)
		if err != nil {
			continue
		}
		var answer dnsmessage.Message
		if err := answer.Unpack(buffer[:n]); err != nil || !answer.Response || answer.ID != 7 {
			t.Fatalf("the answer for %s: %v %+v, want a response with the question's id", name, err, answer.Header)
		}
		for _, r := range answer.Answers {
			if a, ok := r.Body.(*dnsmessage.AResource); ok && r.Header.Name.String() == name+"." {
				return net.IP(a.A[:]).String()
			}
		}
	}
	return ""
}

// withHost asks for a path by a name of ours.
func (s *server) withHost(host, path string) int {
	s.t.Helper()
	req, _ := http.NewRequest("GET", s.url+path, nil)
	req.Host = host
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		s.t.Fatal(err)
	}
	res.Body.Close()
	return res.StatusCode
}

func TestTheNameIsAnnounced(t *testing.T) {
	name := fmt.Sprintf("sewing-%d.local", os.Getpid())
	s, there := lan(t, "--name", name)
	port := there[strings.LastIndex(there, ":"):]
	if !strings.Contains(s.words, "http://"+name+port+"/") {
		t.Errorf("at the start: got %q, want the address by name", s.words)
	}
	if got := lookUp(t, name, 10*time.Second); got == "" || !strings.Contains(there, "//"+got+":") {
		t.Errorf("%s: got %q, want the address of %s", name, got, there)
	}
	for host, want := range map[string]int{name + port: 401, strings.ToUpper(name): 401, "other.local": 421, name + ".evil.example": 421, "x" + name: 421} {
		if got := s.withHost(host, "/api/v1/sessions"); got != want {
			t.Errorf("by the name %s: got %d, want %d", host, got, want)
		}
	}
	// Another one on this computer has the same addresses, and may have the name.
	if again, _ := lan(t, "--name", name); !strings.Contains(again.words, name) {
		t.Errorf("a second one on this computer: got %q, want the name", again.words)
	}
	s.stop(os.Interrupt)
}

func TestNoNameIsAnnounced(t *testing.T) {
	s, _ := lan(t, "--name", "none")
	if strings.Contains(s.words, ".local") {
		t.Errorf("at the start: got %q, want no name", s.words)
	}
	if got := s.withHost("cornerwise.local", "/healthz"); got != 421 {
		t.Errorf("by the usual name: got %d, want 421", got)
	}
	kept := start(t, t.TempDir()) // on loopback
	if got := kept.withHost("cornerwise.local", "/healthz"); got != 421 || strings.Contains(kept.words, ".local:") {
		t.Errorf("on loopback, by the usual name: got %d, want 421 and nothing announced", got)
	}
}
