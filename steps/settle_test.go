package steps_test

import (
	"encoding/json"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

// uneven are widths 1/4 in apart. Their least is 36 1/2, their mean 36 7/12, to 1/8 in
// 36 5/8 (derived). Until the second edition they were trimmed to the least.
var uneven = []string{"width-top 36 1/2", "width-middle 36 1/2", "width-bottom 36 3/4"}

// begunEarlier is a session of the first edition, up to a tick, with uneven widths.
func begunEarlier(t *testing.T, last string) *steps.Work {
	t.Helper()
	plan := plans["one border"]
	w, err := steps.Resume(steps.Entry{Edition: 1, Op: steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plan)}})
	if err != nil {
		t.Fatal(err)
	}
	var ops []steps.Op
	for _, m := range uneven {
		id, value, _ := strings.Cut(m, " ")
		ops = append(ops, steps.Op{Kind: steps.KindMeasure, Measure: id, Value: value})
	}
	for _, id := range ids(w) {
		op := tickOp(id, true)
		if id == "center.trimmed" {
			op.Number = "36 1/2 in × 48 1/2 in"
		}
		if ops = append(ops, op); id == last {
			break
		}
	}
	for _, op := range ops {
		w, _ = w.Recall(steps.Entry{Edition: 1, Op: op})
	}
	return w
}

// A center that was trimmed to the least stays as it was cut, and what it was trimmed to
// is no change. One that was only measured is built on at the mean.
func TestACenterThatWasTrimmedKeepsItsSize(t *testing.T) {
	for last, want := range map[string]string{
		"diagonal.2":       "36 5/8 in",
		"center.trimmed":   "36 1/2 in",
		"size.settled":     "36 1/2 in",
		"cut.1.bottom.cut": "36 1/2 in",
		"miter.1.trimmed":  "36 1/2 in",
		"mark.bottom.ends": "36 1/2 in",
	} {
		w := begunEarlier(t, last)
		if got := w.Sheet.Center.Width.Shown(); got != want {
			t.Errorf("begun earlier, up to %s: build on %s, want %s", last, got, want)
		}
		_, tick := w.Tick("center.trimmed")
		if tick.Done && len(tick.Numbers) > 0 && tick.Numbers[0].Changed != nil {
			t.Errorf("begun earlier, up to %s: the trim says %+v, want nothing changed", last, tick.Numbers[0].Changed)
		}
		f := foundOn(w, "widths", "width")
		if said := strings.Join(f.Say, " "); strings.Contains(said, "36 5/8") == (want == "36 1/2 in") || len(f.Ways) > 0 {
			t.Errorf("begun earlier, up to %s: found %q with %d ways, want it to go with %s", last, said, len(f.Ways), want)
		}
	}
}

// Once the trim is done again, or any op of today takes it back, today's rule holds. What
// is measured, planned or mended meanwhile does not change the rule.
func TestTheRuleOfTheTrimHoldsAsLongAsTheTrim(t *testing.T) {
	w := begunEarlier(t, "cut.1.bottom.cut")
	for name, op := range map[string]steps.Op{
		"a measure": {Kind: steps.KindMeasure, Measure: "length-left", Value: "48 1/2"},
		"a plan":    {Kind: steps.KindPlan, Plan: json.RawMessage(strings.Replace(plans["one border"], `"5 1/2"`, `"5 1/4"`, 1))},
		"a mend":    {Kind: steps.KindMend, Wrong: "short-strip", Way: "narrower", Border: 1, Edge: "left", Values: map[string]string{"length": "59"}},
	} {
		if got := do(t, w, op).Sheet.Center.Width.Shown(); got != "36 1/2 in" {
			t.Errorf("%s: build on %s, want what it was trimmed to, 36 1/2 in", name, got)
		}
	}
	again := do(t, w, steps.Op{Kind: steps.KindRedo, Tick: "center.trimmed", Why: "measured wrong"})
	if got := again.Sheet.Center.Width.Shown(); got != "36 5/8 in" {
		t.Errorf("the trim done again: build on %s, want the mean, 36 5/8 in", got)
	}
	undone := do(t, again, steps.Op{Kind: steps.KindUndo, Of: again.Last.Op.ID})
	if got := undone.Sheet.Center.Width.Shown(); got != "36 1/2 in" {
		t.Errorf("and taken back: build on %s, want 36 1/2 in", got)
	}
	again = walk(t, again, "size.settled")
	if got := again.Sheet.Center.Width.Shown(); got != "36 5/8 in" {
		t.Errorf("trimmed today: build on %s, want the mean, 36 5/8 in", got)
	}
}

// The seam that is off is looked for; what is mended is measured again.
func TestAFaultInThePiecingIsMendedBeforeItIsBuiltOn(t *testing.T) {
	plan := `{"center":{"width":"8 1/2","length":"8 1/2"},"borders":[{"cut":"2 1/2"}]}`
	w := enterAll(t, walk(t, begin(t, plan), "size.settled"), "width-top 8 1/2", "width-middle 8 1/2", "width-bottom 8 3/4")
	f := foundOn(w, "widths", "width")
	if f.Kind != calc.Mend || len(f.Ways) != 2 || f.Ways[0].Kind != "seam" || f.Ways[1].Kind != "trim" {
		t.Fatalf("1/4 in apart in 8 1/2: found %s with %+v, want the seam looked for, and trimming last", f.Kind, f.Ways)
	}
	for _, way := range []string{"seam", "trim"} {
		next := do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "width", Way: way})
		step := mendStepOf(t, next)
		if next.Here != step.ID || done(next, "width.top") || done(next, "size.settled") || !done(next, "length.left") {
			t.Errorf("%s: at %s; want at the mend, and the widths to be measured again", way, next.Here)
		}
		for _, tick := range step.Ticks {
			if tick.Scene.Kind != "center" {
				t.Errorf("%s: %q is drawn as %+v, want the center", way, tick.Say, tick.Scene)
			}
		}
		next = walk(t, finish(t, next, step), "")
		if done, total := next.Progress(); done != total {
			t.Errorf("%s: got %d of %d done at the end", way, done, total)
		}
	}
}
