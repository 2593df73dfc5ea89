package main

import (
	"strings"
	"testing"
)

// gotToSay stands in for a voice, which no browser has here: what the page gave it to say, and
// where it was cut short.
const gotToSay = `(() => {
	window.gotToSay = [];
	const synth = window.speechSynthesis;
	let now = null;
	synth.speak = u => { now = u; gotToSay.push(u.text); setTimeout(() => u.onstart && u.onstart({}), 0); };
	synth.cancel = () => { if (now) { gotToSay.push("-"); now = null; } };
	return true;
})()`

// A step is read when asked, or each new one by itself, in the words of people, and no longer
// than it is in sight. Where the browser has no voice, that is said.
func TestAStepIsReadAloud(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	d.inStep()
	if js[bool](d, `!!document.querySelector(".voice")`) {
		t.Error("a voice that nobody asked for")
	}
	d.open(s.url + "/s/" + id + "/settings")
	d.until("the settings", `document.readyState === "complete" && document.querySelector('[data-set="voice"][aria-pressed="true"]')`)
	d.tap("#hear")
	d.until("a word that this browser has no voice", `document.getElementById("mute").textContent === "This browser can’t read aloud."`)
	d.tap(`[data-set="voice"][data-value="asked"]`)
	d.everySize("980-settings-voice", nil)

	s.goOn(id, "cut.1.left.measured")
	d.open(s.url + "/s/" + id)
	d.until("the button", `document.querySelector(".voice:not([hidden])")`)
	d.inStep()
	d.tap(".voice")
	d.until("the same word at the step", `!el("warned").hidden && el("warned").textContent.includes("This browser can’t read aloud.")`)
	d.tap("#warned button")
	d.everySize("981-voice", d.fits)

	js[bool](d, gotToSay)
	d.tap(".voice")
	d.until("the step read", `gotToSay.length === 1 && document.querySelector(".voice").getAttribute("aria-label") === "Stop reading"`)
	first := js[string](d, `gotToSay[0]`)
	for _, part := range []string{"Dark line: left and right. Measure the left strip. ", "wide by long: one and a half by sixty-five and a half inches."} {
		if !strings.Contains(first, part) {
			t.Errorf("the step is read %q, without %q", first, part)
		}
	}
	if strings.ContainsAny(first, "/×") {
		t.Errorf("the step is read %q, as it is written", first)
	}
	d.tap(".voice")
	d.until("it stopped by a second touch", `gotToSay.join("|").endsWith("|-") && document.querySelector(".voice").getAttribute("aria-label") === "Read aloud"`)
	d.tap(".voice")
	d.until("it read again", `gotToSay.length === 3`)
	d.until("rest", rested)
	d.tap("#do")
	d.until("it stopped with the step", `gotToSay.length === 4 && gotToSay[3] === "-" && view.tick.id === "cut.1.left.cut"`)

	js[bool](d, `(() => { localStorage.setItem("voice", "each"); return true })()`)
	d.open(s.url + "/s/" + id + "?each")
	d.until("the button", `document.querySelector(".voice:not([hidden])")`)
	d.inStep()
	js[bool](d, gotToSay)
	d.tap("#ahead")
	d.until("the next step read by itself", `gotToSay.filter(h => h !== "-").length === 1`)
	d.tap("#back")
	d.until("the cut, with its warning first", `gotToSay.filter(h => h !== "-").length === 2 && /WARNING A blade cuts deep/.test(gotToSay[gotToSay.length-1])`)
	s.op(id, `{"op": "far", "kind": "note", "step": "widths", "text": "from elsewhere"}`)
	d.until("the note", `shown.notes.widths`)
	if n := js[int](d, `gotToSay.filter(h => h !== "-").length`); n != 2 {
		t.Errorf("%d texts were read, want 2: nothing new is in sight", n)
	}
}
