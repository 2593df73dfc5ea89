package main

import (
	"strings"
	"syscall"
	"testing"

	"github.com/chromedp/chromedp"
)

// guest lets a tablet in for one quilt, as the computer's page would.
func (d *tablet) guest(s *server, there, id string, looks bool) {
	d.t.Helper()
	asked := `{"looks": false, "session": "` + id + `"}`
	if looks {
		asked = strings.Replace(asked, "false", "true", 1)
	}
	var offer struct{ Token string }
	if status, err := s.call("POST", "/api/v1/offers", asked, &offer); status != 201 {
		d.t.Fatalf("POST an offer: got %d %v", status, err)
	}
	d.open(there + "/pair#" + offer.Token)
	d.until("its quilt", `location.pathname === "/s/%s" && document.readyState === "complete"`, id)
}

// A tablet of one quilt comes to it by itself and works on it. Nothing on its screen leads
// elsewhere, nothing scrolls that does not on another.
func TestATabletOfOneQuilt(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, there := lan(t, "--demo")
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	for _, size := range [][2]int64{{1080, 810}, {400, 800}} {
		d := b.tablet(size[0], size[1])
		d.guest(s, there, id, size[0] < 600)
		d.inStep()
		d.shot("one-session")
		d.tap(".last .menu summary")
		if words := js[string](d, `document.querySelector(".last .menu .over").innerText`); strings.Contains(words, "All quilts") || strings.Contains(words, "Change") || !strings.Contains(words, "The plan") {
			t.Errorf("its menu says %q, want its quilt only, and the plan to read", words)
		}
		d.shot("one-menu")
		owner := b.tablet(size[0], size[1])
		owner.open(s.url + "/s/" + id + "/keep")
		owner.shot("one-keep")
		owner.tap(".tools a[href^='/devices']")
		owner.until("an offer for it", `document.querySelector(".offer h2").textContent.includes("only")`)
		d.open(there + "/s/" + id + "/plan")
		small := js[[]string](d, `[...document.querySelectorAll("button, input:not([type=hidden]), select")]
			.filter(e => e.getClientRects().length && !e.matches(":disabled")).map(e => e.outerHTML.slice(0, 80))`)
		if wide := js[float64](d, `document.documentElement.scrollWidth - innerWidth`); len(small) > 0 || wide > 0 {
			t.Errorf("the plan at %dx%d: %q can be pressed, %v px too wide", size[0], size[1], small, wide)
		}
		d.shot("one-plan")
		d.open(there + "/s/" + s.planned(awayPlan))
		d.until("word that there is no such quilt", `document.body.textContent.includes("no such session here")`)
		d.shot("one-elsewhere")
		d.tap("a.button")
		d.until("its quilt", `location.pathname === "/s/%s"`, id)
		d.inStep()
		if size[0] < 600 {
			continue
		}
		d.press(ticks[0])
		d.isDone(ticks[0].ID)
		d.inStep()

		computer := b.tablet(size[0], size[1])
		computer.open(s.url + "/devices?quilt=" + id)
		computer.until("the tablet, with what it sees", `document.querySelector(".in span").textContent.includes("sees only")`)
		computer.shot("one-devices")
		if status, err := s.call("DELETE", "/api/v1/sessions/"+id, "", nil); status != 200 {
			t.Fatalf("into the bin: got %d %v", status, err)
		}
		d.until("word that it is in the bin", `document.getElementById("warned").textContent.includes("taken out again at the computer")`)
		d.shot("one-binned")
		if status, err := s.call("POST", "/api/v1/sessions/"+id+"/restore", "", nil); status != 200 {
			t.Fatalf("out of the bin: got %d %v", status, err)
		}
	}
}

// A tablet that is let in anew for one quilt lets go of what it kept of the others, and starts
// without the server on that one, by the address of the first page too.
func TestAColdStartOnTheOnlyQuilt(t *testing.T) {
	b := newBrowser(t, chromedp.Flag("ignore-certificate-errors", true))
	s, there := lan(t, "--tls")
	its, other := s.planned(awayPlan), s.planned(awayPlan)
	d := b.tablet(1080, 810)
	var all struct{ Token string }
	if status, err := s.call("POST", "/api/v1/offers", `{"looks": false}`, &all); status != 201 {
		t.Fatalf("POST an offer: got %d %v", status, err)
	}
	d.open(there + "/pair#" + all.Token)
	d.until("the first page", `location.pathname === "/" && document.querySelector("a.go")`)
	for _, id := range []string{its, other} {
		d.open(there + "/s/" + id)
		d.keptByWorker(id)
	}
	d.open(there + "/")
	d.settled("the first page kept", `caches.match("/").then(r => r && !r.redirected && r.ok)`)

	d.guest(s, there, its, false)
	d.settled("nothing kept of the other", `Promise.all(["/s/%s", "/s/%s/drawings"].map(a => caches.match(a))).then(all => !all.some(r => r))`, other, other)
	d.keptByWorker(its)
	// Its first page leads on, which is not what a device sees that was put out.
	d.open(there + "/")
	d.until("its quilt", `location.pathname === "/s/%s"`, its)
	d.keptByWorker(its)

	s.stop(syscall.SIGTERM)
	for _, path := range []string{"/", "/s/" + its} {
		d.do(chromedp.Navigate("about:blank"))
		d.open(there + path)
		d.until("its quilt, as it was kept", `location.pathname === "/s/%s" && document.body.dataset.id === "%s"`, its, its)
		d.away()
	}
}
