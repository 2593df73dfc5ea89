//go:build unix

package main

import "testing"

// key presses a key and lets it go; the W3C's WebDriver has characters for those with names.
func (w *webkit) key(character string) {
	w.t.Helper()
	w.call("/actions", map[string]any{"actions": []any{map[string]any{
		"type": "key", "id": "pedal",
		"actions": []any{
			map[string]string{"type": "keyDown", "value": character},
			map[string]string{"type": "keyUp", "value": character},
		}}}}, nil)
}

// A pedal does the same in the other engine, after a touch too.
func TestAPedalInTheOtherEngine(t *testing.T) {
	t.Parallel()
	w := newWebKit(t)
	s := start(t, t.TempDir())
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	w.open(s.url + "/s/" + id + "/settings")
	w.until("the settings", `document.readyState === "complete" && document.querySelector('[data-set="keys"][aria-pressed="true"]')`)
	for character, want := range map[string]string{"\uE012": "back", "\uE00F": "forward", " ": "tick"} {
		w.key(character)
		w.until("what it was taken for", `document.getElementById("trial").textContent === "That was: %s."`, want)
	}
	w.run(nil, `(() => { document.getElementById("trial").scrollIntoView({block: "center"}); return true })()`)
	w.hold(`[data-set="keys"][data-value="on"]`, 0)
	w.until("keys turned on", `document.querySelector('[data-set="keys"][data-value="on"][aria-pressed="true"]')`)
	w.open(s.url + "/s/" + id)
	w.until("the work, with keys", `typeof startKeys === "function" && document.getElementById("sync").dataset.sync === "in"`)
	w.key("\uE014")
	w.until("the step after", `view.tick.id === %q`, ticks[1].ID)
	w.key("\uE012")
	w.until("the step before", `view.tick.id === %q`, ticks[0].ID)
	w.until("rest", rested)
	w.key(" ")
	w.until("the first tick done", `shown.done[%q]`, ticks[0].ID)
	w.until("rest", rested)
	w.key("\uE007")
	w.until("the second tick done", `shown.done[%q]`, ticks[1].ID)
	w.until("in step", `document.getElementById("sync").dataset.sync === "in"`) // its word moves the button
	w.hold("#undo button", 0)
	w.until("undone by touch", `!shown.done[%q]`, ticks[1].ID)
	w.until("rest", rested)
	w.run(nil, `(() => { document.querySelector("#undo button").focus(); return true })()`)
	w.key(" ")
	w.until("the wide button's act, and not the one touched last", `shown.done[%q] && shown.done[%q]`, ticks[0].ID, ticks[1].ID)
}
