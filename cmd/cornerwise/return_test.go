package main

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
)

// comesBack opens a quilt's page so many minutes after this device last had it in sight; with
// none, as one that never had.
func (d *tablet) comesBack(s *server, url, id string, minutes int) {
	d.t.Helper()
	d.open(s.url + "/settings")
	js[bool](d, `(() => {
		localStorage.removeItem("seen:%[1]s");
		if (%[2]d) localStorage.setItem("seen:%[1]s", String(Date.now() - %[2]d * 60000));
		return true;
	})()`, id, minutes)
	d.open(url)
	d.until("the script of the card", `document.readyState === "complete" && typeof inSightAgain === "function"`)
}

const (
	cardShows = `document.querySelector("#return:not([hidden])")`

	// cardScript holds the card to what a step's screen is held to.
	cardScript = `(() => {
		const faults = [], box = el("return");
		if (box.scrollHeight > box.clientHeight + 1) faults.push("the card scrolls: " + box.scrollHeight + " px high");
		if (box.scrollWidth > box.clientWidth + 1) faults.push("the card scrolls sideways");
		const walk = document.createTreeWalker(box, NodeFilter.SHOW_TEXT);
		for (let n; n = walk.nextNode();) {
			const e = n.parentElement, size = parseFloat(getComputedStyle(e).fontSize);
			if (n.textContent.trim() && e.getClientRects().length && !e.closest(".vh, .fr") && size < 31.5)
				faults.push(size + " px: " + n.textContent.trim());
		}
		for (const b of box.querySelectorAll("button, a"))
			if (b.offsetHeight < 64) faults.push(b.textContent + " is " + b.clientHeight + " px high");
		return faults;
	})()`
)

func (d *tablet) cardFits(name string) {
	d.t.Helper()
	for _, fault := range js[[]string](d, cardScript) {
		d.t.Errorf("%s at %dx%d: %s", name, d.width, d.height, fault)
	}
}

// Who comes back after ten minutes finds a card over the step: what was done last, on which
// device, what comes next, and the settings of the machine. Behind it the step is as it was. There
// is none after nine minutes, and none for who never saw the quilt while others are at it.
func TestWhoComesBackFindsACard(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	d.inStep()
	s.goOn(id, "cut.1.left.cut")
	s.op(id, `{"op": "noted", "kind": "note", "step": "machine", "text": "Stitch length: 2.4\nNeedle: 80/12\nThread: gray 50\nFoot: 1/4 in\nIron:"}`)
	for _, minutes := range []int{0, 9} {
		d.comesBack(s, s.url+"/s/"+id, id, minutes)
		d.inStep()
		if js[bool](d, `!!(%s)`, cardShows) {
			t.Errorf("away for %d minutes: there is a card", minutes)
		}
	}

	d.tap("#ahead")
	d.until("another act", `view.tick.id !== "cut.1.left.cut"`)
	at, here := js[string](d, `view.tick.id`), js[string](d, "location.href")
	d.comesBack(s, here, id, 11)
	d.until("the card, and focus in it", `%s && document.activeElement === document.querySelector("#return button")`, cardShows)
	words := strings.Join(strings.Fields(js[string](d, `el("return").textContent`)), " ")
	for _, part := range []string{"Done last, today, on this computer", "1 1/2 in × 65 1/2 in Left strip measured, dark line", "Noted: your machine Next Trim the left strip Dark line: left and right",
		"Needle: 80/12 Thread: gray 50 Foot: 1/4 in"} {
		if !strings.Contains(words, part) {
			t.Errorf("the card says %q, without %q", words, part)
		}
	}
	if strings.Contains(words, "Iron") {
		t.Errorf("the card says %q, with a line that was left open", words)
	}
	if js[string](d, `view.tick.id`) != at {
		t.Error("the step moved behind the card")
	}
	d.everySize("961-return", d.cardFits)
	d.dark(true)
	d.everySize("962-return-dark", d.cardFits)
	d.dark(false)
	d.tap("#return button")
	d.until("the same act, with the focus", `!(%s) && view.tick.id === %q && document.activeElement === el("main")`, cardShows, at)

	d.comesBack(s, here, id, 11)
	d.until("the card again", cardShows)
	js[bool](d, `document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: "Escape", bubbles: true}))`)
	d.until("the same act, after Escape", `!(%s) && view.tick.id === %q`, cardShows, at)

	// A sleep with a dialog open: the dialog stays, and nothing lies over it.
	d.open(s.url + "/s/" + id + "/step/widths?tick=width.top")
	d.until("the script of the card", `document.readyState === "complete" && typeof inSightAgain === "function"`)
	d.tap("#i-width-top")
	d.until("the pad", `!el("pad").hidden`)
	js[bool](d, `(() => { seenAt = 1; localStorage.removeItem("seen:%s"); inSightAgain(); return true })()`, id)
	d.until("the card's answer", `performance.getEntriesByType("resource").some(e => e.name.endsWith("/return") && e.responseEnd > 0)`)
	js[bool](d, drawn)
	if js[bool](d, `!!(%s) || el("pad").hidden`, cardShows) {
		t.Error("the card lies over an open dialog")
	}
}

// With long words, acts on two devices, and all five settings, the card stands whole on a tablet's
// screen.
func TestTheCardStandsWholeWithLongWords(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	var made struct{ ID string }
	plan := `{"title": "Long", "center": {"width": "60 1/2", "length": "80 1/2"}, "borders": [
		{"name": "ticking stripe from the old oak chest", "cut": "5 1/2", "fabric": {"runs": "crosswise"}}]}`
	if status, err := s.call("POST", "/api/v1/sessions", plan, &made); status != 201 || err != nil {
		t.Fatalf("POST a plan: got %d %v, want 201", status, err)
	}
	s.goOn(made.ID, "join.1.right.pressed")
	var export json.RawMessage
	if status, err := s.call("GET", "/api/v1/sessions/"+made.ID+"/export", "", &export); status != 200 || err != nil {
		t.Fatalf("GET the export: got %d %v, want 200", status, err)
	}
	told := strings.ReplaceAll(string(export), `"kind":"tick"`, `"by":"Sewing room tablet 12","kind":"tick"`)
	told = regexp.MustCompile(`"at":"[^"]*"`).ReplaceAllString(told, `"at":"2026-03-01T12:00:00Z"`)
	if status, err := s.call("POST", "/api/v1/import", told, &made); status != 201 || err != nil {
		t.Fatalf("POST the import: got %d %v, want 201", status, err)
	}
	d := b.tablet(1080, 810)
	d.comesBack(s, s.url+"/s/"+made.ID, made.ID, 0)
	d.until("a card on a device that never saw this quilt, where the last act is long ago", cardShows)
	d.everySize("967-return-first", d.cardFits)

	s.op(made.ID, `{"op": "noted", "kind": "note", "step": "machine", "text": "Stitch length: 2.4\nNeedle: 80/12\nThread: gray 50\nFoot: with a guide\nIron: cotton"}`)
	d.comesBack(s, s.url+"/s/"+made.ID, made.ID, 11)
	d.until("the card", cardShows)
	if words := js[string](d, `el("return").textContent`); !strings.Contains(words, "Sewing room tablet 12") {
		t.Errorf("the card says %q, without the device", words)
	}
	d.everySize("968-return-long", d.cardFits)
}

// The note of the machine opens with the lines to fill in, and sends none that nobody changed.
// Once filled in it stands on the screen of the step.
func TestTheMachineIsNotedOnce(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	s.goOn(id, "machine.noted")
	d.open(s.url + "/s/" + id + "/step/machine")
	d.until("the step of the machine", tickShows+" && typeof paintMachine === 'function'", "machine.noted")
	before := s.rev(id)
	d.tap("#s-machine .note summary")
	d.until("the lines to fill in", `el("n-machine").value === "Stitch length:\nNeedle:\nThread:\nFoot:\nIron:"`)
	d.everySize("963-machine-note", nil)
	d.tap("#s-machine [data-close]")
	d.until("an empty note", `el("n-machine").value === "" && !document.querySelector("#s-machine .note").open`)
	if after := s.rev(id); after != before {
		t.Errorf("the note was looked at: the session went from revision %d to %d, want no change", before, after)
	}

	d.tap("#s-machine .note summary")
	d.fill("#n-machine", "Stitch length: 2.4\nNeedle: 80/12\nThread: gray 50\nFoot: quarter-inch with guide\nIron:")
	d.tap("#s-machine [data-close]")
	d.until("the note on the screen", `document.querySelector("#s-machine .noted").innerText.includes("gray 50") && !waiting.length`)
	if shown := js[string](d, `document.querySelector("#s-machine .noted").textContent`); strings.Contains(shown, "Iron") {
		t.Errorf("the step shows %q, with a line that was left open", shown)
	}
	d.everySize("964-machine-noted", d.fits)
	d.open(s.url + "/s/" + id + "/step/machine")
	d.until("the note after a reload", `document.querySelector("#s-machine .noted").innerText.includes("quarter-inch with guide")`)
	d.open(s.url + "/")
	d.everySize("965-home", nil)
	d.dark(true)
	d.everySize("966-home-dark", nil)
}
