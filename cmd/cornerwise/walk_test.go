package main

import (
	"cmp"
	"fmt"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A screen is what the walk asks of each device at each tick.
var screens = []struct {
	width, height int64
	whole         bool // a step fits without scrolling, and nothing on it is too small (fitsScript)
}{
	{1080, 810, true},
	{810, 1080, true},
	{390, 844, false},
}

// One person walks a whole plan by touch, from the form to the last tick, while
// another device watches; in the middle the server is killed and comes back, and a
// third device picks the work up.
func TestAWholePlanByTouch(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	data := t.TempDir()
	s := start(t, data)

	machine := b.tablet(1080, 810)
	machine.open(s.url + "/")
	machine.shot("000-home-empty")
	machine.tap(`a[href="/new"]`)
	machine.until("the form", `location.pathname === "/new" && document.readyState === "complete"`)
	machine.fill(`[name="title"]`, "Harbour lanterns")
	machine.fill(`[name="center.width"]`, "36 1/2")
	machine.fill(`[name="center.length"]`, "48 1/2")
	machine.fill(`[name="borders[0].name"]`, "ticking")
	machine.fill(`[name="borders[0].cut"]`, "5 1/2")
	js[bool](machine, `(() => { document.querySelector('[name="borders[0].stripe"]').closest("details").open = true; return true })()`)
	machine.fill(`[name="borders[0].stripe"]`, "1 1/4")
	machine.until("the picture of the plan", `document.querySelector("#preview svg")`)
	machine.until("the sizes, worked out as one types", `document.querySelector("#preview").textContent.includes("63 1/2 in")`)
	machine.everySize("001-plan", nil)
	machine.tap("button.go")
	machine.until("the session", `location.pathname.startsWith("/s/") && document.readyState === "complete" && document.body.dataset.id`)
	id := js[string](machine, "document.body.dataset.id")
	page := s.url + "/s/" + id

	watching := b.tablet(810, 1080)
	watching.open(page)

	ticks := allTicks(t, s, id)
	for n, tick := range ticks {
		if js[bool](machine, `work.done[%q] === true`, tick.ID) {
			continue // what was measured did it
		}
		machine.until("the screen of "+tick.ID, `document.body.dataset.view === "step" && !document.getElementById("t-%s").hidden`, tick.ID)
		machine.everySize(fmt.Sprintf("%03d-%s", n+2, tick.ID), machine.fits)
		machine.fillMeasures(tick.ID)
		if js[bool](machine, `work.done[%q] === true`, tick.ID) {
			continue
		}

		if n == len(ticks)/2 {
			s = killed(t, s, machine, tick, data)
			picked := b.tablet(390, 844)
			picked.open(page)
			picked.until("the same tick on a third device", `!document.getElementById("t-%s").hidden`, ticks[n+1].ID)
			continue
		}
		machine.press(tick)
		watching.until(tick.ID+" done on the watching device", `document.getElementById("t-%s").dataset.state === "done"`, tick.ID)
	}
	machine.until("the end", `!document.getElementById("end").hidden`)
	watching.until("the end on the watching device", `!document.getElementById("end").hidden`)
	machine.everySize("900-end", machine.fits)

	s.allDone(id)
	machine.open(s.url + "/")
	machine.everySize("901-home", nil)
	machine.open(page + "/sheet")
	machine.everySize("902-sheet", nil)
	machine.open(page + "/stage/cut")
	machine.everySize("903-stage", nil)
	machine.dark(true)
	for n, step := range []string{"widths", "cut-1-sides", "sew-top", "corner-2", "press-3"} {
		machine.open(page + "/step/" + step)
		machine.everySize(fmt.Sprintf("91%d-dark-%s", n, step), nil)
	}
}

// allDone holds the server to what a page says that is at the end.
func (s *server) allDone(id string) {
	s.t.Helper()
	var state struct {
		Stages []struct{ Steps []struct{ Done bool } }
	}
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		s.t.Fatalf("GET the session: got %d %v, want 200", status, err)
	}
	for i, stage := range state.Stages {
		for k, step := range stage.Steps {
			if !step.Done {
				s.t.Errorf("stage %d, step %d: the page says all is done, the server does not", i, k)
			}
		}
	}
}

type walkTick struct {
	ID   string
	Cuts bool
}

// allTicks are the ticks of a session in the order of work.
func allTicks(t *testing.T, s *server, id string) []walkTick {
	t.Helper()
	var state struct {
		Stages []struct{ Steps []struct{ Ticks []walkTick } }
	}
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		t.Fatalf("GET the session: got %d %v, want 200", status, err)
	}
	var all []walkTick
	for _, stage := range state.Stages {
		for _, step := range stage.Steps {
			all = append(all, step.Ticks...)
		}
	}
	return all
}

// press ticks what the screen shows: a tap, or a hold where fabric is cut.
func (d *tablet) press(tick walkTick) {
	d.t.Helper()
	d.until("a button that takes a tap", `!document.getElementById("tick").hidden && document.querySelector("#do .label").textContent`)
	// The button takes no second tap of a double tap: wait as a person would.
	time.Sleep(400 * time.Millisecond)
	if !tick.Cuts {
		d.tap("#do")
		return
	}
	d.tap("#do")
	time.Sleep(50 * time.Millisecond)
	if js[string](d, `document.getElementById("t-%s").dataset.state`, tick.ID) == "done" {
		d.t.Errorf("%s cuts fabric and was done by a mere tap", tick.ID)
	}
	d.hold("#do", 1800*time.Millisecond)
}

// killed ends the server as a power cut would, does one more tick while it is
// gone, and brings it back on the same address.
func killed(t *testing.T, s *server, d *tablet, tick walkTick, data string) *server {
	t.Helper()
	s.cmd.Process.Signal(syscall.SIGKILL)
	s.cmd.Wait()
	d.until("a word that the server is away", `document.getElementById("sync").dataset.sync !== "in"`)
	d.press(tick)
	d.until(tick.ID+" shown as done without the server", `document.getElementById("t-%s").dataset.state === "done"`, tick.ID)
	d.shot("800-away")
	back := start(t, data, "--listen", strings.TrimPrefix(s.url, "http://"))
	d.until("in step again", `document.getElementById("sync").dataset.sync === "in"`)
	var state struct {
		Stages []struct {
			Steps []struct {
				Ticks []struct {
					ID   string
					Done bool
				}
			}
		}
	}
	id := js[string](d, "document.body.dataset.id")
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		back.call("GET", "/api/v1/sessions/"+id, "", &state)
		for _, stage := range state.Stages {
			for _, step := range stage.Steps {
				for _, got := range step.Ticks {
					if got.ID == tick.ID && got.Done {
						return back
					}
				}
			}
		}
	}
	t.Errorf("%s was ticked while the server was away and never arrived", tick.ID)
	return back
}

// measure enters a measure on the pad that opens at its field, as a keyboard would.
func (d *tablet) measure(field, value string) {
	d.t.Helper()
	d.tap(field)
	d.until("the pad", `!document.getElementById("pad").hidden`)
	d.fill("#pad-in", value)
	d.tap("#pad-yes")
	d.until("the pad closed", `document.getElementById("pad").hidden`)
}

// fillMeasures enters what a step asks for, where it has fields in sight, and waits until that
// has done its tick.
func (d *tablet) fillMeasures(tick string) {
	d.t.Helper()
	values := map[string]string{"width": "36 3/8", "length": "48 1/2", "diagonal": "60 5/8",
		"top.widths": "46 1/2", "top.lengths": "58 1/2", "top.diagonals": "74 3/4"}
	kind, _, _ := strings.Cut(tick, ".")
	value := cmp.Or(values[tick], values[kind])
	if value == "" {
		return
	}
	for _, field := range js[[]string](d, `[...document.querySelectorAll("section.step:not([hidden]) .field input")].filter(e => e.getClientRects().length).map(e => e.id)`) {
		d.measure("#"+field, value)
	}
	d.until("the measures kept, and "+tick+" done by them", `work.done[%q] && document.getElementById("sync").dataset.sync === "in"`, tick)
}

// everySize takes a picture at every size, and holds the screen to a check there. Where nobody
// looks it is checked at the first only: TestEveryStepIsLegible checks the others.
func (d *tablet) everySize(name string, check func(name string)) {
	d.t.Helper()
	if !looked {
		js[bool](d, drawn)
		if check != nil {
			check(name)
		}
		return
	}
	for _, size := range screens {
		d.resize(size.width, size.height)
		js[bool](d, drawn)
		if looked {
			d.shot(name)
		}
		if check != nil && size.whole {
			check(name)
		}
	}
	d.resize(screens[0].width, screens[0].height)
}

// fitsScript holds a step's screen to this: nothing to scroll, nothing cut off, the number
// 76 px high, the command 40, no other text under 32, in drawings and fractions too; no target
// under 64 px, and none nearer to the next than 16 (the six inches of the tape touch, and the four corners of the map).
//
// The tablet stands up to 80 cm away and has up to 150 px an inch. Text should be seen under
// 16 minutes of arc at the least (NUREG-0700, 1.3.1-4): 3.7 mm, 22 px, which is how high a
// capital is in type of 32 px. Targets are to have 44 px (WCAG 2.2, 2.5.5), which is 7.5 mm
// there, and errors rise under 10 mm: 64 px, 11 mm, is our own.
const fitsScript = `(() => {
		const faults = [], root = document.documentElement;
		const seen = e => e.getClientRects().length && !e.closest(".vh, .skip, noscript") &&
			e.checkVisibility({visibilityProperty: true, opacityProperty: true});
		if (root.scrollHeight > innerHeight + 1) faults.push("scrolls: " + root.scrollHeight + " px high");
		if (root.scrollWidth > innerWidth + 1) faults.push("scrolls sideways: " + root.scrollWidth + " px wide");
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		for (let n; n = walk.nextNode();) {
			const e = n.parentElement, text = n.textContent.trim();
			if (!text || !seen(e)) continue;
			const box = e.getBoundingClientRect();
			let size = parseFloat(getComputedStyle(e).fontSize);
			if (e.closest("svg") && e.getScreenCTM) size *= e.getScreenCTM().a;
			const least = e.closest(".fr, .u, .x") ? 31.5 : e.closest(".num") ? 75.5 : e.closest(".say") ? 39.5 : 31.5;
			if (size < least) faults.push(size.toFixed(1) + " px: " + text.slice(0, 40));
			if (box.right > innerWidth + 1 || box.bottom > innerHeight + 1 || box.left < -1 || box.top < -1) faults.push("cut off: " + text.slice(0, 40));
		}
		for (const e of document.querySelectorAll("button, .neighbor"))
			if (seen(e) && e.scrollHeight > e.clientHeight + 3) faults.push("too long for its place: " + e.textContent.trim().slice(0, 40));
		const words = e => (e.getAttribute("aria-label") || e.textContent || e.id).trim().replace(/\s+/g, " ").slice(0, 40), targets = [];
		for (const e of document.querySelectorAll("a, button, summary, input")) {
			const box = e.getBoundingClientRect();
			// A choice is touched by its label; the name of a step of one tick by nobody.
			if (!seen(e) || e.type === "radio" || getComputedStyle(e).pointerEvents === "none") continue;
			if (box.width < 63.5 || box.height < 63.5) faults.push("target " + box.width.toFixed(0) + "x" + box.height.toFixed(0) + ": " + words(e));
			if (e.closest(".over, svg")) continue; // over the rest, or in a drawing of its own
			const right = Math.max(box.right, box.left + e.scrollWidth), apart = 14;
			for (const [other, at, end] of targets) {
				if (other.contains(e) || [".stage", ".map a"].some(s => other.matches(s) && e.matches(s))) continue;
				const x = Math.max(box.left - end, at.left - right), y = Math.max(box.top - at.bottom, at.top - box.bottom);
				if (x < apart && y < apart) faults.push(words(e) + (x < -1 && y < -1 ? " runs into " : " is nearer than 16 px to ") + words(other) + " " + Math.round(Math.max(x, y)));
			}
			targets.push([e, box, right]);
		}
		return faults;
	})()`

// fits holds the screen to what fitsScript says.
func (d *tablet) fits(name string) {
	d.t.Helper()
	for _, fault := range js[[]string](d, fitsScript) {
		d.t.Errorf("%s at %dx%d: %s", name, d.width, d.height, fault)
	}
}
