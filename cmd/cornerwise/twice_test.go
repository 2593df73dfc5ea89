package main

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// secondTab is another tab of the same device: the same storage.
func (d *tablet) secondTab() *tablet {
	d.t.Helper()
	ctx, end := chromedp.NewContext(d.ctx)
	d.t.Cleanup(end)
	if err := chromedp.Do(ctx); err != nil {
		d.t.Fatal(err)
	}
	second := &tablet{t: d.t, ctx: ctx}
	second.resize(d.width, d.height)
	return second
}

// Two tabs of one tablet share what waits: it is sent once, and what is refused is
// shown in both.
func TestTwoTabsAreOneDevice(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 1)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id)
	second := d.secondTab()
	second.open(s.url + "/s/" + id)
	second.inStep()
	d.inStep()
	js[bool](d, `(() => { localStorage.setItem("mine", "yes"); return true })()`)
	second.until("the same storage in both tabs", `localStorage.getItem("mine") === "yes"`)

	s.kill()
	d.away()
	d.press(ticks[1])
	d.isDone(ticks[1].ID)
	s.elsewhere(func(other *server) { other.op(id, "%s", tickText("not yet", ticks[0].ID, false)) })
	s = s.back()
	const one = `document.querySelectorAll("#refused li").length === 1`
	d.until("not taken, in the first tab", one)
	second.until("not taken, in the second tab", one)
	second.front()
	second.until("a list that stands still", rested)
	js[bool](second, `(() => { document.getElementById("refused").open = true; [...document.querySelectorAll("#refused li button")].find(b => b.textContent === "Leave out").id = "chosen"; return true })()`)
	second.tap("#chosen")
	const gone = `document.getElementById("refused").hidden`
	second.until("settled", gone)
	d.until("settled in the first tab too", gone)
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[1].ID }); n != 0 {
		t.Errorf("what was left out stands %d times in the history", n)
	}
}

// A measure that can't be read was entered without the server. It is shown later, by
// then on another step, and leads back to its field; entered anew it is settled.
func TestAMeasureRefusedLaterLeadsToItsField(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 0)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id + "/step/widths")
	d.inStep()
	s.kill()
	d.away()
	const field = "#f-width-top input"
	const leave = `(() => { document.activeElement.blur(); return true })()`
	d.fill(field, "36 and a bit")
	js[bool](d, leave)
	d.until("the measure waiting", `waiting.length === 1`)
	d.tap("#ahead")
	d.until("another step or tick", `!location.search.includes("width.top")`)
	js[bool](d, `(() => { goWork(); return true })()`)
	d.until("the field out of sight", `!document.querySelector("%s").getClientRects().length`, field)
	s.back()
	d.until("not taken, with its value", rested+` && document.querySelectorAll("#refused li").length === 1 && document.querySelector("#refused li b").textContent.includes("36 and a bit")`)
	if js[bool](d, `[...document.querySelectorAll("#refused li button")].some(b => b.textContent === "Send again")`) {
		t.Error("a measure that can't be read is offered to be sent again, which would change nothing")
	}
	js[bool](d, `(() => { document.getElementById("refused").open = true; [...document.querySelectorAll("#refused li button")].find(b => b.textContent === "Look").id = "chosen"; return true })()`)
	d.tap("#chosen")
	d.until("the field with what was entered, and the reason", `document.querySelector("%s").getClientRects().length && document.querySelector("%s").value === "36 and a bit" && document.querySelector("#f-width-top .fault").textContent`, field, field)
	d.fill(field, "36 3/8")
	js[bool](d, leave)
	d.until("settled", `document.getElementById("refused").hidden && !document.querySelector("#f-width-top .fault").textContent`)
	d.inStep()
}

// The sessions are put back to a copy from before, while they are served. A page that
// has seen more takes what the server has now.
func TestAPageGoesBackWithItsServer(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 0)
	before := filepath.Join(t.TempDir(), "before.db")
	s.works("backup", before)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id)
	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	d.inStep()
	s.works("restore", before)
	const open = `sync.live && work.rev === 1 && document.getElementById("t-%s").dataset.state === "open"`
	d.until("the tick open again", open, ticks[0].ID)
	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	d.open(s.url + "/s/" + id)
	d.until("done after a reload", `sync.live && work.rev === 2 && document.getElementById("t-%s").dataset.state === "done"`, ticks[0].ID)
}

// A tablet slept through that, and the work has come as far again, by other ticks,
// when it wakes: it shows these, at once and after a start anew.
func TestASleeperWakesToAnotherPast(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 0)
	before := filepath.Join(t.TempDir(), "before.db")
	s.works("backup", before)
	awake, opened := b.work(1080, 810, s, id), b.work(810, 1080, s, id)
	for _, d := range []*tablet{awake, opened} {
		d.keptByWorker(id)
	}
	awake.press(ticks[0])
	for _, d := range []*tablet{awake, opened} {
		d.isDone(ticks[0].ID)
		d.inStep()
	}
	s.kill()
	awake.away()
	opened.away()
	opened.do(chromedp.Navigate("about:blank"))
	s.works("restore", before)
	s.elsewhere(func(other *server) {
		other.op(id, `{"op": "other", "kind": "note", "step": %q, "text": "done otherwise"}`, other.here(id))
	})
	s = s.back()
	opened.open(s.url + "/s/" + id)
	for _, d := range []*tablet{awake, opened} {
		d.until("the work of this past", `sync.live && work.rev === 2 && !work.done[%q] && Object.values(work.notes).includes("done otherwise")`, ticks[0].ID)
	}
}
