package web_test

import (
	"net/url"
	"testing"

	"cornerwise/session/web"
	"cornerwise/steps"
)

// upTo does every tick before one, in the order of work.
func (h *house) upTo(id, last string) {
	h.t.Helper()
	snap, err := h.store.Get(id)
	if err != nil {
		h.t.Fatal(err)
	}
	yes := true
	for _, stage := range snap.Work.Stages {
		for _, step := range stage.Steps {
			for _, tick := range step.Ticks {
				if tick.ID == last {
					return
				}
				op := steps.Op{ID: tick.ID, Kind: steps.KindTick, Tick: tick.ID, Done: &yes}
				if _, err := h.store.Do(h.t.Context(), id, op); err != nil {
					h.t.Fatalf("Do(%s): %v", tick.ID, err)
				}
			}
		}
	}
	h.t.Fatalf("there is no tick %s", last)
}

func (h *house) done(id, tick string) bool {
	h.t.Helper()
	snap, err := h.store.Get(id)
	if err != nil {
		h.t.Fatal(err)
	}
	_, t := snap.Work.Tick(tick)
	return t.Done
}

// The form of the wide button is there before its script: a short touch sends it.
func TestACutIsAskedAgainWhereNoScriptHadItHeld(t *testing.T) {
	h := openHouse(t)
	id := h.made(web.DemoPlan)
	const cut = "center.trimmed"
	form := url.Values{"op": {"one"}, "kind": {"tick"}, "tick": {cut}, "done": {"true"}}
	if a := h.post("/s/"+id+"/do", form); a.status != 409 {
		t.Errorf("a cut that comes too early: got %d, want 409", a.status)
	}
	h.upTo(id, cut)
	for range 2 { // a second touch asks again too
		a := h.post("/s/"+id+"/do", form)
		wants(t, "the page that asks", string(a.body), "Nothing is marked yet", `value="36 1/2 in × 48 1/2 in"`, `name="meant"`, "Not yet")
		if a.status != 200 || h.done(id, cut) {
			t.Fatalf("POST do of a cut: got %d, done: %v, want 200 and nothing done", a.status, h.done(id, cut))
		}
	}
	form.Set("meant", "to cut")
	form.Set("number", "36 in × 48 in")
	if a := h.post("/s/"+id+"/do", form); a.status != 409 || h.done(id, cut) {
		t.Errorf("a cut by another number: got %d, done: %v, want 409", a.status, h.done(id, cut))
	}
	form.Set("op", "two")
	form.Set("number", "36 1/2 in × 48 1/2 in")
	if a := h.post("/s/"+id+"/do", form); a.status != 303 || !h.done(id, cut) {
		t.Errorf("a cut that was asked about: got %d, done: %v, want 303 and done", a.status, h.done(id, cut))
	}
	if a := h.post("/s/"+id+"/do", url.Values{"op": {"three"}, "kind": {"undo"}, "of": {"two"}}); a.status != 303 || h.done(id, cut) {
		t.Errorf("undo of the cut: got %d, done: %v", a.status, h.done(id, cut))
	}
}

func TestATrimWhoseLookIsNoPassIsAskedForItsReason(t *testing.T) {
	h := openHouse(t)
	id := h.made(web.DemoPlan)
	const trim = "miter.1.trimmed"
	h.upTo(id, trim)
	if _, err := h.store.Do(t.Context(), id, steps.Op{ID: "look", Kind: steps.KindMeasure, Measure: "look-1", Value: "pucker"}); err != nil {
		t.Fatal(err)
	}
	form := url.Values{"op": {"one"}, "kind": {"tick"}, "tick": {trim}, "done": {"true"}}
	a := h.post("/s/"+id+"/do", form)
	wants(t, "the page that asks", string(a.body), "has not passed", `name="why"`, "required")
	form.Set("meant", "to cut")
	if a := h.post("/s/"+id+"/do", form); a.status != 409 || h.done(id, trim) {
		t.Errorf("a trim without a reason: got %d, done: %v, want 409", a.status, h.done(id, trim))
	}
	form.Set("op", "two")
	form.Set("why", "the pucker lies under the binding")
	if a := h.post("/s/"+id+"/do", form); a.status != 303 || !h.done(id, trim) {
		t.Errorf("a trim with its reason: got %d, done: %v, want 303 and done", a.status, h.done(id, trim))
	}
}
