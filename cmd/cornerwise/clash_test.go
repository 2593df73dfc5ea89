package main

import "testing"

// A tick was opened again without the server, while others went on from it. That is
// refused, with the question that leads on: open all that need it, and say why.
func TestOpeningWhatOthersNeedLeadsToTheQuestion(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 1)
	d := b.work(810, 1080, s, id)
	s.kill()
	d.away()
	js[bool](d, `(() => { goTick(byTick[%q]); return true })()`, ticks[0].ID)
	d.until("a button that opens it again", `!document.getElementById("isdone").hidden && `+rested)
	d.tap("#reopen")
	d.until("it waits", `waiting.length === 1`)
	s.elsewhere(func(other *server) { other.op(id, "%s", tickText("went on", ticks[1].ID, true)) })
	s = s.back()

	d.until("not taken", `document.querySelectorAll("#refused li").length === 1 && `+rested)
	d.inStep()
	d.isDone(ticks[1].ID)
	d.shot("811-in-use")
	js[bool](d, `(() => { document.getElementById("refused").open = true; [...document.querySelectorAll("#refused li button")].find(b => b.textContent === "Open all that need it").id = "chosen"; return true })()`)
	d.tap("#chosen")
	d.until("the question", `!document.getElementById("redo").hidden && document.getElementById("refused").hidden`)
	d.shot("812-redo")
	d.tap("#redo-yes")
	for _, tick := range ticks[:2] {
		d.until(tick.ID+" open", `!work.done[%q] && !shown.done[%q]`, tick.ID, tick.ID)
	}
	d.inStep()
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "redo" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the redo stands %d times in the history, want once", n)
	}
}
