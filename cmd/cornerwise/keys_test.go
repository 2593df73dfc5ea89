package main

import (
	"context"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// A keyCode is a key as the protocol of the browser names it.
type keyCode struct {
	name, text string
	code       int64
}

var (
	left     = keyCode{"ArrowLeft", "", 37}
	right    = keyCode{"ArrowRight", "", 39}
	up       = keyCode{"ArrowUp", "", 38}
	down     = keyCode{"ArrowDown", "", 40}
	pageUp   = keyCode{"PageUp", "", 33}
	pageDown = keyCode{"PageDown", "", 34}
	space    = keyCode{" ", " ", 32}
	enter    = keyCode{"Enter", "\r", 13}
	tab      = keyCode{"Tab", "", 9}
)

// key presses a key and lets it go, as a pedal does.
func (d *tablet) key(k keyCode) {
	d.t.Helper()
	d.keep(k, 0, 0)
}

// keep holds a key down, while it repeats so often.
func (d *tablet) keep(k keyCode, repeats int, every time.Duration) {
	d.t.Helper()
	send := func(ctx context.Context, kind input.DispatchKeyEventType, again bool) error {
		p := input.DispatchKeyEventParams{Type: kind, Key: k.name, Code: k.name,
			WindowsVirtualKeyCode: k.code, AutoRepeat: &again}
		if kind == input.DispatchKeyEventTypeKeyDown {
			p.Text = k.text
		}
		_, err := chromedp.Call(ctx, input.DispatchKeyEvent, p)
		return err
	}
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		err := send(ctx, input.DispatchKeyEventTypeKeyDown, false)
		for range repeats {
			time.Sleep(every)
			if err == nil {
				err = send(ctx, input.DispatchKeyEventTypeKeyDown, true)
			}
		}
		if err == nil {
			err = send(ctx, input.DispatchKeyEventTypeKeyUp, false)
		}
		return err
	}))
}

// shownTick is the tick in sight, and what its button does.
const shownTick = `view.tick.id + " " + modeOf(shown, view.tick)`

// which is the part of a tick's id that says of which border, edge or corner it is.
var which = regexp.MustCompile(`[0-9]+|left|right|top|bottom|middle`)

// A whole session but its cuts and looks is done by two keys, and those by a hand. Keys do
// nothing until they are turned on, and nothing in fields and dialogs.
func TestAPedalDoesWhatTheWideButtonSays(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	ticks := allTicks(t, s, id)
	d.inStep()

	d.key(right)
	d.key(space)
	if got := js[string](d, shownTick); got != ticks[0].ID+" tick" {
		t.Errorf("keys that are not turned on led to %q, want the first tick open", got)
	}

	d.tap(".menu summary")
	d.tap(`.menu a[href$="/settings"]`)
	d.until("the settings", `location.pathname.endsWith("/settings") && document.readyState === "complete" && document.querySelector('[data-set="keys"][aria-pressed="true"]')`)
	for _, c := range []struct {
		key  keyCode
		want string
	}{{left, "back"}, {up, "back"}, {pageUp, "back"}, {right, "forward"}, {down, "forward"}, {pageDown, "forward"}, {space, "tick"}, {enter, "tick"}, {keyCode{"b", "b", 66}, "b, which does nothing here"}} {
		d.key(c.key)
		d.until("what "+c.key.name+" was taken for", `document.getElementById("trial").textContent === "That was: %s."`, c.want)
	}
	d.tap(`[data-set="keys"][data-value="on"]`)
	d.everySize("960-settings", nil)
	d.tap(`.tools a`)
	d.until("the work, with keys", `document.readyState === "complete" && typeof startKeys === "function"`)
	d.inStep()

	// Looking round.
	rev := s.rev(id)
	for _, c := range []struct {
		key keyCode
		at  int
	}{{right, 1}, {down, 2}, {pageDown, 3}, {left, 2}, {up, 1}, {pageUp, 0}} {
		d.key(c.key)
		d.until(c.key.name+" to lead on", `view.tick.id === %q`, ticks[c.at].ID)
	}
	d.key(left)
	d.until("a word that nothing comes before", `!keyWord.hidden && keyWord.textContent.includes("first step")`)
	d.key(right)
	d.key(right)
	d.key(space)
	d.until("a word on what comes first", `!keyWord.hidden && keyWord.textContent.startsWith("Not yet: first") && el("said").textContent === keyWord.textContent`)
	d.key(left)
	d.key(left)
	if now := s.rev(id); now != rev {
		t.Errorf("looking round by keys made %d changes", now-rev)
	}

	// Kept down, and pressed twice.
	d.until("rest", rested)
	d.keep(space, 6, 100*time.Millisecond)
	d.until("the first tick done", `shown.done[%q]`, ticks[0].ID)
	d.until("rest", rested)
	d.key(enter)
	d.key(enter)
	d.until("the second tick done", `shown.done[%q]`, ticks[1].ID)
	if js[bool](d, `shown.done[%q]`, ticks[2].ID) {
		t.Error("a double press ticked two")
	}

	// After a touch, and after Tab.
	d.until("rest", rested)
	d.tap("#undo button")
	d.until("undone", `!shown.done[%q]`, ticks[1].ID)
	js[bool](d, `(() => { document.querySelector("#undo button").focus(); return true })()`) // where it rests
	d.until("rest", rested)
	d.key(space)
	d.until("the wide button's act, and not the one touched last", `shown.done[%q] && shown.done[%q]`, ticks[0].ID, ticks[1].ID)
	d.until("rest", rested)
	js[bool](d, `(() => { document.querySelector("#undo button").focus(); return true })()`)
	d.key(tab) // to the menu, and back to the button
	js[bool](d, `(() => { document.querySelector("#undo button").focus(); return true })()`)
	d.key(enter)
	d.until("the button that Tab was pressed to", `!shown.done[%q]`, ticks[1].ID)
	d.until("rest", rested)
	d.tap("h1")
	d.key(space)
	d.until("the tick done again", `shown.done[%q]`, ticks[1].ID)

	// In a field and in a dialog.
	s.goOn(id, "width.top")
	d.open(s.url + "/s/" + id)
	d.until("keys at the field", `typeof startKeys === "function" && view.tick.id === "width.top"`)
	d.until("rest", rested)
	d.tap("#i-width-top")
	for _, k := range []keyCode{right, space, left} {
		d.key(k)
	}
	if got := js[string](d, shownTick); got != "width.top tick" {
		t.Errorf("keys in the pad led to %q, want nothing", got)
	}
	d.fill("#pad-in", "63 1/2") // hard to believe, so that it leaves its tick open
	d.tap("#pad-yes")
	d.until("the measure kept", `shown.values["width-top"] === "63 1/2"`)
	js[bool](d, `(() => { el("i-width-top").focus(); return true })()`)
	for _, k := range []keyCode{right, space, left} {
		d.key(k)
	}
	if got := js[string](d, shownTick); got != "width.top tick" {
		t.Errorf("keys in a field led to %q, want nothing", got)
	}
	js[bool](d, `(() => { el("i-width-top").blur(); return true })()`)
	d.tap("#i-width-top")
	d.until("the pad", `!el("pad").hidden`)
	d.tap("#pad-yes")
	d.until("rest", rested)
	d.key(space)
	d.until("the tick done, once the pad is closed", `shown.done["width.top"]`)

	d.open(s.url + "/s/" + id)
	d.until("the work, with keys", `document.readyState === "complete" && typeof startKeys === "function"`)
	d.inStep()
	told, kinds := map[string]bool{}, map[string]bool{}
	for _, tick := range ticks {
		if js[bool](d, `shown.done[%q]`, tick.ID) {
			continue
		}
		kind := which.ReplaceAllString(tick.ID, "*")
		if kinds[kind] { // as the last such
			s.op(id, `{"op": "elsewhere-%s", "kind": "tick", "tick": %q, "done": true}`, tick.ID, tick.ID)
			d.until(tick.ID+" done elsewhere", `shown.done[%q]`, tick.ID)
			continue
		}
		kinds[kind] = true
		d.until("the screen of "+tick.ID, `view.tick.id === %q && !el("tick").hidden`, tick.ID)
		d.until("rest", rested)
		look := strings.HasSuffix(tick.ID, ".looked")
		if !tick.Cuts && !look {
			d.key(space)
			d.until(tick.ID+" done by a key", `shown.done[%q]`, tick.ID)
			continue
		}
		word := "A look needs your hand"
		if tick.Cuts {
			word = "A cut needs your hand"
		}
		if !told[word] {
			told[word] = true
			// The focus stays where a finger was: no key that is kept down there may cut.
			js[bool](d, `(() => { el("do").focus(); return true })()`)
			d.keep(enter, 14, 100*time.Millisecond)
			d.until("a word that a hand is needed", `!keyWord.hidden && keyWord.textContent.startsWith(%q) && el("said").textContent === keyWord.textContent`, word)
			d.everySize("961-"+strings.ReplaceAll(word, " ", "-"), nil)
		}
		d.key(space)
		if js[bool](d, `shown.done[%q]`, tick.ID) {
			t.Fatalf("%s was done by a key", tick.ID)
		}
		if look {
			d.tap("#do")
		} else {
			d.hold("#do", 1200*time.Millisecond)
		}
		d.until(tick.ID+" done by hand", `shown.done[%q]`, tick.ID)
	}
	d.until("the end", `!el("end").hidden`)
	if len(told) != 2 {
		t.Errorf("keys met %v, want a cut and a look", told)
	}
}
