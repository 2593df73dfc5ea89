package main

import (
	"net"
	"net/netip"
	"strings"
	"testing"
)

// Over plain http from another device a page has no worker, no locks and no secure
// context. 127.0.0.1 hides that; the address of this computer in its network does not.
func TestPlainHTTPGoesOnToo(t *testing.T) {
	t.Parallel()
	address := ownAddress()
	if address == "" {
		t.Skip("this computer is on no network")
	}
	b := newBrowser(t)
	data := t.TempDir()
	listen := net.JoinHostPort(address, "0")
	s := start(t, data, "--open", "--listen", listen)
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id)
	d.inStep()
	if js[bool](d, `window.isSecureContext || "serviceWorker" in navigator`) {
		t.Fatalf("%s is a secure context; this proves nothing", s.url)
	}
	s.kill()
	d.away()
	d.press(ticks[0])
	d.isDone(ticks[0].ID)

	// Left now, the page could not be opened again, nor what waits be seen.
	d.tap(".menu summary")
	d.tap(`.menu a[href$="/sheet"]`)
	d.until("a word that the sheet can't be had", `!document.getElementById("warned").hidden && document.getElementById("warned").textContent.includes("needs the server")`)
	if at := js[string](d, `location.pathname`); at != "/s/"+id {
		t.Errorf("without the server the page went to %s, want it to stay", at)
	}
	d.tap("#warned button")

	s = start(t, data, "--open", "--listen", strings.TrimPrefix(s.url, "http://"))
	d.inStep()
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}
	d.tap(".menu summary")
	d.tap(`.menu a[href$="/sheet"]`)
	d.until("the sheet", `location.pathname.endsWith("/sheet")`)
}

// ownAddress is an address of this computer that is not loopback; "" when there is none.
func ownAddress() string {
	all, _ := net.InterfaceAddrs()
	for _, a := range all {
		prefix, err := netip.ParsePrefix(a.String())
		if err == nil && prefix.Addr().Is4() && prefix.Addr().IsGlobalUnicast() {
			return prefix.Addr().String()
		}
	}
	return ""
}
