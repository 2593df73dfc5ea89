package session_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

// An entry has the name of the device that did it, as it was named then, over a restart, an export
// and an import; this computer's own have none.
func TestTheHistoryTellsTheDevice(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	secret, _ := letIn(t, openDevices(t, s), false)
	_, in, _ := openDevices(t, s).Enter(ctx, secret)
	id := create(t, s).ID
	do(t, s, id, note("note", get(t, s, id).Work, "by the owner"))
	for _, op := range []steps.Op{
		note("tablet", get(t, s, id).Work, "by a tablet"),
		{ID: "plan", Kind: steps.KindPlan, Plan: otherPlan}, // reckoned before it is committed
	} {
		if _, err := s.Do(in, id, op); err != nil {
			t.Fatalf("Do: %v", err)
		}
	}
	head, err := s.Create(in, plan)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()

	s = open(t, path, newClock().now)
	data, err := s.Export(id)
	if err != nil {
		t.Fatal(err)
	}
	imported, err := s.Import(ctx, bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	const tablet = "Sewing room tablet"
	for id, want := range map[string][]string{id: {"", "", tablet, tablet}, imported.ID: {"", "", tablet, tablet}, head.ID: {tablet}} {
		entries, err := s.History(id)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range entries {
			if e.By != want[i] {
				t.Errorf("op %d was by %q, want %q", i+1, e.By, want[i])
			}
		}
		var back []int64
		if err := s.Lately(id, 3, func(e steps.Entry) bool {
			back = append(back, e.Rev)
			return e.Rev == 2
		}); err != nil || back[0] != int64(len(entries)) || len(back) != min(3, len(entries)) {
			t.Errorf("Lately gives the revisions %v, %v of %d, want the newest first, and 3 at the most", back, err, len(entries))
		}
	}
}

// An import's names are bounded, as what is kept is kept for ever.
func TestImportTakesNoEndlessNames(t *testing.T) {
	s := newStore(t)
	data, err := s.Export(create(t, s).ID)
	if err != nil {
		t.Fatal(err)
	}
	for by, ok := range map[string]bool{"iPad 2": true, strings.Repeat("n", 100): true, strings.Repeat("n", 101): false, "a\nb": false} {
		name, _ := json.Marshal(by)
		with := bytes.Replace(data, []byte(`"kind":"plan"`), []byte(`"by":`+string(name)+`,"kind":"plan"`), 1)
		switch _, err := s.Import(ctx, bytes.NewReader(with)); {
		case ok && err != nil:
			t.Errorf("Import of a name of %d letters: %v, want it taken", len(by), err)
		case !ok && (err == nil || !strings.Contains(err.Error(), "name of the device")):
			t.Errorf("Import of the name %.20q: %v, want it refused", by, err)
		}
	}
	if _, err := s.Import(session.Named(ctx, "Someone"), bytes.NewReader(data)); err != nil {
		t.Error(err)
	}
}
