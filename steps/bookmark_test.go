package steps_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"cornerwise/steps"
)

// A failer is a test, or a trial of one.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// reopened is the work as its bookmark gives it back.
func reopened(t failer, w *steps.Work) *steps.Work {
	t.Helper()
	kept, err := w.Bookmark()
	if err != nil {
		t.Fatalf("Bookmark: %v", err)
	}
	again, err := steps.Reopen(kept)
	if err != nil {
		t.Fatalf("Reopen: %v", err)
	}
	return again
}

func reopenedAlike(t failer, after string, w *steps.Work) *steps.Work {
	t.Helper()
	again := reopened(t, w)
	if differs := alike(w, again); differs != "" {
		t.Fatalf("after %s: reopened otherwise, at %.600s", after, differs)
	}
	return again
}

// holdReopened holds the work to what its bookmark gives back, and both to what an undo makes
// of them.
func holdReopened(t *testing.T, after string, w *steps.Work) *steps.Work {
	t.Helper()
	again := reopenedAlike(t, after, w)
	if w.Last == nil {
		return again
	}
	undo := steps.Op{ID: "undo", Kind: steps.KindUndo, Of: w.Last.Op.ID}
	was, want, errWas := w.Apply(undo, noon)
	is, got, errIs := again.Apply(undo, noon)
	if errWas != nil || errIs != nil {
		return again // what was seen since can't be taken back
	}
	if differs := alike(was, is); differs != "" {
		t.Fatalf("after %s, and an undo: reopened otherwise, at %.600s", after, differs)
	}
	if g, w := asJSON(t, got), asJSON(t, want); g != w {
		t.Fatalf("after %s: reopened, an undo tells %.300s; want %.300s", after, g, w)
	}
	return again
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// eachHistory calls hold for the history of every recorded session, of some where few.
func eachHistory(t *testing.T, hold func(t *testing.T, few bool, history []steps.Entry)) {
	t.Helper()
	files, err := filepath.Glob("../testdata/sessions/*/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no recordings: %v", err)
	}
	few := testing.Short() || raceOn
	for _, file := range files {
		name := filepath.Base(filepath.Dir(file)) + "/" + strings.TrimSuffix(filepath.Base(file), ".json")
		t.Run(name, func(t *testing.T) {
			if few && (strings.Contains(name, "twelve") || !strings.HasPrefix(name, "2/")) {
				t.Skip("it is long, or much like another")
			}
			t.Parallel()
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			var r struct {
				Export struct{ History []steps.Entry }
			}
			if err := json.Unmarshal(data, &r); err != nil {
				t.Fatal(err)
			}
			hold(t, few, r.Export.History)
		})
	}
}

// Of a long run of ticks a few are looked at, of all else more.
func TestEveryRecordedSessionReopensAtABookmarkAsItWas(t *testing.T) {
	eachHistory(t, func(t *testing.T, few bool, history []steps.Entry) {
		w, err := steps.Resume(history[0])
		if err != nil {
			t.Fatal(err)
		}
		apart := 120
		if few {
			apart = 200
		}
		since := 0
		for _, e := range history[1:] {
			w, _ = w.Recall(e)
			if e.Kind != steps.KindTick {
				since += 7
			}
			if since++; since >= apart {
				w, since = holdReopened(t, e.ID, w), 0 // and the rest goes on from there
			}
		}
		// Ops of today on work of an earlier edition.
		for _, op := range []steps.Op{
			{Kind: steps.KindHere, Step: w.Stages[2].Steps[0].ID},
			{Kind: steps.KindSeen},
			{Kind: steps.KindNote, Step: w.Stages[2].Steps[0].ID, Text: "as it was"},
		} {
			op.ID = "today-" + op.Kind
			if w, _, err = w.Apply(op, noon); err != nil {
				t.Fatalf("%s: %v", op.Kind, err)
			}
			w = holdReopened(t, "an op "+op.Kind, w)
		}
	})
}

func TestWorkReopensWithChangesOfThePlanAndWaysOut(t *testing.T) {
	h := newHistory(t, plans["two borders"])
	h.walk(t, "cut.2.left.ready")
	for _, op := range []steps.Op{
		{Kind: steps.KindPlan, Plan: json.RawMessage(strings.Replace(plans["two borders"], `"1/4"`, `"3/8"`, 1))},
		{Kind: steps.KindRedo, Tick: "cut.1.left.cut", Why: "cut askew"},
		{Kind: steps.KindSeen},
		{Kind: steps.KindPlan, Plan: json.RawMessage(plans["one border"])},
		{Kind: steps.KindPlan, Plan: json.RawMessage(plans["two borders"])},
	} {
		h.do(t, op)
		h.work = holdReopened(t, op.Kind, h.work)
	}
	h.undo(t)
	holdReopened(t, "an undo", h.work)
}

func TestABookmarkThatCanNotBeReadIsAnError(t *testing.T) {
	kept, err := begin(t, plans["two borders"]).Bookmark()
	if err != nil {
		t.Fatal(err)
	}
	for name, damaged := range map[string][]byte{
		"empty": nil, "cut short": kept[:len(kept)/2], "of something else": []byte(`{"plan": {}}`),
		"other words in the middle": slices.Concat(kept[:len(kept)/2], []byte("lantern"), kept[len(kept)/2:]),
	} {
		if w, err := steps.Reopen(damaged); err == nil {
			t.Errorf("a bookmark that is %s: got work at %s, want an error", name, w.Here)
		}
	}
}
