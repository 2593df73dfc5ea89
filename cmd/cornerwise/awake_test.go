package main

import (
	"net"
	"strings"
	"testing"
)

const (
	staysOn = `(m => m && !m.hidden && m.dataset.awake === "on" && m.textContent === "Screen stays on")(document.querySelector(".awake"))`
	mayGo   = `(m => m && !m.hidden && m.dataset.awake !== "on" && m.textContent === "Screen may go dark")(document.querySelector(".awake"))`
)

// The mark says that the screen stays on once the browser said so: by its lock on this
// computer, by a film over plain http, where it has no lock. Neither goes on when the page is
// out of sight or the quilt is done.
func TestTheScreenIsKeptOn(t *testing.T) {
	t.Parallel()
	address := ownAddress()
	if address == "" {
		t.Skip("this computer is on no network")
	}
	b := newBrowser(t)
	s := start(t, t.TempDir(), "--open", "--listen", net.JoinHostPort("", "0"))
	_, port, err := net.SplitHostPort(strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	id := s.planned(awayPlan)
	for _, c := range []struct{ name, host, held, let string }{
		{"by a lock", "127.0.0.1", `awake.lock && !awake.lock.released && !awake.film`, `!awake.lock`},
		{"by a film", address, `!navigator.wakeLock && awake.film.muted === false && awake.film.volume === 1 && !awake.film.loop && !awake.film.paused && awake.film.offsetWidth === 1`, `awake.film.paused && !awake.plays`},
	} {
		d := b.tablet(1080, 810)
		page := "http://" + net.JoinHostPort(c.host, port) + "/s/" + id
		d.open(page)
		d.inStep()
		if js[bool](d, `typeof awake !== "undefined" || !!document.querySelector(".awake")`) {
			t.Errorf("%s: a screen is kept on that nobody asked for", c.name)
		}
		d.tap(".menu summary")
		d.tap(`.menu [data-set="awake"]`)
		d.until(c.name+", the mark", staysOn)
		d.until(c.name+", the screen kept on", "%s", c.held)
		d.everySize("970-awake-"+c.name[5:], nil)
		d.tap("h1")
		d.everySize("971-awake-"+c.name[5:], d.fits)

		hide := func(hidden bool) {
			js[bool](d, `(() => { Object.defineProperty(document, "hidden", {value: %t, configurable: true}); document.dispatchEvent(new Event("visibilitychange")); return true })()`, hidden)
		}
		hide(true)
		d.until(c.name+", let go out of sight", "%s", c.let)
		hide(false)
		d.until(c.name+", kept on again", "%s && %s", staysOn, c.held)

		// The film goes on past its end.
		if js[bool](d, `!!awake.film`) {
			js[bool](d, `(() => { awake.film.currentTime = 5.5; return true })()`)
			d.until("the film wound back", `awake.film.currentTime < 3 && !awake.film.paused`)
		}

		d.tap(".menu summary")
		d.tap(`.menu [data-set="awake"]`)
		d.until(c.name+", let go by the switch", `%s && document.querySelector(".awake").hidden`, c.let)
		d.tap(`.menu [data-set="awake"]`)
		d.until(c.name+", kept on anew", "%s", c.held)

		// A page that is opened may want a touch first; the mark tells the truth meanwhile.
		d.open(page)
		d.until("a mark", "%s || %s", staysOn, mayGo)
		d.tap("h1")
		d.until(c.name+", kept on after a touch", "%s && %s", staysOn, c.held)
	}

	d := b.tablet(1080, 810)
	d.open("http://" + net.JoinHostPort(address, port) + "/s/" + id)
	d.inStep()
	js[bool](d, `(() => { HTMLMediaElement.prototype.play = () => Promise.reject(new DOMException("no", "NotSupportedError")); return true })()`)
	d.tap(".menu summary")
	d.tap(`.menu [data-set="awake"]`)
	d.until("the truth where neither works", `%s && !el("warned").hidden && el("warned").textContent.includes("This browser can’t keep the screen on.")`, mayGo)
	d.everySize("972-awake-not", nil)
	d.tap("#warned button")
	d.tap("h1")
	d.until("the end of asking", `!awake.asking`)
	if !js[bool](d, `el("warned").hidden`) {
		t.Error("it is told again at each touch")
	}
	d.open(js[string](d, "location.href")) // with a browser that can
	d.until("a mark", "%s || %s", staysOn, mayGo)
	d.tap("h1")
	d.until("the screen kept on", staysOn)
	for _, tick := range allTicks(t, s, id) {
		s.op(id, `{"op": "op-%s", "kind": "tick", "tick": %q, "done": true}`, tick.ID, tick.ID)
	}
	d.until("the end, and the screen let go", `!el("end").hidden && awake.film.paused && document.querySelector(".awake").hidden`)
}
