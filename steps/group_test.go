package steps_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"cornerwise/steps"
)

// together are the ticks of each group, in their order.
func together(w *steps.Work) [][]string {
	var all [][]string
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, g := range step.Groups {
				all = append(all, inGroup(step, g.ID))
			}
		}
	}
	return all
}

func inGroup(step steps.Step, group string) (ids []string) {
	for _, t := range step.Ticks {
		if t.Group == group {
			ids = append(ids, t.ID)
		}
	}
	return ids
}

func ticksOp(done bool, ids ...string) steps.Op {
	return steps.Op{Kind: steps.KindTick, Ticks: ids, Done: &done}
}

func TestEveryGroupIsSound(t *testing.T) {
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			w := begin(t, plan)
			seen := map[string]bool{}
			for _, stage := range w.Stages {
				for _, step := range stage.Steps {
					for _, g := range step.Groups {
						if seen[g.ID] {
							t.Errorf("two groups are called %s", g.ID)
						}
						seen[g.ID] = true
						checkGroup(t, step, g)
					}
					for _, tick := range step.Ticks {
						if tick.Group != "" && !seen[tick.Group] {
							t.Errorf("%s belongs to %s, which is no group", tick.ID, tick.Group)
						}
						if (tick.Cuts || strings.HasSuffix(tick.ID, ".looked")) && tick.Group != "" {
							t.Errorf("%s is a cut or a look, and belongs to %s", tick.ID, tick.Group)
						}
					}
				}
			}
			for _, ids := range [][]string{{"width.top", "width.middle", "width.bottom"}, {"mark.dot.1", "mark.dot.2", "mark.dot.3", "mark.dot.4"},
				{"sew.left.pinned", "sew.left.sewn", "sew.left.checked"}, {"press.2.opened", "press.2.behind", "press.2.front"}} {
				if !slices.ContainsFunc(together(w), func(got []string) bool { return slices.Equal(got, ids) }) {
					t.Errorf("%v are no group", ids)
				}
			}
		})
	}
}

// checkGroup holds a group to the rules of a tick, and its ticks to be told from each other.
func checkGroup(t *testing.T, step steps.Step, g steps.Group) {
	t.Helper()
	for _, words := range []string{g.Label, g.Title, g.Say} {
		if n := len(strings.Fields(words)); n == 0 || n > 20 || strings.ContainsAny(words, "{}") {
			t.Errorf("group %s: %q has %d words, want 1 to 20 and no brace", g.ID, words, n)
		}
	}
	names := map[string]bool{}
	for _, tick := range step.Ticks {
		if tick.Group != g.ID {
			continue
		}
		if tick.As == "" || names[tick.As] || strings.ContainsAny(tick.As, "{}") {
			t.Errorf("%s is called %q in its group, want a name of its own", tick.ID, tick.As)
		}
		names[tick.As] = true
	}
	if len(names) < 2 {
		t.Errorf("group %s has %d ticks, want two at least", g.ID, len(names))
	}
}

// Taking each group at once, as soon as it can be, the whole work is done with every cut and
// look alone.
func TestGroupsLeadToTheEnd(t *testing.T) {
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			w, acts := inGroups(t, begin(t, plan))
			if did, total := w.Progress(); did != total {
				t.Fatalf("taken in groups, in %d acts: got %d of %d done", acts, did, total)
			}
		})
	}
}

// Seven acts are done by what is measured: widths, lengths and diagonals, of the center and of
// the top, and the test seam.
func TestAPlainBorderTakesSixtyActsBesideItsMeasures(t *testing.T) {
	plain := `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","fabric":{"runs":"lengthwise"}}]}`
	if _, acts := inGroups(t, begin(t, plain)); acts-7 > 60 {
		t.Errorf("got %d acts beside measures, want 60 at most", acts-7)
	}
}

// inGroups is the work done to the end, each group at once, and in how many acts.
func inGroups(t *testing.T, w *steps.Work) (end *steps.Work, acts int) {
	t.Helper()
	for ; ; acts++ {
		next := nextTick(w, ids(w))
		if next == "" {
			return w, acts
		}
		groups := slices.DeleteFunc(together(w), func(ids []string) bool {
			_, _, err := try(w, ticksOp(true, ids...))
			return err != nil || done(w, ids[0])
		})
		if len(groups) > 0 {
			w = do(t, w, ticksOp(true, groups[0]...))
			continue
		}
		alone := slices.DeleteFunc(ids(w), func(id string) bool { return tickOf(t, w, id).Group != "" })
		w = do(t, w, tickOp(cmp.Or(nextTick(w, alone), next), true))
	}
}

func TestTicksAreTakenAllOrNone(t *testing.T) {
	w := walk(t, begin(t, plans["one plain border"]), "cut.1.bottom.ready")
	for name, c := range map[string]struct {
		op    steps.Op
		code  string
		field string
	}{
		"one that is not":      {ticksOp(true, "mark.dot.1", "mark.dot.5"), steps.UnknownTick, "ticks"},
		"one that can't be":    {ticksOp(true, "mark.dot.1", "mark.top.ends"), steps.NotYet, "tick"},
		"in the wrong order":   {ticksOp(true, "mark.top.ends", "mark.top.middle"), steps.NotYet, "tick"},
		"one twice":            {ticksOp(true, "mark.dot.1", "mark.dot.1"), steps.BadOp, "ticks"},
		"a cut":                {ticksOp(true, "mark.dot.1", "press.1.squared"), steps.BadOp, "ticks"},
		"a look":               {ticksOp(true, "mark.dot.1", "miter.1.looked"), steps.BadOp, "ticks"},
		"one, and several":     {steps.Op{Kind: steps.KindTick, Tick: "mark.dot.1", Ticks: []string{"mark.dot.2"}, Done: ticksOp(true).Done}, steps.BadOp, "ticks"},
		"not done and not not": {steps.Op{Kind: steps.KindTick, Ticks: []string{"mark.dot.1"}}, steps.BadOp, "done"},
		"none":                 {ticksOp(true), steps.UnknownTick, "tick"},
		"too many":             {ticksOp(true, slices.Repeat([]string{"mark.dot.1"}, steps.MaxTogether+1)...), steps.BadOp, "ticks"},
		"to another number":    {steps.Op{Kind: steps.KindTick, Ticks: []string{"mark.dot.2", "mark.dot.1"}, Done: ticksOp(true).Done, Numbers: map[string]string{"mark.dot.1": "1 in"}}, steps.NumberChanged, "number"},
		"opening what is used": {ticksOp(false, "size.settled", "center.pressed"), steps.InUse, "tick"},
	} {
		before := state(t, w)
		_, _, err := try(w, c.op)
		if r, ok := err.(*steps.Refusal); !ok || r.Code != c.code || r.Field != c.field {
			t.Errorf("%s: got %v, want %s of %s", name, err, c.code, c.field)
		}
		if state(t, w) != before {
			t.Errorf("%s: the work changed", name)
		}
	}
}

func TestOneUndoTakesBackAllThatWasTakenAtOnce(t *testing.T) {
	w := walk(t, begin(t, plans["one plain border"]), "cut.1.bottom.ready")
	before := state(t, w)
	dots := []string{"mark.dot.1", "mark.dot.2", "mark.dot.3", "mark.dot.4"}
	next, change, err := try(w, ticksOp(true, dots...))
	if err != nil || len(change.Ticks) != 4 || next.Last.Text != "All four dots marked" {
		t.Fatalf("four dots: got %v, a change of %v, told as %q", err, change.Ticks, next.Last.Text)
	}
	back := do(t, next, steps.Op{Kind: steps.KindUndo, Of: next.Last.Op.ID})
	if got := state(t, back); !slices.Equal(doneIn(back), doneIn(w)) {
		t.Errorf("taken back: got %s, want %s", got, before)
	}
	for text, op := range map[string]steps.Op{
		"Dot at corner 1 marked, and 1 more": ticksOp(true, "mark.dot.1", "mark.dot.3"),
		"Dot at corner 2 marked":             ticksOp(true, "mark.dot.2"),
	} {
		if got := do(t, w, op).Last.Text; got != text {
			t.Errorf("%v: told as %q, want %q", op.Ticks, got, text)
		}
	}
	// What was left of a group completes it.
	some := do(t, w, tickOp("mark.dot.2", true))
	if got := do(t, some, ticksOp(true, "mark.dot.1", "mark.dot.3", "mark.dot.4")).Last.Text; got != "All four dots marked" {
		t.Errorf("the rest of a group: told as %q", got)
	}
	open := do(t, next, ticksOp(false, "mark.dot.1", "mark.dot.2"))
	if got := open.Last.Text; got != "Open again: dot at corner 2, and 1 more" || done(open, "mark.dot.1") {
		t.Errorf("opened again: told as %q", got)
	}
	again, change, err := try(next, ticksOp(true, dots...))
	if err != nil || len(change.Ticks) > 0 || again.Last != next.Last {
		t.Errorf("taken once more: got %v and %v, want nothing new", err, change.Ticks)
	}
}

// The entry of several ticks has the number of each, as that of one has its own.
func TestTicksAreKeptWithTheirNumbers(t *testing.T) {
	op := ticksOp(true, "mark.center.left", "mark.center.top")
	h := newHistory(t, plans["one plain border"])
	h.walk(t, "cut.1.bottom.ready")
	h.do(t, op)
	got := h.entries[len(h.entries)-1].Numbers
	for _, id := range op.Ticks {
		if want := tickOf(t, h.work, id).Number; got[id] != want || want == "" {
			t.Errorf("%s is kept as done to %q, want %q", id, got[id], want)
		}
	}
	was := state(t, h.work)
	if got := state(t, h.reopen(t)); got != was {
		t.Errorf("read anew: got %s, want %s", got, was)
	}
	holdReopened(t, "ticks", h.work)
}

func TestAMeasureDoesItsTick(t *testing.T) {
	measured := func(w *steps.Work, measure, value string) *steps.Work {
		return do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: measure, Value: value, Done: ticksOp(true).Done})
	}
	fresh := begin(t, plans["one plain border"])
	pressed := walk(t, fresh, "center.pressed")
	cut := walk(t, fresh, "cut.1.left.cut")
	top := walk(t, fresh, "press.4.squared")
	for name, c := range map[string]struct {
		work           *steps.Work
		tick           string
		measure, value string
		done           bool
	}{
		"as planned":                  {pressed, "width.top", "width-top", "48 1/2", true},
		"near it":                     {pressed, "width.top", "width-top", "48 3/8", true},
		"hard to believe":             {pressed, "width.top", "width-top", "84 1/2", false},
		"taken away":                  {pressed, "width.top", "width-top", "", false},
		"before it can be":            {fresh, "width.top", "width-top", "48 1/2", false},
		"one of two that are asked":   {cut, "cut.1.left.ready", "cut-1-left-width", "5 1/2", false},
		"one of three that are asked": {top, "top.widths", "top-width-top", "58 1/2", false},
		"a choice":                    {walk(t, fresh, "mark.dot.4"), "pair.chosen", "first-pair", "topBottom", false},
	} {
		next := measured(c.work, c.measure, c.value)
		if done(next, c.tick) != c.done {
			t.Errorf("%s, %s = %s: %s is done: %v, want %v", name, c.measure, c.value, c.tick, !c.done, c.done)
		}
		if valued(t, next, c.measure).Value != c.value {
			t.Errorf("%s: the value is not kept", name)
		}
	}
	both := measured(measured(cut, "cut-1-left-width", "5 1/2"), "cut-1-left-length", "51 1/2")
	if !done(both, "cut.1.left.ready") {
		t.Error("both of two that are asked: want their tick done")
	}
	next := measured(pressed, "width-top", "48 1/2")
	if next.Last.Text != "Three widths, near the top: 48 1/2" {
		t.Errorf("told as %q", next.Last.Text)
	}
	back := do(t, next, steps.Op{Kind: steps.KindUndo, Of: next.Last.Op.ID})
	if done(back, "width.top") || valued(t, back, "width-top").Value != "" {
		t.Error("one undo: want the value and its tick taken back")
	}
	// The same value again does its tick, if that is open.
	entered := do(t, pressed, steps.Op{Kind: steps.KindMeasure, Measure: "width-top", Value: "48 1/2"})
	if again := measured(entered, "width-top", "48 1/2"); !done(again, "width.top") || again.Last.Text != "Width near the top measured" {
		t.Errorf("the same again: told as %q", again.Last.Text)
	}
	_, _, err := try(pressed, steps.Op{Kind: steps.KindMeasure, Measure: "width-top", Value: "48", Ticks: []string{"width.top"}, Done: ticksOp(true).Done})
	if r, ok := err.(*steps.Refusal); !ok || r.Field != "ticks" {
		t.Errorf("a measure sent with ticks: got %v, want it refused", err)
	}
}

// What a measure did is kept, and stays done whatever would be asked of it later.
func TestWhatAMeasureDidIsReadAsItWas(t *testing.T) {
	h := newHistory(t, plans["one plain border"])
	h.walk(t, "center.pressed")
	for i, m := range []string{"width-top", "width-middle", "width-bottom"} {
		h.do(t, steps.Op{Kind: steps.KindMeasure, Measure: m, Value: fmt.Sprintf("48 %d/8", i+3), Done: ticksOp(true).Done})
	}
	was := state(t, h.work)
	wantDone(t, h.work, "measured", "width.top", "width.middle", "width.bottom")
	if got := state(t, h.reopen(t)); got != was {
		t.Errorf("read anew: got %s, want %s", got, was)
	}
	holdReopened(t, "measures", h.work)
}
