package main

import (
	"testing"
	"time"
)

// A word of the trade opens in one touch from a step's How?, with its drawing, and the focus goes
// back to where it was. Once they came, the words are there without the server too.
func TestAWordOpensFromItsStep(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 3)
	d := b.work(1080, 810, s, id)
	d.open(s.url + "/s/" + id + "/step/corner-1?tick=miter.1.folded")
	how := "article.tick:not([hidden]) .how"
	word := func(what string) {
		t.Helper()
		d.tap(how + " summary")
		d.until("its words, "+what, `document.querySelector(%q)`, how+" [data-word=tail]")
		d.tap(how + " [data-word=tail]")
		d.until("the tail, "+what, `!document.getElementById("word").hidden && document.querySelector("#word .pic svg")`)
		if said := js[string](d, `document.querySelector("#word p").textContent`); said == "" {
			t.Errorf("%s: the tail is not told", what)
		}
		if low := js[bool](d, `document.querySelector("#word > div").getBoundingClientRect().bottom > innerHeight`); low {
			t.Errorf("%s: the word is not whole on the screen", what)
		}
		d.shot("930-word")
		d.tap("#word [data-cancel]")
		d.until("the step again, "+what, `document.getElementById("word").hidden && document.activeElement.textContent === "How?"`)
	}
	settled := func() {
		t.Helper()
		d.until("the corner", tickShows, "miter.1.folded")
		js[bool](d, drawn)
		time.Sleep(400 * time.Millisecond)
	}
	settled()
	word("from the server")
	d.resize(810, 1080)
	settled()
	word("upright")
	d.resize(1080, 810)
	settled()
	s.kill()
	d.away()
	js[bool](d, `(() => { words.asked = null; document.querySelector(".words").remove(); return true })()`)
	word("without the server")
}

// What is taken at once has a How? too: what each of its acts tells, its words and a count.
func TestAGroupTellsHow(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	s.goOn(id, "miter.1.folded")
	d.until("the corner", tickShows, "miter.1.folded")
	js[bool](d, `(() => { setPace(true); paint(); return true })()`)
	how := "article.group:not([hidden]) .how"
	d.tap(how + " summary")
	d.until("its words", `document.querySelector(%q)`, how+" [data-word=tail]")
	d.until("a count", `document.querySelector(%q)`, how+" .counts")
	told := js[[]string](d, `[...document.querySelectorAll(%q)].map(p => p.textContent)`, how+" .over > p")
	seen := map[string]bool{}
	for _, p := range told {
		if seen[p] {
			t.Errorf("told twice: %s", p)
		}
		seen[p] = true
	}
	if acts := js[int](d, "view.group.ticks.length"); acts < 2 || len(told) < acts {
		t.Errorf("%d acts, and %d paragraphs tell how", acts, len(told))
	}
	d.shot("931-group-how")
	if out := js[bool](d, `document.querySelector(%q).getBoundingClientRect().bottom > innerHeight`, how+" .over"); out {
		t.Error("what is told is not whole on the screen")
	}
}
