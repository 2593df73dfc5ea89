package main

import "testing"

// A measure and a note that are half typed when the page is loaded anew are not lost.
func TestWhatIsHalfTypedOutlivesAReload(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	id := s.planned(awayPlan)
	d := b.tablet(1080, 810)
	page := s.url + "/s/" + id + "/step/widths"
	d.open(page)
	d.inStep()
	d.tap("#f-width-top input")
	d.until("the pad", `!document.getElementById("pad").hidden`)
	d.keys("3", "6")
	d.open(page)
	d.until("what was typed", `document.querySelector("#f-width-top input").value === "36"`)
	d.inStep()
	d.tap("#f-width-top input")
	d.until("the pad, with it", `!document.getElementById("pad").hidden && document.getElementById("pad-in").value === "36"`)
	d.keys("3/8")
	d.tap("#pad-yes")
	d.until("it is kept", `work.values["width-top"] === "36 3/8" && localStorage.getItem("half:" + session + ":width-top") === null`)

	d.tap(`section.step:not([hidden]) .note summary`)
	d.fill(`section.step:not([hidden]) textarea`, "the top edge wav")
	d.open(page)
	d.until("the half note", `document.getElementById("n-widths").value === "the top edge wav"`)
	d.until("that it is told", `document.querySelector("section.step:not([hidden]) .note summary").textContent === "Note, half written"`)
	d.inStep()
	d.tap(`section.step:not([hidden]) .note summary`)
	d.fill(`section.step:not([hidden]) textarea`, "the top edge waves")
	d.tap(`section.step:not([hidden]) .note [data-close]`)
	d.until("the note is kept", `work.notes.widths === "the top edge waves"`)

	// What is left by choice is not kept.
	d.tap("#f-width-top input")
	d.until("the pad once more", `!document.getElementById("pad").hidden`)
	d.keys("4", "4")
	d.tap("#pad [data-cancel]")
	d.until("what is kept", `document.querySelector("#f-width-top input").value === "36 3/8"`)
	d.open(page)
	d.until("what is kept, after a reload", `document.querySelector("#f-width-top input").value === "36 3/8"`)
}
