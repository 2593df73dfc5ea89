package steps_test

import (
	"slices"
	"strings"
	"testing"

	"cornerwise/steps"
)

func laterOp(id, why string) steps.Op {
	return steps.Op{Kind: steps.KindLater, Tick: id, Why: why}
}

// What is put off is passed over, and its stage is not left before it is done.
func TestWhatIsPutOffComesBackBeforeItsStageIsLeft(t *testing.T) {
	w := walk(t, begin(t, plans["one plain border"]), "cut.1.bottom.ready")
	w = do(t, w, laterOp("mark.dot.2", "the marker dried out"))
	w = do(t, w, steps.Op{Kind: steps.KindHere, Step: "center-middles"})
	w = do(t, w, laterOp("mark.center.left", "the marker dried out"))
	if got := tickOf(t, w, "mark.center.left").Later; got != "the marker dried out" {
		t.Errorf("put off: Later is %q", got)
	}
	if got := w.Last.Text; got != "Put off: center: left middle" {
		t.Errorf("told as %q", got)
	}
	if got := w.Stages[2].PutOff(); !slices.Equal(got, []string{"Center: left middle", "Dot at corner 2"}) {
		t.Errorf("the stage's PutOff: %q", got)
	}
	var order []string
	for !w.Stages[2].Steps[3].Done || len(w.Stages[2].PutOff()) > 0 {
		_, step := w.Step(w.Here)
		i := slices.IndexFunc(step.Ticks, func(t steps.Tick) bool { return !t.Done && t.Later == "" && len(missing(w, t.ID)) == 0 })
		if i < 0 {
			i = slices.IndexFunc(step.Ticks, func(t steps.Tick) bool { return !t.Done })
		}
		order = append(order, step.Ticks[i].ID)
		w = do(t, w, tickOp(step.Ticks[i].ID, true))
	}
	if n := len(order); n != 16 || strings.Join(order[n-2:], " ") != "mark.dot.2 mark.center.left" {
		t.Errorf("what was put off comes at %v, want it last", order)
	}
	if w.Here != "first-pair" && w.Here != "machine" {
		t.Errorf("then work goes on at %s, want the next stage", w.Here)
	}
}

func TestPuttingOffIsAskedForAReason(t *testing.T) {
	w := walk(t, begin(t, plans["one plain border"]), "center.pressed")
	for name, c := range map[string]struct {
		op   steps.Op
		code string
	}{
		"what is done":       {laterOp("center.pressed", "tired"), steps.InUse},
		"without a reason":   {laterOp("width.top", " "), steps.BadOp},
		"what is not":        {laterOp("dance", "tired"), steps.UnknownTick},
		"with another field": {steps.Op{Kind: steps.KindLater, Tick: "width.top", Why: "tired", Step: "widths"}, steps.BadOp},
	} {
		_, _, err := try(w, c.op)
		if r, ok := err.(*steps.Refusal); !ok || r.Code != c.code {
			t.Errorf("%s: got %v, want %s", name, err, c.code)
		}
	}
	put := do(t, w, laterOp("width.top", "the tape is lent out"))
	if again := do(t, put, laterOp("width.top", "")); tickOf(t, again, "width.top").Later != "" || again.Here != "widths" {
		t.Errorf("taken up again: %+v at %s", tickOf(t, again, "width.top").Later, again.Here)
	}
	for name, op := range map[string]steps.Op{"done": tickOp("width.top", true), "undone": {Kind: steps.KindUndo, Of: put.Last.Op.ID}} {
		if got := tickOf(t, do(t, put, op), "width.top").Later; got != "" {
			t.Errorf("%s: it is still put off: %q", name, got)
		}
	}
	// Another plan leaves it put off.
	wider := do(t, put, steps.Op{Kind: steps.KindPlan, Plan: []byte(strings.Replace(plans["one plain border"], "5 1/2", "6 1/2", 1))})
	if tickOf(t, wider, "width.top").Later == "" {
		t.Error("another plan took up what was put off")
	}
	holdReopened(t, "a tick put off", put)
	holdReopened(t, "another plan", wider)
}
