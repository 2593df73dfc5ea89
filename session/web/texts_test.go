package web

import (
	"bytes"
	"encoding/json"
	"runtime"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

func TestAStateIsMadeOnceForAllWhoReadIt(t *testing.T) {
	work, err := steps.Begin([]byte(DemoPlan))
	if err != nil {
		t.Fatal(err)
	}
	snap := session.Snapshot{Head: session.Head{ID: "a", Rev: 1}, Work: work}
	texts := newStateTexts()
	made := func(s session.Snapshot) *json.RawMessage {
		data, err := texts.state(s)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	first := made(snap)
	if want, _ := json.Marshal(newState(snap)); !bytes.Equal(*first, want) {
		t.Errorf("the text has %d bytes, want the state's %d", len(*first), len(want))
	}
	if made(snap) != first {
		t.Error("it was made twice for two who read it at the same time")
	}
	later := snap
	later.Rev = 2
	if next := made(later); next == first || !bytes.Contains(*next, []byte(`"rev":2,`)) {
		t.Error("the text of the next revision is that of the one before")
	}
	runtime.KeepAlive(first)
	its := texts.text("a")
	runtime.GC()
	if its.data.Value() != nil {
		t.Error("the text is kept though nobody reads it any more")
	}
	for range maxTexts + 10 {
		snap.ID += "a"
		made(snap)
	}
	if n := len(texts.of); n > maxTexts {
		t.Errorf("%d sessions are remembered, want %d at most", n, maxTexts)
	}
}
