package steps_test

import (
	"strings"
	"testing"

	"cornerwise/steps"
)

// changedOf is what is new of a tick's first number; the zero Changed: nothing.
func changedOf(w *steps.Work, id string) steps.Changed {
	_, t := w.Tick(id)
	if len(t.Numbers) == 0 || t.Numbers[0].Changed == nil {
		return steps.Changed{}
	}
	return *t.Numbers[0].Changed
}

func TestAChangedNumberShowsOldNewAndWhyUntilSeen(t *testing.T) {
	// 36 1/2 + 2 x 5 1/2 + 4 = 51 1/2, and half of 36 1/2 is 18 1/4 (cp); with 36 it is 51 and 18.
	w := walk(t, begin(t, plans["one border"]), "cut.1.top.cut")
	w = entered(t, w, "size-width", "36")
	cut, open := changedOf(w, "cut.1.top.cut"), changedOf(w, "mark.top.ends")
	if cut.Was != "5 1/2 in × 51 1/2 in" || cut.Now != "5 1/2 in × 51 in" || !cut.Done {
		t.Errorf("the top strip, cut before: got %+v, want 51 1/2 in, then 51 in, and done", cut)
	}
	if open.Was != "18 1/4 in" || open.Now != "18 in" || open.Done {
		t.Errorf("the top strip's ends, not marked yet: got %+v, want 18 1/4 in, then 18 in, and open", open)
	}
	for _, say := range []string{"36 in × 48 1/2 in now, not 36 1/2 in × 48 1/2 in", "as you entered it"} {
		if !strings.Contains(open.Why, say) {
			t.Errorf("why it changed: got %q, want %q in it", open.Why, say)
		}
	}
	if left := changedOf(w, "mark.left.ends"); left != (steps.Changed{}) {
		t.Errorf("the left strip's ends, which stay: got %+v, want nothing", left)
	}

	seen, change, err := try(w, steps.Op{Kind: steps.KindSeen, Step: "strip-ends"})
	if err != nil || len(change.Steps) != 1 || changedOf(seen, "mark.top.ends") != (steps.Changed{}) || changedOf(seen, "cut.1.top.cut") == (steps.Changed{}) {
		t.Errorf("the marks' step seen: got %v, %d steps, want only its numbers taken as seen", err, len(change.Steps))
	}
	if seen.Last == nil || seen.Last.Op.Kind != steps.KindMeasure {
		t.Errorf("after seen: undo would take back %+v, want the measure", seen.Last)
	}
	if seen = do(t, w, steps.Op{Kind: steps.KindSeen, Tick: "cut.1.top.cut"}); changedOf(seen, "cut.1.top.cut") != (steps.Changed{}) || !done(seen, "cut.1.top.cut") {
		t.Error("the cut seen: want it done, and nothing new")
	}
	if f := foundOn(seen, "cut-1-topBottom", "strip-1-top"); figureOf(f, "tail at each end") != "7 3/4 in" {
		t.Errorf("the strip once seen: found %+v, want it judged as it was cut, 51 1/2 in", f)
	}
	if seen = do(t, w, steps.Op{Kind: steps.KindSeen}); changedOf(seen, "cut.1.top.cut") != (steps.Changed{}) || changedOf(seen, "mark.center.top") != (steps.Changed{}) {
		t.Error("all seen: want nothing new")
	}
	if again, _, _ := try(seen, steps.Op{Kind: steps.KindSeen}); again != seen {
		t.Error("all seen twice: want the same work")
	}

	back := entered(t, w, "size-width", "")
	if got := changedOf(back, "mark.top.ends"); got != (steps.Changed{}) {
		t.Errorf("the measure taken away: got %+v, want nothing new", got)
	}
	done := do(t, w, tickOp("mark.center.top", true))
	if got := changedOf(done, "mark.center.top"); got != (steps.Changed{}) {
		t.Errorf("done to the new number: got %+v, want nothing new", got)
	}
	for field, op := range map[string]steps.Op{"step": {Kind: steps.KindSeen, Step: "moon"}, "tick": {Kind: steps.KindSeen, Tick: "moon"}} {
		_, _, err := try(w, op)
		if r, ok := err.(*steps.Refusal); !ok || r.Field != field {
			t.Errorf("seen of no %s: got %v, want it refused", field, err)
		}
	}
}

// Every reason is told, in the order in which one works.
func TestEveryReasonIsTold(t *testing.T) {
	w := begin(t, plans["one border"])
	w = entered(t, w, "first-pair", "topBottom")
	if got := changedOf(w, "mark.top.ends"); got != (steps.Changed{}) {
		t.Errorf("the other pair first: got %+v, want no number changed", got)
	}
	w = entered(t, w, "size-width", "36")
	if got, want := changedOf(w, "mark.top.ends").Why, "The center is 36 in × 48 1/2 in now, not 36 1/2 in × 48 1/2 in. "+
		"Width as you entered it; length as planned. Top and bottom are sewn first now."; got != want {
		t.Errorf("both: why is %q, want %q", got, want)
	}
	w = entered(t, w, "size-length", "48")
	if got, want := changedOf(w, "mark.left.ends").Why, "Width and length as you entered it."; !strings.Contains(got, want) {
		t.Errorf("a length too: why is %q, want %q in it", got, want)
	}
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: []byte(strings.Replace(plans["one border"], `"5 1/2"`, `"4 1/2"`, 1))})
	if got := changedOf(w, "mark.top.middle").Why; !strings.HasPrefix(got, "The plan was changed. The center is 36 in × 48 in now") {
		t.Errorf("a plan too: why is %q", got)
	}
	// The center of the plan is told as a size, and as a change of the plan.
	w = do(t, begin(t, plans["one border"]), steps.Op{Kind: steps.KindPlan, Plan: []byte(strings.Replace(plans["one border"], `"36 1/2"`, `"36"`, 1))})
	if got := changedOf(w, "mark.top.ends").Why; got != "The plan was changed. The center is 36 in × 48 1/2 in now, not 36 1/2 in × 48 1/2 in." {
		t.Errorf("another center planned: why is %q", got)
	}
	// A title is no reason.
	w = do(t, entered(t, begin(t, plans["one border"]), "size-width", "36"), steps.Op{Kind: steps.KindPlan, Plan: []byte(`{"title":"Reeds",` + plans["one border"][1:])})
	if got := changedOf(w, "mark.top.ends").Why; strings.Contains(got, "plan was changed") {
		t.Errorf("another title: why is %q, want the size alone", got)
	}
}

// How the size was settled is said with it.
func TestHowTheSizeWasSettled(t *testing.T) {
	for measures, want := range map[string]string{
		"":                                     "Width and length as planned.",
		"width-top 36 3/8,width-middle 36 3/8": "Width and length as planned.",
		"width-top 36 3/8,width-middle 36 3/8,width-bottom 36 3/8":                             "Width as measured three times: 36 3/8, 36 3/8, 36 3/8; length as planned.",
		"width-top 36 3/8,width-middle 36 3/8,width-bottom 36 1/2":                             "Width the mean of 36 3/8, 36 3/8, 36 1/2; length as planned.",
		"length-left 48,length-middle 48,length-right 49":                                      "Width as planned; length the mean of 48, 48, 49 until the seam that is off is found.",
		"length-left 48,length-middle 48,length-right 49,size-length 48 1/2,size-width 36 1/2": "Width and length as you entered it.",
	} {
		w := begin(t, plans["one border"])
		if measures != "" {
			w = enterAll(t, w, strings.Split(measures, ",")...)
		}
		if got := tickOf(t, w, "size.settled").Numbers[0].How; got != want {
			t.Errorf("%s: settled by %q, want %q", measures, got, want)
		}
	}
}

func TestAnotherPlanIsWhyNumbersChange(t *testing.T) {
	w := begin(t, plans["one border"])
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: []byte(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"4 1/2","stripe":"1 1/8"}]}`)})
	if got := changedOf(w, "cut.1.left.cut"); got.Was != "5 1/2 in × 63 1/2 in" || got.Now != "4 1/2 in × 61 1/2 in" || got.Why != "The plan was changed." {
		t.Errorf("a border cut 4 1/2: got %+v, want 63 1/2 in, then 61 1/2 in, for the plan", got)
	}
}

func TestATickDoneToAnOldNumberIsRefused(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "cut.1.top.measured")
	op := tickOp("cut.1.top.cut", true)
	op.Number = "5 1/2 in × 51 1/2 in"
	if _, tick := w.Tick("cut.1.top.cut"); tick.Number != op.Number {
		t.Fatalf("the top strip shows %q, want %q", tick.Number, op.Number)
	}
	do(t, w, op)
	w = entered(t, w, "size-width", "36")
	_, _, err := try(w, op)
	r, ok := err.(*steps.Refusal)
	if !ok || r.Code != steps.NumberChanged || !r.Clash() || !strings.Contains(r.Message, op.Number) || !strings.Contains(r.Message, "5 1/2 in × 51 in") {
		t.Errorf("cut to 51 1/2 in, where 51 in is right: got %v, want number-changed with both", err)
	}
	op.Number = " 5 1/2 in  × 51 in"
	do(t, w, op)
	op.Number = ""
	do(t, w, op)
	op = tickOp("center.pressed", true)
	op.Number = "anything: it is done"
	do(t, w, op)
}

// Coping strips whose width is reckoned follow the center as it is measured: that is why their
// numbers change, not another plan.
func TestReckonedCopingChangesWithTheCenter(t *testing.T) {
	w := begin(t, plans["coping on sides"])
	for _, m := range []string{"width-top", "width-middle", "width-bottom"} {
		w = do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: m, Value: "60"})
	}
	got := changedOf(w, "coping.left.cut")
	if got.Now != "1 3/4 in × 80 1/2 in" || !strings.Contains(got.Why, "The center is") || strings.Contains(got.Why, "The plan was changed") {
		t.Errorf("1/2 in narrower: the coping strip says %+v, want 1/4 in wider, and the center as why", got)
	}
}
