package steps_test

import (
	"slices"
	"testing"

	"cornerwise/steps"
)

// twoForOne is an edition where two ticks stand for one.
func twoForOne() steps.Later {
	return steps.Later{
		Replaced: [][2]string{{"center.pressed", "center.behind center.front"}},
		Rows: map[string][]steps.Row{"center.pressed": {
			{ID: "center.behind"}, {ID: "center.front", Needs: "center.behind"}}},
	}
}

func TestTwoTicksStandForOne(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "width.top")
	open := newHistory(t, plans["one border"])
	open.do(t, tickOp("center.pressed", true), tickOp("center.pressed", false))
	again := newHistory(t, plans["one border"])
	again.walk(t, "width.top")
	again.do(t, redoOp("center.pressed"))
	wantDone(t, h.next(t, twoForOne()), "pressed", "center.behind", "center.front", "width.top")
	wantDone(t, open.reopen(t), "pressed and opened", "!center.behind", "!center.front")
	wantDone(t, again.reopen(t), "pressed and to be pressed again", "!center.behind", "!center.front")
	if text := h.work.Last.Text; text == "" {
		t.Error("the last thing done is nothing")
	}
}

// The words of the last thing done are of what stands for it.
func TestTheLastThingDoneIsWhatStandsForIt(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.do(t, tickOp("center.pressed", true))
	w := h.next(t, twoForOne())
	if w.Last == nil || w.Last.Text != "Center pressed" {
		t.Errorf("the last thing done is %+v, want the center pressed", w.Last)
	}
	h.undo(t)
	wantDone(t, h.work, "taken back", "!center.behind", "!center.front")
	wantDone(t, h.reopen(t), "taken back, read anew", "!center.behind", "!center.front")
}

// oneForFour are editions where one tick stands for four, told in both ways.
func oneForFour(was string) steps.Later {
	return steps.Later{
		Replaced: [][2]string{{was, "center.dotted"}},
		Rows: map[string][]steps.Row{
			"mark.dot.{corner}": {},
			"size.settled":      {{}, {ID: "center.dotted", Needs: "size.settled"}},
			"sew.{edge}.pinned": {{Needs: "pair.chosen mark.{edge}.ends center.dotted"}},
		},
		Needs: []string{"sew.{edge}.pinned"},
	}
}

func TestOneTickStandsForFour(t *testing.T) {
	for _, was := range []string{"mark.dot.1 mark.dot.2 mark.dot.3 mark.dot.4", "mark.dot.{corner}"} {
		t.Run(was, func(t *testing.T) {
			h := newHistory(t, plans["one border"])
			h.walk(t, "mark.dot.3")
			half := len(h.entries)
			h.walk(t, "sew.left.sewn")
			steps.Append(t, oneForFour(was))
			wantDone(t, h.reopen(t), "four dots", "center.dotted", "sew.left.sewn")
			all := h.entries
			h.entries = all[:half]
			wantDone(t, h.reopen(t), "three dots", "!center.dotted")
			h.entries = append(all[:len(all):len(all)], steps.Entry{Op: steps.Op{ID: "redo", Kind: steps.KindRedo, Tick: "mark.dot.2"}})
			// Dot 2 lies on top and right; the left edge was pinned without it.
			wantDone(t, h.reopen(t), "one dot again", "!center.dotted", "mark.top.ends")
			h.entries = append(all[:len(all):len(all)], steps.Entry{Op: tickOp("mark.dot.2", false)})
			wantDone(t, h.reopen(t), "one dot opened", "!center.dotted")
		})
	}
}

func TestOneTickStandsForAnotherOverTwoEditions(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "press.1.opened")
	rename := func(was, is string) steps.Later {
		return steps.Later{Replaced: [][2]string{{was, is}}, Rows: map[string][]steps.Row{
			was:                     {{ID: is}},
			"press.{corner}.behind": {{Needs: is}},
		}}
	}
	wantDone(t, h.next(t, rename("press.{corner}.opened", "press.{corner}.spread")), "one edition later", "press.1.spread", "!press.2.spread")
	two := len(h.entries)
	h.do(t, tickOp("press.1.behind", true))
	wantDone(t, h.next(t, rename("press.{corner}.spread", "press.{corner}.parted")), "two editions later", "press.1.parted", "press.1.behind", "!press.2.parted")
	h.entries = append(h.entries, steps.Entry{Op: redoOp("press.1.opened")})
	wantDone(t, h.reopen(t), "opened again by its first id", "!press.1.parted", "!press.1.behind", "miter.1.trimmed")
	if got := h.work.Last.Text; got != "To do again: open the miter seam, corner 1" {
		t.Errorf("the last thing done is %q, want the seam to do again", got)
	}
	h.entries = append(h.entries[:two:two], steps.Entry{Op: tickOp("press.1.opened", false)})
	wantDone(t, h.reopen(t), "unticked by its first id", "!press.1.parted")
	if err := (steps.Op{Kind: steps.KindTick, Tick: "press.3.spread"}).Had(); err != nil {
		t.Errorf("an id of the edition between: got %v, want it known", err)
	}
}

// Where nothing stands for a tick it is simply gone; its history is still read.
func TestNothingStandsForWhatIsNoMoreDone(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "mark.dot.4")
	w := h.next(t, steps.Later{Replaced: [][2]string{{"cut.{border}.{edge}.ready", ""}}, Rows: map[string][]steps.Row{
		"cut.{border}.{edge}.ready": {},
		"mark.{edge}.middle":        {{Needs: "cut.*.{edge}.cut"}},
	}, Needs: []string{"mark.{edge}.middle"}})
	wantDone(t, w, "without a row", "cut.1.left.cut", "mark.left.middle", "mark.dot.4")
	if _, tick := w.Tick("cut.1.left.ready"); tick != nil {
		t.Error("the row is still there")
	}
}

// A pattern in needs of before also stands for ids that are gone since.
func TestNeedsOfBeforeStandForIdsThatAreGone(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "top.widths")
	h.do(t, redoOp("press.1.front"))
	was := doneIn(h.work)
	w := h.next(t, steps.Later{
		Replaced: [][2]string{{"press.{corner}.front", "press.{corner}.fronted"}},
		Rows: map[string][]steps.Row{
			"press.{corner}.front": {{ID: "press.{corner}.fronted"}},
			"top.widths":           {{Needs: "press.*.fronted"}},
			"top.lengths":          {{Needs: "press.*.fronted"}},
			"top.diagonals":        {{Needs: "press.*.fronted"}},
		},
		Needs: []string{"top.widths", "top.lengths", "top.diagonals"},
	})
	wantDone(t, w, "pressed again since", "!press.1.fronted", "press.2.fronted", "!top.widths")
	if got := doneIn(w); len(got) != len(was) {
		t.Errorf("%d ticks are done, want %d as before", len(got), len(was))
	}
}

func TestARedoOfBeforeOpensByTheNeedsOfThen(t *testing.T) {
	for name, c := range map[string]struct {
		later  steps.Later
		redo   string
		closed string // open by today's needs, done by those of then
		opened string // the other way round
	}{
		"a need more": {steps.Later{Rows: map[string][]steps.Row{"mark.center.{edge}": {{Needs: "+ test.measured"}}},
			Needs: []string{"mark.center.{edge}"}}, "test.measured", "mark.center.top", ""},
		"a need less": {steps.Later{Rows: map[string][]steps.Row{"sew.{edge}.pressed": {{Needs: "size.settled"}}},
			Needs: []string{"sew.{edge}.pressed"}}, "sew.left.checked", "", "sew.left.pressed"},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHistory(t, plans["one border"])
			h.walk(t, "miter.1.sewn")
			h.do(t, redoOp(c.redo))
			was := doneIn(h.work)
			w := h.next(t, c.later)
			if got := doneIn(w); !slices.Equal(got, was) {
				t.Errorf("done are %d, want the %d of then", len(got), len(was))
			}
			h.walk(t, "miter.1.sewn")
			h.do(t, redoOp(c.redo))
			if c.closed != "" {
				wantDone(t, h.work, "a redo of today", "!"+c.closed)
			}
			if c.opened != "" {
				wantDone(t, h.work, "a redo of today", c.opened)
			}
			if got := doneIn(h.work); !slices.Equal(doneIn(h.reopen(t)), got) {
				t.Error("read anew, another is done")
			}
		})
	}
}

// What a mend holds up was needed then as well, whatever else a row needed.
func TestARedoOfBeforeOpensWhatAMendHeldUp(t *testing.T) {
	h := newHistory(t, plans["one plain border"])
	h.walk(t, "cut.1.bottom.ready")
	h.do(t, steps.Op{Kind: steps.KindMend, Wrong: "short-strip", Way: "joined", Border: 1, Edge: "top", Values: map[string]string{"length": "58"}})
	h.walk(t, "mark.top.middle")
	h.do(t, redoOp("mend.1.1"))
	wantDone(t, h.work, "then", "!mark.top.middle")
	w := h.next(t, steps.Later{Rows: map[string][]steps.Row{"mark.{edge}.middle": {{Needs: "+ test.measured"}}},
		Needs: []string{"mark.{edge}.middle"}})
	wantDone(t, w, "now", "!mend.1.1", "!mark.top.middle", "mark.left.middle")
}

func TestARenamedMeasureAndStepKeepWhatTheyHave(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "mark.dot.4")
	h.do(t,
		steps.Op{Kind: steps.KindMeasure, Measure: "edge-left", Value: "48 3/8"},
		steps.Op{Kind: steps.KindNote, Step: "cut-1-sides", Text: "narrow"},
		steps.Op{Kind: steps.KindHere, Step: "cut-1-sides"})
	rename := func(measure, step string) steps.Later {
		return steps.Later{Measures: map[string]string{measure: "hem-{edge}"}, Steps: map[string]string{step: "saw-{border}-{edges}"}}
	}
	w := h.next(t, rename("edge-{edge}", "cut-{border}-{edges}"))
	if got := valued(t, w, "hem-left").Value; got != "48 3/8" {
		t.Errorf("the measure has %q, want 48 3/8", got)
	}
	_, step := w.Step("saw-1-sides")
	if step == nil || step.Note != "narrow" || w.Here != "saw-1-sides" {
		t.Fatalf("the step is %+v, work is at %s; want its note, and work there", step, w.Here)
	}
	h.do(t, steps.Op{Kind: steps.KindMeasure, Measure: "hem-left", Value: "48"})
	w = h.next(t, steps.Later{Measures: map[string]string{"hem-{edge}": "rim-{edge}"}})
	if got := valued(t, w, "rim-left").Value; got != "48" {
		t.Errorf("another edition later the measure has %q, want the last value, 48", got)
	}
	if _, _, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: "edge-left", Value: "48"}); err == nil {
		t.Error("a new op with an id that is gone was taken")
	}
}
