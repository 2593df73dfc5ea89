package main

import (
	"testing"
	"time"
)

// A count that was started at a step that presses goes on wherever one looks and after the page
// comes anew. At its end it says so once, sounds, covers nothing, and is put away by a touch.
func TestACountGoesOnWhileOneMovesAbout(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	// The mark is whole, large enough, and over nothing else.
	free := func(name string) {
		t.Helper()
		for _, fault := range js[[]string](d, `(() => {
			const c = document.querySelector(".count").getBoundingClientRect(), faults = [];
			if (c.width < 64 || c.height < 64 || c.right > innerWidth) faults.push("the mark is " + c.width + " by " + c.height);
			for (const e of document.querySelectorAll("#last, #undo, #sync, .menu, .stage, main, .bar")) {
				const r = e.getBoundingClientRect();
				if (r.left < c.right - 1 && c.left < r.right - 1 && r.top < c.bottom - 1 && c.top < r.bottom - 1)
					faults.push("the mark lies over " + (e.id || e.className));
			}
			return faults;
		})()`) {
			t.Errorf("%s at %dx%d: %s", name, d.width, d.height, fault)
		}
	}
	shows := func(what string) {
		t.Helper()
		d.until("the count, "+what, `/^[45]:\d\d$/.test(document.querySelector(".count:not([hidden])").textContent)`)
		d.everySize("931-count-"+what, free)
		time.Sleep(400 * time.Millisecond)
	}
	d.until("the first tick", tickShows, "center.pressed")
	d.tap("article.tick:not([hidden]) .how summary")
	d.until("what can be counted", `document.querySelector(".how[open] .counts button")`)
	js[bool](d, drawn)
	d.shot("931-count-offered")
	js[bool](d, `(() => {
		window.tones = 0;
		const make = AudioContext.prototype.createOscillator;
		AudioContext.prototype.createOscillator = function () { window.tones++; return make.call(this); };
		return true;
	})()`)
	d.tap(".how[open] .counts .chips button:last-child")
	shows("here")
	d.tap("#do")
	d.until("the next tick", tickShows, "center.steadied")
	shows("further")

	js[bool](d, `(() => { localStorage.setItem("count", Date.now() + 600); readCount(); return true })()`)
	d.until("its end in words", `document.querySelector(".count").textContent === "Time is up"`)
	if said := js[string](d, `document.getElementById("said").textContent`); said != "Time is up." {
		t.Errorf("at its end it said %q, want that time is up", said)
	}
	if n := js[int](d, "window.tones"); n != 3 {
		t.Errorf("at its end it made %d tones, want 3", n)
	}
	d.everySize("932-count-up", free)
	if covered := js[bool](d, `(() => {
		const r = document.getElementById("do").getBoundingClientRect();
		return !document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2).closest("#do");
	})()`); covered {
		t.Error("the wide button is covered")
	}
	d.tap(".count")
	d.until("it put away", `document.querySelector(".count").hidden && !localStorage.getItem("count")`)

	js[bool](d, `(() => { localStorage.setItem("count", Date.now() + 290000); return true })()`)
	d.open(js[string](d, "location.href"))
	shows("anew")
}
