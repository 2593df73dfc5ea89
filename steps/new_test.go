package steps_test

import (
	"slices"
	"testing"

	"cornerwise/steps"
)

// looked is an edition with a row that pinning needs.
func looked() steps.Later {
	return steps.Later{Added: []string{"mark.{edge}.looked"}, Rows: map[string][]steps.Row{
		"mark.{edge}.ends":  {{}, {ID: "mark.{edge}.looked", Needs: "mark.{edge}.ends"}},
		"sew.{edge}.pinned": {{Needs: "+ mark.{edge}.looked"}},
	}}
}

// labelled is an edition with a row at the end of all, which nothing needs.
func labelled(id string) steps.Later {
	return steps.Later{Added: []string{id}, Rows: map[string][]steps.Row{
		"top.diagonals": {{}, {ID: id}},
	}}
}

func TestANewRowThatOthersNeedLocksNothingThatWasDone(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "sew.left.sewn")
	was, before, begun := doneIn(h.work), len(ids(h.work)), steps.Edition()
	w := h.next(t, looked())
	if got := doneIn(w); !slices.Equal(got, was) {
		t.Errorf("done are %v, want as before %v", got, was)
	}
	if w.Edition() != begun {
		t.Errorf("it was begun under edition %d, want %d", w.Edition(), begun)
	}
	left, top := tickOf(t, w, "mark.left.looked"), tickOf(t, w, "mark.top.looked")
	if !left.New || !left.Passed || left.Done {
		t.Errorf("the left strip's look is %+v, want new and passed: its edge is sewn", left)
	}
	if !top.New || top.Passed || top.Done {
		t.Errorf("the top strip's look is %+v, want new, and counted: its edge is not pinned yet", top)
	}
	if n, total := w.Progress(); n != len(was) || total != before+3 {
		t.Errorf("%d of %d are done, want %d of %d: three edges are to come", n, total, len(was), before+3)
	}
	if tickOf(t, w, "mark.left.ends").New {
		t.Error("the left strip's ends say that they are new, want only what has come since")
	}

	_, _, err := try(w, tickOp("sew.right.pinned", true))
	if r, ok := err.(*steps.Refusal); !ok || r.Code != steps.NotYet || !slices.Equal(r.Missing, []string{"mark.right.looked"}) {
		t.Errorf("pinning the right edge: got %v, want not-yet for its look alone", err)
	}
	h.do(t, tickOp("mark.right.looked", true), tickOp("sew.right.pinned", true))
	if right := tickOf(t, h.work, "mark.right.looked"); right.New || right.Passed {
		t.Errorf("the right strip's look, done, is %+v, want it no news any more", right)
	}
	if fresh := tickOf(t, begin(t, plans["one border"]), "mark.left.looked"); fresh.New {
		t.Error("in a session of today the look is new, want it like any row")
	}
}

// A step without a new tick done is done; with one that counts it is not.
func TestAPassedTickDoesNotHoldItsStepUp(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "sew.left.sewn")
	w := h.next(t, looked())
	if step, _ := w.Tick("mark.left.looked"); step.Done {
		t.Error("the step is done while three looks are to come")
	}
	h.walk(t, "sew.bottom.pinned") // does all that are not passed, and the passed one too
	if step, _ := h.work.Tick("mark.left.looked"); !step.Done {
		t.Error("the step is not done when all its looks are")
	}
}

func TestWorkDoneAgainCountsTheNewRow(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "sew.left.sewn")
	w := h.next(t, looked())
	next, change, err := try(w, redoOp("sew.left.pinned"))
	if err != nil {
		t.Fatal(err)
	}
	if tick := tickOf(t, next, "mark.left.looked"); tick.Passed || !tick.New {
		t.Errorf("the edge is to be pinned again: its look is %+v, want it counted", tick)
	}
	step, _ := next.Tick("mark.left.looked")
	if !slices.ContainsFunc(change.Steps, func(s steps.Step) bool { return s.ID == step.ID }) {
		t.Error("the change does not tell other devices that the look counts now")
	}
}

func TestAWholeSessionStaysWhole(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "")
	whole := func(w *steps.Work, when string, fresh ...string) {
		t.Helper()
		if n, total := w.Progress(); n != total {
			t.Errorf("%s: %d of %d are done, want all", when, n, total)
		}
		for _, id := range fresh {
			if tick := tickOf(t, w, id); !tick.New || !tick.Passed || tick.Done {
				t.Errorf("%s: %s is %+v, want it open, new and passed", when, id, tick)
			}
		}
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				if !step.Done {
					t.Errorf("%s: step %s is not done", when, step.ID)
				}
			}
		}
	}
	whole(h.next(t, labelled("top.labelled")), "with a row more", "top.labelled")
	h.do(t, steps.Op{Kind: steps.KindNote, Step: "widths", Text: "wavy"})
	whole(h.work, "a note later", "top.labelled")
	whole(h.reopen(t), "a note later, read anew", "top.labelled")
	whole(h.next(t, labelled("top.hung")), "with two rows more", "top.labelled", "top.hung")
	h.do(t, steps.Op{Kind: steps.KindNote, Step: "widths", Text: "not so wavy"})
	whole(h.reopen(t), "another note later", "top.labelled", "top.hung")

	h.do(t, tickOp("top.labelled", true))
	if n, total := h.work.Progress(); n != total || !done(h.work, "top.labelled") {
		t.Errorf("the label sewn on all the same: %d of %d are done", n, total)
	}
	h.do(t, redoOp("top.diagonals"))
	if n, total := h.work.Progress(); n != total-2 {
		t.Errorf("the diagonals to be measured again: %d of %d are done, want two open: them and what is new", n, total)
	}
}

// A row that nobody wrote down in an edition is new all the same; one that stands for
// another is as old as that.
func TestARowThatNoEditionNamesIsNew(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "")
	begun := steps.Edition()
	later := twoForOne()
	later.Rows["top.diagonals"] = []steps.Row{{}, {ID: "top.labelled"}}
	w := h.next(t, later)
	if tick := tickOf(t, w, "top.labelled"); !tick.New || !tick.Passed {
		t.Errorf("the label is %+v, want it new, and passed by a session that was whole", tick)
	}
	for _, id := range []string{"center.behind", "center.front"} {
		if tick := tickOf(t, w, id); tick.New || !tick.Done {
			t.Errorf("%s is %+v, want it done and no news", id, tick)
		}
	}
	open := tickOf(t, begin(t, plans["one border"]), "top.labelled")
	if steps.Edition() != begun+2 || open.New {
		t.Errorf("the edition is %d, and in a new session the label is %+v; want %d, and no news",
			steps.Edition(), open, begun+2)
	}
}

func TestASessionThatWasNotWholeCountsTheRowAtTheEnd(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "top.lengths")
	w := h.next(t, labelled("top.labelled"))
	if tick := tickOf(t, w, "top.labelled"); !tick.New || tick.Passed {
		t.Errorf("the label is %+v, want it new and counted", tick)
	}
	if n, total := w.Progress(); n != total-2 {
		t.Errorf("%d of %d are done, want two open", n, total)
	}
}
