package main

import (
	"strings"
	"testing"
	"time"
)

// What a screen reader is told: each tick once, and none of one's own as somebody else's.
func TestEachTickIsAnnouncedOnce(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	ticks := allTicks(t, s, id)[:9]
	d.until("the first tick", tickShows, ticks[0].ID)
	js[bool](d, `(() => {
		window.told = [];
		new MutationObserver(() => told.push(document.getElementById("said").textContent))
			.observe(document.getElementById("said"), { childList: true, characterData: true, subtree: true });
		return true;
	})()`)
	for n, tick := range ticks {
		time.Sleep(400 * time.Millisecond)
		d.tap("#do")
		d.until(tick.ID+" done and heard of", `document.getElementById("t-%s").dataset.state === "done" && document.getElementById("sync").dataset.sync === "in"`, tick.ID)
		d.until("its own telling to have come", `work.rev === %d`, n+2)
	}
	told := js[[]string](d, `told`)
	if len(told) != len(ticks) {
		t.Errorf("%d ticks: %d things said, want one for each: %s", len(ticks), len(told), strings.Join(told, " | "))
	}
	s.op(id, `{"op": "other", "kind": "tick", "tick": %q, "done": true}`, allTicks(t, s, id)[9].ID)
	d.until("a tick from elsewhere to be said", `told[told.length-1].startsWith("Elsewhere: ")`)
}

func TestOneStepAtMostIsTheCurrentOne(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	const current = `document.querySelectorAll("[aria-current=step]").length`
	for _, until := range []string{"", "cut.1.left.cut", "miter.1.folded", "miter.3.sewn", "press.2.opened"} {
		if until != "" {
			s.goOn(id, until)
			d.until("work at "+until, tickShows, until)
		}
		for _, path := range []string{"", "/stage/miter", "/step/corner-1"} {
			d.open(s.url + "/s/" + id + path)
			d.until("the page", `document.readyState === "complete"`)
			if n := js[int](d, current); n != 1 {
				t.Errorf("work at %s, page %q: %d steps are the current one, want 1", until, path, n)
			}
		}
		d.tap(`a.stage[data-stage="press"]`)
		d.until("the list", `document.body.dataset.view === "list"`)
		d.tap("#towork")
		d.until("the work", `document.body.dataset.view === "step"`)
		if n := js[int](d, current); n != 1 {
			t.Errorf("work at %s, back from a list: %d steps are the current one, want 1", until, n)
		}
	}
}
