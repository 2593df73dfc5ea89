package steps_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
	"cornerwise/steps"
)

func TestAnIdThatNeverWasIsReadAndChangesNothing(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "width.top")
	before := state(t, w)
	for name, op := range map[string]steps.Op{
		"a tick":           tickOp("dance", true),
		"a tick opened":    tickOp("dance", false),
		"a redo":           redoOp("dance"),
		"a measure":        {Kind: steps.KindMeasure, Measure: "waist", Value: "1"},
		"here":             {Kind: steps.KindHere, Step: "moon"},
		"a note":           {Kind: steps.KindNote, Step: "moon", Text: "x"},
		"seen of a step":   {Kind: steps.KindSeen, Step: "moon"},
		"seen of a tick":   {Kind: steps.KindSeen, Tick: "moon"},
		"undo":             {Kind: steps.KindUndo, Of: "nothing"},
		"a tick of no end": {Kind: steps.KindTick, Tick: "width.middle"},
		"no kind":          {},
	} {
		next, _ := w.Recall(steps.Entry{Op: op})
		if state(t, next) != before {
			t.Errorf("%s: the work changed", name)
		}
	}
	for id, known := range map[string]bool{
		"dance": false, "center.pressed": true, "mend.3.1": true, "mark.dot.2": true, "mark.dot.": false,
		"cut.7.left.cut": true, "cut.12.left.cut": true, "cut.13.left.cut": false, "cut.0.left.cut": false,
		"mark.dot.4": true, "mark.dot.5": false, "mark.dot.02": false, "sew.middle.pinned": false,
		"mend.1000.40": true, "mend.1001.1": false, "mend.1.41": false, "mend.0.1": false, "cut.7.left": false, "cut.7.left.cut.more": false, "center.pressed.2": false, "xcenter.pressed": false, "": false,
	} {
		for _, kind := range []string{steps.KindTick, steps.KindRedo} {
			if err := (steps.Op{Kind: kind, Tick: id}).Had(); (err == nil) != known {
				t.Errorf("%s %q: Had gives %v, want it known: %v", kind, id, err, known)
			}
		}
	}
	if err := (steps.Op{Kind: steps.KindSeen, Tick: "dance"}).Had(); err != nil {
		t.Errorf("seen of no tick: Had gives %v, want only ticks and redos asked", err)
	}
}

// A tick that this plan has not is kept, and counts when the plan has it.
func TestATickComesBackWithItsPlan(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "fabric.1.line")
	h.entries = append(h.entries, steps.Entry{Op: tickOp("fabric.2.pressed", true)})
	h.reopen(t)
	other := steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["two borders"])}
	h.do(t, other)
	wantDone(t, h.work, "with its border", "fabric.2.pressed")
	h.do(t, tickOp("fabric.2.pressed", false),
		steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["one border"])}, other)
	wantDone(t, h.work, "opened, and the border taken away and back", "!fabric.2.pressed")
}

func TestWhatTheProgramCanNotDoAnyMoreIsTold(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "cut.1.bottom.ready")
	for name, c := range map[string]struct {
		op          steps.Op
		title, says string
	}{
		"a mend":                 {steps.Op{Kind: steps.KindMend, Wrong: "moth", Way: "redo"}, "A way out", `no wrong "moth"`},
		"a plan":                 {steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(`{}`)}, "A change of the plan", "any more: center is missing"},
		"a measure that settles": {steps.Op{Kind: steps.KindMeasure, Measure: "size-width", Value: "1/100"}, "A measure", "any more: The center is 0.01 in"},
	} {
		t.Run(name, func(t *testing.T) {
			w := h.reopen(t)
			next, change := w.Recall(steps.Entry{Op: c.op})
			if len(next.Gone) != 1 || !strings.HasPrefix(next.Gone[0].Title, c.title) || len(next.Gone[0].Why) < 40 || change.Gone == nil {
				t.Fatalf("gone are %+v, want %q told, and to other devices", next.Gone, c.title)
			}
			if c.says != "" && !strings.Contains(next.Gone[0].Why, c.says) {
				t.Errorf("it says %q, want %q in it", next.Gone[0].Why, c.says)
			}
			if next.Last == nil || next.Last.Text == "" {
				t.Errorf("the last thing done is %+v, want words", next.Last)
			}
			if !slices.Equal(doneIn(next), doneIn(w)) || next.Sheet.Center != w.Sheet.Center {
				t.Error("something else changed")
			}
			// The plan can be changed after it, and it is still told.
			after := do(t, next, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["two borders"])})
			if !slices.Contains(after.Gone, next.Gone[0]) || len(after.Plan.Borders) != 2 {
				t.Errorf("another plan after it: gone are %+v, with %d borders", after.Gone, len(after.Plan.Borders))
			}
			if after = do(t, next, steps.Op{Kind: steps.KindSeen}); len(after.Gone) != 0 {
				t.Errorf("seen: gone are %+v, want none", after.Gone)
			}
			back, _ := next.Recall(steps.Entry{Op: steps.Op{Kind: steps.KindUndo, Of: next.Last.Op.ID}})
			if state(t, back) != state(t, w) {
				t.Error("undo is not the state before")
			}
		})
	}
	t.Run("seen before the edition that can't", func(t *testing.T) {
		h.reopen(t)
		h.entries = append(h.entries, steps.Entry{Op: steps.Op{Kind: steps.KindMend, Wrong: "moth", Way: "redo"}},
			steps.Entry{Op: steps.Op{Kind: steps.KindSeen}})
		if w := h.next(t, steps.Later{}); len(w.Gone) != 1 {
			t.Errorf("gone are %+v, want it told: who saw the rest had not seen this", w.Gone)
		}
	})
	t.Run("the next way out keeps its number", func(t *testing.T) {
		h := newHistory(t, plans["one border"])
		h.walk(t, "miter.2.looked")
		h.entries = append(h.entries,
			steps.Entry{Op: steps.Op{ID: "1", Kind: steps.KindMend, Wrong: "moth", Way: "redo"}},
			steps.Entry{Op: steps.Op{ID: "2", Kind: steps.KindMend, Wrong: "pleat", Way: "redo", Corner: 2}},
			steps.Entry{Op: tickOp("mend.2.1", true)})
		wantDone(t, h.reopen(t), "the second way out", "mend.2.1")
	})
}

// Each measure that numbers follow from may hold, in a history, what is no length.
func TestAMeasureThatIsNoLengthIsReadAndTold(t *testing.T) {
	w := begin(t, plans["coping on sides"])
	for _, id := range []string{"size-width", "size-length", "coped-width"} {
		next, _ := w.Recall(steps.Entry{Op: steps.Op{Kind: steps.KindMeasure, Measure: id, Value: "wide"}})
		if len(next.Gone) != 1 || !strings.Contains(next.Gone[0].Title, "wide") || !strings.Contains(next.Gone[0].Why, "is not a length") {
			t.Errorf("%s: gone are %+v, want the measure told, and why", id, next.Gone)
		}
		if got := valued(t, next, id).Value; got != "" {
			t.Errorf("%s has %q, want nothing that can't be built on", id, got)
		}
	}
	for _, id := range []string{"width-top", "width-middle"} {
		w, _ = w.Recall(steps.Entry{Op: steps.Op{Kind: steps.KindMeasure, Measure: id, Value: "wide"}})
	}
	next, _ := w.Recall(steps.Entry{Op: steps.Op{Kind: steps.KindMeasure, Measure: "width-bottom", Value: "36"}})
	if len(next.Gone) != 1 {
		t.Errorf("the last of three: gone are %+v, want it told", next.Gone)
	}
}

func TestUndoIsReadAsItWasTaken(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "cut.1.left.ready")
	want := state(t, h.work)
	for _, op := range []steps.Op{
		tickOp("cut.1.right.measured", true),
		tickOp("cut.1.left.ready", false),
		redoOp("size.settled"),
		{Kind: steps.KindMeasure, Measure: "size-width", Value: "36"},
		{Kind: steps.KindNote, Step: "widths", Text: "wavy"},
		{Kind: steps.KindPlan, Plan: json.RawMessage(plans["two borders"])},
		{Kind: steps.KindMend, Wrong: "pleat", Way: "redo", Corner: 2},
	} {
		h.do(t, op)
		h.undo(t)
		if got := state(t, h.reopen(t)); got != want {
			t.Errorf("undo of %s, read anew, is not the state before", op.Kind)
		}
	}
	// Taken before an edition, taken back after it.
	h.do(t, tickOp("cut.1.right.measured", true))
	h.next(t, looked())
	h.undo(t)
	again := doneIn(h.work)
	if done(h.work, "cut.1.right.measured") || !slices.Equal(doneIn(h.reopen(t)), again) {
		t.Error("taken back after an edition: want the tick open, read anew too")
	}
}

// What is read is what was taken: every op that Apply takes comes to the same by Recall.
func TestAHistoryIsReadAsItWasTaken(t *testing.T) {
	t.Parallel()
	longest := 12
	if testing.Short() {
		longest = 8
	}
	rapid.Check(t, func(t *rapid.T) {
		first := steps.FirstEntry(steps.Op{ID: "plan", Kind: steps.KindPlan,
			Plan: json.RawMessage(plans[rapid.SampledFrom([]string{"one border", "two borders", "joined aslant"}).Draw(t, "plan")])}, noon)
		taken, err := steps.Resume(first)
		if err != nil {
			t.Fatal(err)
		}
		var entries []steps.Entry
		take := func(op steps.Op) {
			op.ID = fmt.Sprint(len(entries))
			e := taken.Entry(op, int64(len(entries)), noon)
			if next, _, err := taken.Apply(op, noon); err == nil {
				taken, entries = next, append(entries, e.As(next))
			}
		}
		for n := rapid.IntRange(0, 60).Draw(t, "done in order"); n > 0; n-- {
			if id := nextTick(taken, ids(taken)); id != "" {
				take(tickOp(id, true))
			}
		}
		for range rapid.IntRange(1, longest).Draw(t, "ops") {
			op := anOp(t, taken, measures(taken))
			switch rapid.IntRange(0, 3).Draw(t, "otherwise") {
			case 0:
				if taken.Last != nil {
					op = steps.Op{Kind: steps.KindUndo, Of: taken.Last.Op.ID}
				}
			case 1:
				op = tickOp(rapid.SampledFrom(ids(taken)).Draw(t, "open"), true)
			}
			take(op)
		}
		read, err := steps.Resume(first)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			was := read
			var change steps.Change
			if read, change = was.Recall(e); change.Stages == nil && !maps.Equal(change.Ticks, between(was, read)) {
				t.Fatalf("%s: the change tells of %v, want %v", e.Kind, change.Ticks, between(was, read))
			}
		}
		if got, want := state(t, read), state(t, taken); got != want {
			t.Fatalf("%v are read as\n%s\nand were taken as\n%s", kinds(entries), got, want)
		}
		if (read.Last == nil) != (taken.Last == nil) || read.Last != nil && read.Last.Op.ID != taken.Last.Op.ID {
			t.Fatalf("undo would take back %+v, want %+v", read.Last, taken.Last)
		}
	})
}

// between are the ticks that went from done to open, or from open to done.
func between(was, is *steps.Work) map[string]bool {
	all := map[string]bool{}
	for _, id := range ids(is) {
		if done(was, id) != done(is, id) {
			all[id] = done(is, id)
		}
	}
	return all
}

func kinds(entries []steps.Entry) []string {
	var all []string
	for _, e := range entries {
		all = append(all, strings.TrimSpace(fmt.Sprintf("%s %s%s %s", e.Kind, e.Tick, e.Measure, e.Value)))
	}
	return all
}

// Whatever is read, in whatever order, comes to a work that can be shown.
func TestAnythingIsRead(t *testing.T) {
	t.Parallel()
	longest := 20
	if testing.Short() {
		longest = 8
	}
	word := rapid.SampledFrom([]string{"", "dance", "mend.1.1", "mend.", "{edge}", "*", "cut.9.left.cut", "sides", "topBottom", "-1", "0", "36", "36 1/2", "1/100", "99999", "\x00", "é", "1 yd"})
	rapid.Check(t, func(t *rapid.T) {
		w := someWork(t)
		of := func(all []string, what string) string {
			if rapid.IntRange(0, 4).Draw(t, "any "+what) == 0 {
				return word.Draw(t, what)
			}
			return rapid.SampledFrom(all).Draw(t, what)
		}
		var stepIDs, measureIDs, troubles []string
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				stepIDs = append(stepIDs, step.ID)
			}
		}
		for _, m := range measures(w) {
			measureIDs = append(measureIDs, m.ID)
		}
		for _, trouble := range calc.Troubles() {
			troubles = append(troubles, trouble.ID)
		}
		ticks := ids(w)
		for n := range rapid.IntRange(1, longest).Draw(t, "ops") {
			op := steps.Op{ID: fmt.Sprint(n), Kind: of([]string{"plan", "tick", "tick", "measure", "here", "note", "redo", "seen", "mend", "undo"}, "kind"),
				Number: word.Draw(t, "number"), Why: word.Draw(t, "why"), Of: fmt.Sprint(n - 1)}
			switch op.Kind {
			case steps.KindPlan:
				op.Plan = json.RawMessage(plans[of([]string{"one border", "two borders", "coping on top"}, "plan")])
			case steps.KindTick, steps.KindRedo:
				op.Tick = of(ticks, "tick")
				if is := rapid.IntRange(0, 2).Draw(t, "done"); is < 2 {
					op.Done = new(bool)
					*op.Done = is == 1
				}
			case steps.KindMeasure:
				op.Measure, op.Value = of(measureIDs, "measure"), word.Draw(t, "value")
			case steps.KindSeen:
				op.Tick, op.Step = of(append(ticks, ""), "tick"), of(append(stepIDs, ""), "step")
			case steps.KindHere, steps.KindNote:
				op.Step, op.Text = of(stepIDs, "step"), word.Draw(t, "text")
			case steps.KindMend:
				op.Wrong, op.Way = of(troubles, "wrong"), of([]string{"redo", "redo-2", "joined", "narrower", "new-strip", "trim-all", "needle"}, "way")
				op.Border, op.Corner = rapid.IntRange(-1, 3).Draw(t, "border"), rapid.IntRange(-1, 5).Draw(t, "corner")
				op.Edge, op.Edges = of([]string{"", "left", "top"}, "edge"), calc.Edges(of([]string{"", "sides"}, "edges"))
				op.Values = map[string]string{"length": "58", "miss": "1/4", "past": "1/8", "band": "50", "across": "3 7/16", "width": word.Draw(t, "width")}
			}
			w, _ = w.Recall(steps.Entry{Op: op})
			if n, total := w.Progress(); n < 0 || n > total {
				t.Fatalf("%+v: %d of %d are done", op, n, total)
			}
			if _, step := w.Step(w.Here); step == nil {
				t.Fatalf("%+v: work is at %q, which is no step", op, w.Here)
			}
		}
		state(t, w)
		reopenedAlike(t, "anything", w)
		steps.Outcome(w)
		q := w.Quilt()
		for _, id := range ids(w) {
			_, tick := w.Tick(id)
			if err := q.Check(tick.Scene); err != nil {
				t.Fatalf("%s: %v", id, err)
			}
		}
		for _, trouble := range troubles {
			var refusal *steps.Refusal // of a value that is no length
			_, err := steps.Answer(w, trouble, steps.Asked{About: steps.About{Border: 1, Edge: "left", Corner: 1}})
			if err != nil && !errors.As(err, &refusal) {
				t.Fatalf("%s: %v", trouble, err)
			}
		}
	})
}
