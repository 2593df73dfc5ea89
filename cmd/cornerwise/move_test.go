package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// A computer that moves to another network answers for its name with its new
// address. The test runs itself anew in a network of its own, which takes root.
func TestTheNameFollowsTheAddress(t *testing.T) {
	long(t)
	ip := func(words string) {
		t.Helper()
		if out, err := exec.Command("ip", strings.Fields(words)...).CombinedOutput(); err != nil {
			t.Fatalf("ip %s: %v %s", words, err, out)
		}
	}
	if os.Getenv("CORNERWISE_TEST_ALONE") == "" {
		_, noIP := exec.LookPath("ip")
		_, noUnshare := exec.LookPath("unshare")
		if os.Geteuid() != 0 || noIP != nil || noUnshare != nil {
			t.Skip("needs root, ip and unshare")
		}
		if err := exec.Command("unshare", "-n", "true").Run(); err != nil {
			t.Skipf("no network of its own to be had here: %v", err)
		}
		again := exec.Command("unshare", "-n", os.Args[0], "-test.run", "^TestTheNameFollowsTheAddress$", "-test.v")
		again.Env = append(os.Environ(), "CORNERWISE_TEST_ALONE=1")
		if out, err := again.CombinedOutput(); err != nil {
			t.Errorf("in a network of its own: %v\n%s", err, out)
		} else if strings.Contains(string(out), "--- SKIP") {
			t.Skipf("in a network of its own: %s", out)
		}
		return
	}
	ip("link set lo up")
	if out, err := exec.Command("ip", "link", "add", "sewing0", "type", "veth", "peer", "name", "tablet0").CombinedOutput(); err != nil {
		t.Skipf("no network of two ends to be had here: %s", out)
	}
	ip("link set tablet0 up")
	ip("link set sewing0 up")
	ip("addr add 192.168.7.2/24 dev sewing0")
	ip("route add 224.0.0.0/4 dev sewing0")
	s, _ := lan(t, "--name", "sewing.local")
	if got := lookUp(t, "sewing.local", 10*time.Second); got != "192.168.7.2" {
		t.Fatalf("at first: got %q, want 192.168.7.2", got)
	}
	ip("addr flush dev sewing0")
	ip("addr add 192.168.9.9/24 dev sewing0")
	ip("route replace 224.0.0.0/4 dev sewing0")
	for end := time.Now().Add(20 * time.Second); ; {
		if got := lookUp(t, "sewing.local", time.Second); got == "192.168.9.9" {
			break
		} else if time.Now().After(end) {
			t.Fatalf("after the move: got %q, want 192.168.9.9; stderr %s", got, s.stderr)
		}
	}
	var offer struct{ Addresses []string }
	if status, err := s.call("POST", "/api/v1/offers", "{}", &offer); status != 201 || len(offer.Addresses) != 1 || !strings.Contains(offer.Addresses[0], "//192.168.9.9:") {
		t.Errorf("the ways in after the move: got %d %v %v, want the new address", status, offer, err)
	}
}
