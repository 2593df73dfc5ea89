package main

import (
	"testing"
	"time"
)

// A tablet that has added all that it may goes on in its page: what is ticked waits there, with
// a word about what to do, and is sent by itself once the computer allows it more.
func TestATickWaitsUntilTheComputerAllowsMore(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, there := lan(t)
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	d := b.tablet(1080, 810)
	var offer struct{ Token string }
	if status, err := s.call("POST", "/api/v1/offers", `{"looks": false}`, &offer); status != 201 {
		t.Fatalf("POST an offer: got %d %v", status, err)
	}
	d.open(there + "/pair#" + offer.Token)
	d.until("the first page", `location.pathname === "/" && document.querySelector("a.go")`)
	d.open(there + "/s/" + id)
	d.inStep()
	d.addsAll(s, id)

	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	d.until("word of what to do", `!document.getElementById("warned").hidden && document.getElementById("warned").textContent.includes("touch Allow more")`)
	d.shot("allow-asked")
	d.tap("#warned button")
	d.press(ticks[1])
	d.isDone(ticks[1].ID)
	d.until("that it was tried again", `waiting.length === 2 && tries > 2`)
	if said := js[string](d, `document.getElementById("warned").textContent + document.getElementById("refused").hidden`); said != "Understoodtrue" {
		t.Errorf("tried again, the page says %q, want it said once and nothing refused", said)
	}
	d.open(there + "/s/" + id)
	d.until("both waiting after a reload", `document.readyState === "complete" && waiting.length === 2`)

	computer := b.tablet(1080, 810)
	computer.open(s.url + "/devices")
	computer.until("what it has added", `document.querySelector(".in li").textContent.includes("has added 16 of 16 MiB")`)
	computer.shot("allow-devices")
	computer.resize(400, 800)
	computer.shot("allow-devices")
	computer.tap(`.in form[action$="/allow"] button`)
	computer.until("no word of it", `!document.querySelector(".in li").textContent.includes("has added")`)
	d.inStep()
	for _, tick := range ticks[:2] {
		if n := s.inHistory(id, func(kind, is, _ string) bool { return kind == "tick" && is == tick.ID }); n != 1 {
			t.Errorf("the tick %s stands %d times in the history, want once", tick.ID, n)
		}
	}
}

// addsAll has the page's device import 3,900 notes, and add more until no op is short enough. It
// does a part at a time: on a busy machine the whole takes longer than a page may be asked for.
func (d *tablet) addsAll(s *server, id string) {
	d.t.Helper()
	imported := js[int](d, `(async () => {
		window.bring = (path, what) => fetch("/api/v1/" + path, {method: "POST", credentials: "same-origin",
			headers: {"Content-Type": "application/json"}, body: JSON.stringify(what)});
		window.aNote = (op, n) => ({op: op, kind: "note", step: "%[2]s", text: "\u{1f9f5}".repeat(n)});
		const was = await (await fetch("/api/v1/sessions/%[1]s/export")).json();
		const first = was.history[0];
		for (let n = 0; n < 3900; n++) {
			was.history.push(Object.assign(aNote("n" + n, 1000), {rev: n + 2, at: first.at, edition: first.edition}));
		}
		return (await bring("import", was)).status;
	})()`, id, s.here(id))
	if imported != 201 {
		d.t.Fatalf("an import of 3,900 notes: got %d, want 201", imported)
	}
	for n, length := 0, 1000; length > 0; n++ {
		switch status := js[int](d, `bring("sessions/%s/ops", aNote("m%d", %d)).then(res => res.status)`, id, n, length); status {
		case 200:
		case 429:
			time.Sleep(100 * time.Millisecond)
		case 403:
			length /= 10
		default:
			d.t.Fatalf("a note of %d characters: got %d, want 200 until it is 403", length, status)
		}
	}
}
