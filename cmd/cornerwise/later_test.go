package main

import "testing"

// What has to wait is put off with a reason, by touch, and comes back before its stage is left;
// another device hears of it.
func TestAnActIsPutOffByTouch(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	id := s.planned(awayPlan)
	s.goOn(id, "length.left")
	d, other := b.tablet(1080, 810), b.tablet(810, 1080)
	other.open(s.url + "/s/" + id + "/step/lengths?tick=length.left")
	d.open(s.url + "/s/" + id)
	d.until("the act", `view.tick.id === "length.left" && `+rested)
	d.inStep()
	open := `section.step:not([hidden]) `
	d.tap(open + `.items summary`)
	d.tap(open + `.later`)
	d.until("the question why", `!document.getElementById("reason").hidden`)
	d.tap(`#reason-yes`)
	d.until("still asked", `!document.getElementById("reason").hidden`)
	d.tap(`#reason [data-why="another day"]`)
	d.tap(`#reason-yes`)
	d.until("what comes next", `view.tick.id === "length.middle"`)
	d.until("that it is told", `document.getElementById("last").textContent.includes("Put off: measure near the left")`)
	other.until("what comes next there too", `view.tick.id === "length.middle" && work.later["length.left"] === "another day"`)
	other.open(s.url + "/s/" + id + "/step/lengths?tick=length.left")
	other.until("the reason, where it is looked at", `document.querySelector("section.step:not([hidden]) .put").textContent === "Put off: another day"`)

	// A reload keeps it, and it comes when the rest of its stage is done.
	for _, tick := range allTicks(t, s, id) {
		if tick.ID == "center.trimmed" {
			break
		}
		if tick.ID != "length.left" && !js[bool](d, `work.done[%q] === true`, tick.ID) {
			s.op(id, `{"op": "elsewhere-%s", "kind": "tick", "tick": %q, "done": true}`, tick.ID, tick.ID)
		}
	}
	d.open(s.url + "/s/" + id)
	d.until("it comes back", `view.tick.id === "length.left" && shown.later["length.left"] === "another day" && `+rested)
	d.press(walkTick{ID: "length.left"})
	d.until("it is done, and no more put off", `work.done["length.left"] && !work.later["length.left"]`)
}

// What was done once act by act may be taken at once, from the list of acts, and back.
func TestThePaceChangesFromTheListOfActs(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	id := s.planned(plainLengthwise)
	s.goOn(id, "miter.2.folded")
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id)
	d.until("corner 2, act by act", `view.tick.id === "miter.2.folded" && !view.group && `+rested)
	d.inStep()
	open := `section.step:not([hidden]) `
	d.tap(open + `.items summary`)
	d.tap(open + `.pace`)
	d.until("all at once", `view.group && view.group.id === "miter.2" && `+rested)
	d.tap("#do")
	d.until("four acts by one touch", `view.tick.id === "miter.2.sewn" && work.done["miter.2.pinned"] && work.last.text === "Folded, lined and pinned, corner 2"`)
	d.tap("#undo button")
	d.until("and taken back by one", `view.group && view.group.ticks.length === 4`)
	// One number of the table leads to that act alone.
	d.tap(open + `.rows a`)
	d.until("the first act alone", `!view.group && view.tick.id === "miter.2.folded" && `+rested)
	d.tap("#do")
	d.until("the rest at once again", `view.group && view.group.ticks.length === 3`)
	d.tap(open + `.items summary`)
	d.tap(open + `.pace`)
	d.until("one by one again", `!view.group && localStorage.getItem("pace") === null`)
}
