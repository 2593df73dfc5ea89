package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// Over https a paired tablet starts without the server as this computer does; put
// out, it keeps nothing. The browser is told to trust the certificate: what a person
// does on the page about trust is not for this test.
func TestAColdStartOverHTTPS(t *testing.T) {
	b := newBrowser(t, chromedp.Flag("ignore-certificate-errors", true))
	data := t.TempDir()
	s, there := lan(t, "--data", data, "--tls", "--demo")
	d := b.tablet(1080, 810)
	code := regexp.MustCompile(`code (\d{4} \d{4})\.`).FindStringSubmatch(s.words)
	if code == nil {
		t.Fatalf("at the start: printed %q, want a code", s.words)
	}
	d.open(there + "/")
	d.until("the page where it pairs", `location.pathname === "/pair"`)
	d.fill("#code", code[1])
	d.tap("#pair button")
	d.until("the first page", `location.pathname === "/" && document.querySelector("a.go")`)
	d.tap("a.go")
	d.until("the session", `document.readyState === "complete" && document.body.dataset.id`)
	id := js[string](d, `document.body.dataset.id`)
	if !js[bool](d, `location.protocol === "https:" && isSecureContext`) {
		t.Fatal("the page did not come by https; this proves nothing")
	}
	ticks := allTicks(t, s, id)
	d.keptByWorker(id)
	for _, address := range d.keptAddresses() {
		if strings.HasPrefix(address, "/pair") || strings.HasPrefix(address, "/devices") || strings.HasPrefix(address, "/api") {
			t.Errorf("the worker keeps %s", address)
		}
	}

	s.kill()
	d.do(chromedp.Navigate("about:blank"))
	d.open(there + "/s/" + id)
	d.away()
	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	_, port, _ := strings.Cut(strings.TrimPrefix(there, "https://"), ":")
	s = start(t, data, "--listen", ":"+port, "--tls")
	d.inStep()
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}

	if status, err := s.call("POST", "/devices/forget", "", nil); status >= 400 || err != nil {
		t.Fatalf("forget all devices: got %d %v", status, err)
	}
	d.open(there + "/s/" + id)
	d.until("the page where it pairs", `location.pathname === "/pair"`)
	d.settled("nothing kept of the sessions", `caches.has("cornerwise-pages").then(has => !has)`)
}
