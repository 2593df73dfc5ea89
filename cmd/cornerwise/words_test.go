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
