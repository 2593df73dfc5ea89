package main

import (
	"strings"
	"testing"
)

// The pages where a device pairs are for the same fingers and eyes as the others: nothing to
// touch under 64 px, no text under 20 px, nothing wider than the screen, by day and
// by night, on a phone too (its 1 rem is 10 px: there 44 px and 15 px).
func TestThePagesOfTheDoorFit(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, there := lan(t, "--tls", "--demo")
	_, unsealed := lan(t)
	open := strings.Replace(there, "https:", "http:", 1)
	quilt := s.url + "/devices?quilt=" + s.planned(awayPlan)
	for _, size := range [][2]int64{{1080, 810}, {810, 1080}, {320, 640}} {
		d := b.tablet(size[0], size[1])
		target, text := 64, 20
		if size[0] < 600 {
			target, text = 44, 15
		}
		for _, page := range []struct{ name, url string }{
			{"devices", s.url + "/devices"}, {"devices-looks", s.url + "/devices?looks"}, {"devices-quilt", quilt}, {"along", s.url + "/along"}, {"trust", open + "/trust"}, {"pair", unsealed + "/pair"},
		} {
			for _, dark := range []bool{false, true} {
				if dark && size[0] != 810 {
					continue
				}
				d.dark(dark)
				d.open(page.url)
				small := js[[]string](d, `[...document.querySelectorAll("button, input:not([type=hidden]), select, a.button, summary")]
					.filter(e => e.getClientRects().length && e.getBoundingClientRect().height < %d - .5)
					.map(e => e.outerHTML.slice(0, 80) + " " + e.getBoundingClientRect().height)`, target)
				tiny := js[[]string](d, `[...document.querySelectorAll("main *")]
					.filter(e => e.getClientRects().length && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(e).fontSize) < %d)
					.map(e => e.outerHTML.slice(0, 80))`, text)
				wide := js[float64](d, `document.documentElement.scrollWidth - innerWidth`)
				if len(small)+len(tiny) > 0 || wide > 0 {
					t.Errorf("%s at %dx%d, dark %v: too small %q, tiny %q, %v px too wide", page.name, size[0], size[1], dark, small, tiny, wide)
				}
			}
			d.shot(page.name)
		}
	}
}

// A device that looks on has a screen without anything to press, and follows.
func TestADeviceThatLooksOn(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, there := lan(t, "--demo")
	var offer struct{ Token string }
	if status, err := s.call("POST", "/api/v1/offers", `{"looks": true}`, &offer); status != 201 {
		t.Fatalf("POST an offer: got %d %v", status, err)
	}
	d := b.tablet(1080, 810)
	d.open(there + "/pair#" + offer.Token)
	d.until("the first page", `location.pathname === "/" && document.querySelector("a.go")`)
	if shown := js[[]string](d, `[...document.querySelectorAll("main button, main .button")].filter(e => e.getClientRects().length).map(e => e.textContent)`); len(shown) > 0 {
		t.Errorf("the first page shows %q, want nothing to press", shown)
	}
	d.shot("home-looks")
	d.tap("a.go")
	d.until("the session", `document.querySelector("body[data-looks]") && document.readyState === "complete"`)
	if shown := js[[]string](d, `[...document.querySelectorAll("footer button, #undo, .fields input, .note")].filter(e => e.getClientRects().length).map(e => e.outerHTML.slice(0, 60))`); len(shown) > 0 {
		t.Errorf("the session shows %q, want nothing to press", shown)
	}
	if scrolls := js[bool](d, `document.documentElement.scrollHeight > innerHeight || document.documentElement.scrollWidth > innerWidth`); scrolls {
		t.Errorf("the session scrolls")
	}
	d.shot("session-looks")
	id := js[string](d, "document.body.dataset.id")
	tick := js[string](d, `document.querySelector("article.tick:not([hidden])").id.slice(2)`)
	if status, err := s.call("POST", "/api/v1/sessions/"+id+"/ops", `{"op": "1", "kind": "tick", "tick": "`+tick+`", "done": true}`, nil); status != 200 {
		t.Fatalf("tick %s at the computer: got %d %v", tick, status, err)
	}
	d.until("the tick of the computer", `document.getElementById("t-%s").dataset.state === "done"`, tick)
}
