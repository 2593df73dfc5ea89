package steps_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"cornerwise/steps"
)

// A history is a session as it is kept, and the work that it came to.
type history struct {
	entries []steps.Entry
	work    *steps.Work
}

func newHistory(t *testing.T, plan string) *history {
	t.Helper()
	op := steps.Op{ID: "plan", Kind: steps.KindPlan, Plan: json.RawMessage(plan)}
	return &history{[]steps.Entry{steps.FirstEntry(op, noon)}, begin(t, plan)}
}

// do takes new ops and keeps them, as a store does.
func (h *history) do(t *testing.T, ops ...steps.Op) {
	t.Helper()
	for _, op := range ops {
		op.ID = fmt.Sprint("op-", len(h.entries))
		e := h.work.Entry(op, int64(len(h.entries)+1), noon)
		h.work = do(t, h.work, op)
		h.entries = append(h.entries, e.As(h.work))
	}
}

// walk does every tick in order up to and with the last id; "" for all.
func (h *history) walk(t *testing.T, last string) {
	t.Helper()
	for _, id := range ids(h.work) {
		if !done(h.work, id) {
			h.do(t, tickOp(id, true))
		}
		if id == last {
			return
		}
	}
}

func (h *history) undo(t *testing.T) {
	t.Helper()
	h.do(t, steps.Op{Kind: steps.KindUndo, Of: h.work.Last.Op.ID})
}

// reopen is the work as the program as it is now reads it from the history.
func (h *history) reopen(t *testing.T) *steps.Work {
	t.Helper()
	w, err := steps.Resume(h.entries[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range h.entries[1:] {
		w, _ = w.Recall(e)
	}
	h.work = w
	return w
}

// next makes the program one of a later edition and reads the history with it.
func (h *history) next(t *testing.T, l steps.Later) *steps.Work {
	t.Helper()
	steps.Append(t, l)
	return h.reopen(t)
}

// bareNumbers takes the numbers from the ticks, as histories have them that were kept
// before numbers were.
func (h *history) bareNumbers() {
	for i := range h.entries {
		h.entries[i].Number = ""
	}
}

func doneIn(w *steps.Work) []string {
	return slices.DeleteFunc(ids(w), func(id string) bool { return !done(w, id) })
}

func tickOf(t *testing.T, w *steps.Work, id string) *steps.Tick {
	t.Helper()
	_, tick := w.Tick(id)
	if tick == nil {
		t.Fatalf("there is no tick %s", id)
	}
	return tick
}

func redoOp(id string) steps.Op { return steps.Op{Kind: steps.KindRedo, Tick: id, Why: "creased"} }

// wantDone holds ticks to be done, or open where the id has "!" before it.
func wantDone(t *testing.T, w *steps.Work, when string, all ...string) {
	t.Helper()
	for _, id := range all {
		id, open := strings.CutPrefix(id, "!")
		if tick := tickOf(t, w, id); tick.Done == open {
			t.Errorf("%s: %s is done: %v, want %v", when, id, tick.Done, !open)
		}
	}
}
