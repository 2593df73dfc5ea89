package web_test

import (
	"fmt"
	"testing"
)

// 200 changes at once and 20 a second: what a tablet kept while it was away comes
// through, and no device floods the disk of the others.
func TestChangesOfADeviceAreLimited(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	here := h.state(id).Here
	v, other := h.visitor(), h.visitor()
	v.pair("token", h.web.Devices.Offer(false).Token)
	other.pair("token", h.web.Devices.Offer(false).Token)
	op := func(n int) string { return noteOp(fmt.Sprint("op", n), here, fmt.Sprint(n)) }
	n := 0
	got := v.op(id, op(n))
	for ; got.status == 200 && n < 5000; n++ {
		got = v.op(id, op(n+1))
	}
	if wait := got.header.Get("Retry-After"); got.status != 429 || n < 200 || wait != "1" {
		t.Fatalf("change %d: got %d %s, Retry-After %q; want 429 after 200 and some, and 1 s", n+1, got.status, got.body, wait)
	}
	if rev := h.state(id).Rev; rev != int64(n)+1 {
		t.Errorf("after it: rev %d, want %d, as many as were taken", rev, n+1)
	}
	// The same over the live connection: one allowance for both.
	d, _ := v.join(id)
	d.next()
	refused := false
	for i := 0; i < 100 && !refused; i++ {
		d.send(op(10000 + i))
		for {
			m := d.next()
			if m.Nack != nil {
				refused = m.Error.Code == "too-fast" && sentence(m.Error.Message)
			}
			if m.Nack != nil || m.Ack != nil {
				break
			}
		}
	}
	if !refused {
		t.Errorf("100 more over the live connection: all taken, want too-fast")
	}
	if got := v.get(at(id)); got != 200 {
		t.Errorf("looking meanwhile: got %d, want 200", got)
	}
	if got := other.op(id, op(20000)); got.status != 200 {
		t.Errorf("another device meanwhile: got %d, want 200", got.status)
	}
	for i := range 250 {
		h.must(200, "POST", at(id, "ops"), op(30000+i), nil) // the owner has no limit
	}
}

func TestLiveConnectionsOfADeviceAreLimited(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	v, other := h.visitor(), h.visitor()
	v.pair("token", h.web.Devices.Offer(false).Token)
	other.pair("token", h.web.Devices.Offer(false).Token)
	var lines []*device
	for n := range 16 {
		d, status := v.join(id)
		if d == nil {
			t.Fatalf("live connection %d: got %d, want 101", n+1, status)
		}
		lines = append(lines, d)
		d.next()
	}
	if _, status := v.join(id); status != 429 {
		t.Errorf("live connection 17: got %d, want 429", status)
	}
	if _, status := other.join(id); status != 101 {
		t.Errorf("of another device: got %d, want 101", status)
	}
	lines[0].conn.Close()
	for n := 0; ; n++ {
		if _, status := v.join(id); status == 101 {
			break
		} else if n == 500 {
			t.Fatalf("after one was closed: got %d, want 101", status)
		}
	}
	for range 40 {
		h.join(id, "") // the owner has no limit
	}
}
