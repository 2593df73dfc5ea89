package steps_test

import (
	"encoding/json"
	"testing"

	"cornerwise/steps"
)

// Each op is told in the words of the last thing done, with the number that it was done to; what
// is not told changes nothing in fabric.
func TestEveryKindOfOpIsTold(t *testing.T) {
	h := newHistory(t, plans["two borders"])
	yes := true
	h.walk(t, "center.steadied")
	for _, c := range []struct {
		name         string
		op           steps.Op
		text, number string
	}{
		{"a tick", tickOp("width.top", true), "Width near the top measured", "36 1/2 in"},
		{"a measure", steps.Op{Kind: steps.KindMeasure, Measure: "width-middle", Value: "36 3/8"}, "Three widths, across the middle", "36 3/8 in"},
		{"a measure with its unit", steps.Op{Kind: steps.KindMeasure, Measure: "width-middle", Value: "92,7 cm"}, "Three widths, across the middle", "92,7 cm"},
		{"a measure that does its tick", steps.Op{Kind: steps.KindMeasure, Measure: "width-bottom", Value: "36 ½", Done: &yes}, "Three widths, near the bottom", "36 ½ in"},
		{"a measure taken away", steps.Op{Kind: steps.KindMeasure, Measure: "width-middle"}, "Three widths, across the middle: taken away", ""},
		{"an answer", steps.Op{Kind: steps.KindMeasure, Measure: "first-pair", Value: "topBottom"}, "Which pair first, sewn first: Top and bottom", ""},
		{"a note", steps.Op{Kind: steps.KindNote, Step: "machine", Text: "needle 80"}, "Noted: your machine", ""},
		{"a note taken away", steps.Op{Kind: steps.KindNote, Step: "machine"}, "Note taken away: your machine", ""},
		{"put off", steps.Op{Kind: steps.KindLater, Tick: "machine.noted", Why: "no needle"}, "Put off: set up the machine", ""},
		{"taken up", steps.Op{Kind: steps.KindLater, Tick: "machine.noted"}, "Taken up again: set up the machine", ""},
		{"to do again", steps.Op{Kind: steps.KindRedo, Tick: "center.pressed", Why: "creased"}, "To do again: press the center", ""},
		{"another plan", steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["one border"])}, "Plan changed", ""},
		{"looking round", steps.Op{Kind: steps.KindHere, Step: "corner-2"}, "", ""},
		{"seen", steps.Op{Kind: steps.KindSeen}, "", ""},
	} {
		h.do(t, c.op)
		e := h.entries[len(h.entries)-1]
		text, number := h.work.Tell(e)
		if text != c.text || number != c.number {
			t.Errorf("%s is told %q, %q, want %q, %q", c.name, text, number, c.text, c.number)
		}
	}
	if text, _ := h.work.Tell(h.entries[0]); text != "Begun" {
		t.Errorf("the first plan is told %q, want Begun", text)
	}
}

// Once more was done, an op is told as it was when it was the last; of what the procedure has no
// more, that is told.
func TestAnOpIsToldAlikeLaterOn(t *testing.T) {
	h := newHistory(t, plans["two borders"])
	h.walk(t, "")
	if step, next := h.work.Act(); step != nil || next != nil {
		t.Errorf("all is done, and %v comes next", next)
	}
	w := begin(t, plans["two borders"])
	for i, e := range h.entries[1:] {
		w = do(t, w, e.Op)
		was, n := w.Tell(e)
		if was != w.Last.Text {
			t.Fatalf("op %d is told %q, want as the last thing done, %q", i+2, was, w.Last.Text)
		}
		if is, m := h.work.Tell(e); is != was || m != n {
			t.Errorf("op %d is told %q, %q at the end, and was %q, %q", i+2, is, m, was, n)
		}
	}
	gone := steps.Entry{Rev: 2, Op: tickOp("cut.7.left.cut", true)}
	gone.Number = "1 1/2 in"
	if text, number := h.work.Tell(gone); text != "A tick that is no part of the work any more" || number != "1 1/2 in" {
		t.Errorf("a tick that is gone is told %q, %q", text, number)
	}
	for _, e := range []steps.Entry{
		{Op: steps.Op{Kind: steps.KindMeasure, Measure: "nothing", Value: "3"}},
		{Op: steps.Op{Kind: steps.KindNote, Step: "nothing", Text: "x"}},
		{Op: steps.Op{Kind: steps.KindRedo, Tick: "nothing"}},
		{Op: steps.Op{Kind: steps.KindMend, Border: 9, Edge: "left"}},
		{Op: steps.Op{Kind: steps.KindTick, Ticks: []string{"nothing", "none"}}},
	} {
		if text, _ := h.work.Tell(e); text == "" {
			t.Errorf("%+v is not told", e.Op)
		}
	}
}

// Ticks that were taken at once are told by their group, whatever is done after them.
func TestTicksTakenAtOnceAreToldAsOne(t *testing.T) {
	h := newHistory(t, plans["two borders"])
	h.walk(t, "center.steadied")
	h.do(t, steps.Op{Kind: steps.KindTick, Ticks: []string{"width.top", "width.middle", "width.bottom"}, Done: tickOp("", true).Done})
	e := h.entries[len(h.entries)-1]
	for _, last := range []string{"width.bottom", "length.left"} {
		h.walk(t, last)
		if text, number := h.work.Tell(e); text != "Three widths measured" || number != "36 1/2 in" {
			t.Errorf("three widths taken at once are told %q, %q, once %s is done", text, number, last)
		}
	}
}
