package steps_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/steps"
)

// state is all of a Work that anyone can see.
func state(t interface{ Fatal(...any) }, w *steps.Work) string {
	b, err := json.Marshal([]any{w.Stages, w.Here, w.Sheet, string(w.Source), w.Gone})
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestRefusals(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "size.settled")
	long := strings.Repeat("x", 2000)
	for name, c := range map[string]struct {
		op          steps.Op
		code, field string
	}{
		"an op without an id":             {steps.Op{ID: " \x00", Kind: steps.KindTick}, steps.BadOp, "op"},
		"an op with too long an id":       {steps.Op{ID: long, Kind: steps.KindTick}, steps.BadOp, "op"},
		"no kind":                         {steps.Op{}, steps.BadOp, "kind"},
		"a kind that is not":              {steps.Op{Kind: "dance"}, steps.BadOp, "kind"},
		"a tick that is not":              {tickOp("dance", true), steps.UnknownTick, "tick"},
		"a tick without done":             {steps.Op{Kind: steps.KindTick, Tick: "center.pressed"}, steps.BadOp, "done"},
		"a tick whose needs are open":     {tickOp("miter.1.sewn", true), steps.NotYet, "tick"},
		"unticking what others need":      {tickOp("center.pressed", false), steps.InUse, "tick"},
		"a measure that is not":           {steps.Op{Kind: steps.KindMeasure, Measure: "waist", Value: "1"}, steps.UnknownMeas, "measure"},
		"a measure that is no length":     {steps.Op{Kind: steps.KindMeasure, Measure: "width-top", Value: "wide"}, steps.BadValue, "value"},
		"a measure of nothing":            {steps.Op{Kind: steps.KindMeasure, Measure: "width-top", Value: "0"}, steps.BadValue, "value"},
		"a size that can't be built on":   {steps.Op{Kind: steps.KindMeasure, Measure: "size-width", Value: "1/4"}, steps.BadValue, "value"},
		"a size too large to reckon":      {steps.Op{Kind: steps.KindMeasure, Measure: "size-width", Value: "99999"}, steps.BadValue, "value"},
		"a choice that is not":            {steps.Op{Kind: steps.KindMeasure, Measure: "first-pair", Value: "36"}, steps.BadValue, "value"},
		"a step that is not, for here":    {steps.Op{Kind: steps.KindHere, Step: "moon"}, steps.UnknownStep, "step"},
		"a step that is not, for a note":  {steps.Op{Kind: steps.KindNote, Step: "moon", Text: "x"}, steps.UnknownStep, "step"},
		"a note that is too long":         {steps.Op{Kind: steps.KindNote, Step: "widths", Text: long}, steps.BadOp, "text"},
		"a note that can't be shown":      {steps.Op{Kind: steps.KindNote, Step: "widths", Text: "a\x00b"}, steps.BadOp, "text"},
		"redo of a tick that is not":      {steps.Op{Kind: steps.KindRedo, Tick: "dance"}, steps.UnknownTick, "tick"},
		"a plan that is none":             {steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(`{}`)}, steps.BadPlan, "center"},
		"no plan":                         {steps.Op{Kind: steps.KindPlan}, steps.BadPlan, "plan"},
		"undo of what is not the last op": {steps.Op{Kind: steps.KindUndo, Of: "nothing"}, steps.NotLast, "of"},
	} {
		before := state(t, w)
		_, _, err := try(w, c.op)
		r, ok := err.(*steps.Refusal)
		if !ok || r.Code != c.code || r.Field != c.field || len(r.Message) < 10 {
			t.Errorf("%s: got %+v, want %s on %s with a sentence", name, err, c.code, c.field)
		}
		if state(t, w) != before {
			t.Errorf("%s: a refusal changed the work", name)
		}
	}
}

func TestUndoTakesBackTheLastOpOnly(t *testing.T) {
	start := walk(t, begin(t, plans["two borders"]), "size.settled")
	for name, op := range map[string]steps.Op{
		"a tick":                   tickOp("fabric.1.pressed", true),
		"a tick opened":            tickOp("size.settled", false),
		"a measure":                {Kind: steps.KindMeasure, Measure: "width-top", Value: "36 3/8"},
		"a size that changes much": {Kind: steps.KindMeasure, Measure: "size-width", Value: "36"},
		"the other pair first":     {Kind: steps.KindMeasure, Measure: "first-pair", Value: "topBottom"},
		"a note":                   {Kind: steps.KindNote, Step: "widths", Text: "wavy at the top"},
		"redo":                     {Kind: steps.KindRedo, Tick: "center.pressed", Why: "creased"},
		"another plan":             {Kind: steps.KindPlan, Plan: json.RawMessage(plans["one border"])},
	} {
		op.ID = "the op"
		next := do(t, start, op)
		if state(t, next) == state(t, start) {
			t.Errorf("%s: the op changed nothing", name)
		}
		back := do(t, next, steps.Op{Kind: steps.KindUndo, Of: "the op"})
		if state(t, back) != state(t, start) {
			t.Errorf("undo of %s: the state is not the state before", name)
		}
		if _, _, err := try(back, steps.Op{Kind: steps.KindUndo, Of: "the op"}); err == nil {
			t.Errorf("undo of %s a second time: got it taken, want a refusal", name)
		}
	}
}

func TestRedoOpensTheTickAndAllThatNeedsIt(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "")
	w = do(t, w, steps.Op{Kind: steps.KindRedo, Tick: "miter.2.sewn", Why: "pucker"})
	open := map[string]bool{}
	for _, id := range ids(w) {
		if _, tick := w.Tick(id); !tick.Done {
			open[id] = true
		}
	}
	want := map[string]bool{"miter.2.sewn": true, "miter.2.looked": true, "miter.2.trimmed": true,
		"press.2.opened": true, "press.2.behind": true, "press.2.front": true, "press.2.squared": true,
		"top.widths": true, "top.lengths": true, "top.diagonals": true}
	if !reflect.DeepEqual(open, want) {
		t.Errorf("redo miter.2.sewn opens: got %v, want %v", open, want)
	}
	if w.Here != "corner-2" {
		t.Errorf("redo miter.2.sewn: work is at %s, want corner-2", w.Here)
	}
}

func TestMeasuresSettleTheSize(t *testing.T) {
	w := begin(t, plans["one border"])
	set := func(id, value string) { w = do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: id, Value: value}) }
	want := func(when, width, strip string) {
		t.Helper()
		if got := w.Sheet.Center.Width.Shown(); got != width {
			t.Errorf("%s: the width built on is %s, want %s", when, got, width)
		}
		if got := w.Sheet.Strips[1].CutLength.Shown(); got != strip {
			t.Errorf("%s: the strips on top and bottom are %s, want %s", when, got, strip)
		}
	}
	want("as planned", "36 1/2 in", "51 1/2 in")
	set("width-top", "36 3/8")
	set("width-middle", "36 3/8")
	want("two of three widths", "36 1/2 in", "51 1/2 in")
	set("width-bottom", "36 3/8")
	want("three equal widths", "36 3/8 in", "51 3/8 in")
	set("width-bottom", "36 1/2")
	want("three widths within 1/8 in: their mean to 1/8 in", "36 3/8 in", "51 3/8 in")
	set("width-bottom", "37")
	want("three widths further apart: their mean until the seam is found", "36 5/8 in", "51 5/8 in")
	set("size-width", "36")
	want("a size entered", "36 in", "51 in")
	set("size-width", "")
	set("width-top", "")
	want("measures taken away", "36 1/2 in", "51 1/2 in")
}

func TestTheOtherPairMayComeFirst(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "test.measured")
	w = do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: "first-pair", Value: "topBottom"})
	w = do(t, w, tickOp("pair.chosen", true))
	if w.Here != "sew-top" {
		t.Errorf("top and bottom first: work is at %s, want sew-top", w.Here)
	}
	if _, _, err := try(w, tickOp("sew.left.pinned", true)); err == nil {
		t.Error("top and bottom first: pinning the left edge was taken")
	}
	w = do(t, w, tickOp("sew.top.pinned", true))
	_, _, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: "first-pair", Value: "sides"})
	if r, ok := err.(*steps.Refusal); !ok || r.Code != steps.InUse {
		t.Errorf("changing the first pair once an edge is pinned: got %v, want in-use", err)
	}
}

func TestAChangedPlanKeepsWhatStillStands(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "mark.dot.4")
	w = do(t, w, steps.Op{Kind: steps.KindNote, Step: "widths", Text: "mind the top"})
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["two borders"])})
	for id, want := range map[string]bool{
		"size.settled": true, "cut.1.left.ready": true, "fabric.2.pressed": false,
		"band.1.left.sewn": false, "mark.center.top": true, "mark.left.middle": false, "mark.left.ends": false,
	} {
		if got := done(w, id); got != want {
			t.Errorf("a second border added: %s done is %v, want %v", id, got, want)
		}
	}
	if _, step := w.Step("widths"); step.Note != "mind the top" {
		t.Error("a second border added: the note is gone")
	}
}

func TestApplyingTheSameTickTwiceChangesNothing(t *testing.T) {
	w := do(t, begin(t, plans["one border"]), tickOp("center.pressed", true))
	again, change, err := try(w, tickOp("center.pressed", true))
	if err != nil || again != w || len(change.Ticks) > 0 || change.Here != "" {
		t.Errorf("the tick again: got %v %+v, want the same work and no change", err, change)
	}
}

// Whatever comes, no tick is done on top of an open one, a Change tells exactly
// what differs, and the Work before is as it was.
func TestAnyOpsKeepTheWorkSound(t *testing.T) {
	t.Parallel() // after those that change the tables, which do not run side by side
	longest := 15
	if testing.Short() {
		longest = 8
	}
	rapid.Check(t, func(t *rapid.T) {
		plan := plans[rapid.SampledFrom([]string{"one border", "two borders", "unequal bands"}).Draw(t, "plan")]
		w, err := steps.Begin(json.RawMessage(plan))
		if err != nil {
			t.Fatal(err)
		}
		all, before := ids(w), state(t, w)
		for range rapid.IntRange(1, longest).Draw(t, "ops") {
			id := rapid.SampledFrom(all).Draw(t, "tick")
			var op steps.Op
			switch rapid.IntRange(0, 9).Draw(t, "kind") {
			case 0:
				op = tickOp(id, false)
			case 1:
				op = steps.Op{Kind: steps.KindRedo, Tick: id}
			case 2:
				op = steps.Op{Kind: steps.KindMeasure, Measure: rapid.SampledFrom([]string{"width-top", "width-middle", "width-bottom", "size-length"}).Draw(t, "measure"),
					Value: rapid.SampledFrom([]string{"", "36", "36 1/2", "48 1/8", "x"}).Draw(t, "value")}
			case 3:
				op = steps.Op{Kind: steps.KindHere, Step: w.Stages[rapid.IntRange(0, 5).Draw(t, "stage")].Steps[0].ID}
			case 5:
				yes := rapid.Bool().Draw(t, "done")
				op = steps.Op{Kind: steps.KindTick, Ticks: rapid.SampledFrom(together(w)).Draw(t, "group"), Done: &yes}
			case 4:
				if w.Last != nil {
					op = steps.Op{Kind: steps.KindUndo, Of: w.Last.Op.ID}
				}
			default:
				op = tickOp(id, true)
				if next := nextTick(w, all); next != "" && rapid.Bool().Draw(t, "in order") {
					op = tickOp(next, true)
				}
			}
			next, change, err := try(w, op)
			if state(t, w) != before {
				t.Fatalf("%+v changed the work that it was applied to", op)
			}
			if err != nil {
				continue
			}
			checkSound(t, w, next, change)
			w, before = next, state(t, next)
		}
	})
}

func checkSound(t *rapid.T, was, is *steps.Work, change steps.Change) {
	for _, id := range ids(is) {
		step, tick := is.Tick(id)
		if tick.Done && len(missing(is, id)) > 0 {
			t.Fatalf("%s is done while %v are open", id, missing(is, id))
		}
		if step.Done && !tick.Done {
			t.Fatalf("step %s is done while %s is open", step.ID, id)
		}
		if told, ok := change.Ticks[id]; change.Stages == nil && (done(was, id) != tick.Done) != ok || ok && told != tick.Done {
			t.Fatalf("%s went from %v to %v; the change says %v", id, done(was, id), tick.Done, change.Ticks)
		}
	}
	if _, step := is.Step(is.Here); step == nil {
		t.Fatalf("work is at %q, which is no step", is.Here)
	}
	if (is.Here != was.Here) != (change.Here != "") {
		t.Fatalf("here went from %s to %s; the change says %q", was.Here, is.Here, change.Here)
	}
}

// A change tells what is new, and only that.
func TestAChangeTellsWhatIsNew(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "center.pressed")
	_, c, _ := try(w, steps.Op{Kind: steps.KindNote, Step: "widths", Text: "wavy"})
	if len(c.Notes) != 1 || c.Notes["widths"] != "wavy" || c.Here != "" || c.Steps != nil || c.Ticks != nil || c.Measures != nil || c.Gone != nil || c.Plan != nil || c.Stages != nil {
		t.Errorf("a note: the change is %+v", c)
	}
	_, c, _ = try(w, steps.Op{Kind: steps.KindMeasure, Measure: "width-top", Value: "36 1/2"})
	if len(c.Measures) != 1 || c.Measures["width-top"] != "36 1/2" || c.Notes != nil || c.Steps != nil || c.Stages != nil {
		t.Errorf("a measure: the change is %+v", c)
	}
	_, c, _ = try(w, steps.Op{Kind: steps.KindHere, Step: "lengths"})
	if c.Here != "lengths" || c.Last.Text != w.Last.Text || c.Ticks != nil {
		t.Errorf("another step: the change is %+v", c)
	}
	_, c, _ = try(w, steps.Op{Kind: steps.KindMeasure, Measure: "size-width", Value: "36"})
	if c.Sheet == nil || c.Sheet.Center.Width.Shown() != "36 in" || len(c.Stages) != 6 || c.Plan != nil {
		t.Errorf("a size: the change has %d stages and the plan %s, want all stages with the sheet", len(c.Stages), c.Plan)
	}
	plan := json.RawMessage(plans["one plain border"])
	_, c, _ = try(w, steps.Op{Kind: steps.KindPlan, Plan: plan})
	if string(c.Plan) != string(plan) || c.Sheet == nil {
		t.Errorf("another plan: the change has the plan %s", c.Plan)
	}
	told, err := json.Marshal(&steps.Done{Op: steps.Op{ID: "7"}, At: noon, Text: "Pressed"})
	if err != nil || string(told) != `{"op":"7","at":"2026-03-01T12:00:00.000Z","text":"Pressed"}` {
		t.Errorf("the last thing done is told as %s, %v", told, err)
	}
}

func TestCopingStripsAreSewnBeforeTheBordersAreReckoned(t *testing.T) {
	w := walk(t, begin(t, plans["coping on sides"]), "size.settled")
	shown := func(w *steps.Work, id string) string {
		_, tick := w.Tick(id)
		if len(tick.Numbers) == 0 {
			t.Fatalf("tick %s has no number", id)
		}
		var all []string
		for _, f := range tick.Numbers[0].Figures {
			all = append(all, f.Shown())
		}
		return strings.Join(all, " × ")
	}
	if w.Here != "machine" {
		t.Fatalf("after the size is settled: work is at %s, want machine, as coping strips are the first to be sewn", w.Here)
	}
	w = walk(t, w, "test.measured")
	if w.Here != "coping-fabric" {
		t.Fatalf("after the test seam: work is at %s, want coping-fabric", w.Here)
	}
	// 80 − 60 = 20 is three repeats of 6 and 2 over: the sides' strips add 2, each finishes 1.
	if got, want := shown(w, "coping.left.cut"), "1 1/2 in × 80 1/2 in"; got != want {
		t.Errorf("the left coping strip is %s, want %s", got, want)
	}
	_, _, err := try(w, tickOp("cut.1.left.measured", true))
	if r, ok := err.(*steps.Refusal); !ok || !slices.Contains(r.Missing, "coping.measured") {
		t.Errorf("the border's strip before the coping strips: got %v, want coping.measured among what is missing", err)
	}
	w = walk(t, w, "coping.right.pressed")
	if got, want := shown(w, "coping.measured"), "62 1/2 in × 80 1/2 in"; got != want {
		t.Errorf("the center with its strips is %s, want %s", got, want)
	}
	before := shown(w, "cut.1.top.measured")
	w = do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: "coped-width", Value: "62 3/8"})
	if got, want := shown(w, "coping.measured"), "62 3/8 in × 80 1/2 in"; got != want {
		t.Errorf("measured over both strips: the center is %s, want %s", got, want)
	}
	if got := shown(w, "cut.1.top.measured"); got == before {
		t.Errorf("measured over both strips: the top strip is still %s", got)
	}
	if got, want := shown(w, "coping.left.cut"), "1 1/2 in × 80 1/2 in"; got != want {
		t.Errorf("measured over both strips: the strip that was cut is now %s, want %s", got, want)
	}
	w = do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: "coped-width", Value: ""})
	if got := shown(w, "cut.1.top.measured"); got != before {
		t.Errorf("the measure taken away: the top strip is %s, want %s", got, before)
	}
}
