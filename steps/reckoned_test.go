package steps_test

import (
	"fmt"
	"strings"
	"testing"

	"cornerwise/steps"
)

// longerStrips is an edition that reckons strips 1/2 in longer and wider.
func longerStrips() steps.Later {
	return steps.Later{Longer: []string{"strip", "stripCut"}, Numbers: []string{"cut.{border}.{edge}.cut", "cut.{border}.{edge}.ready"}}
}

// As planned, strips are 5 1/2 x 63 1/2 (cp); the edition to come makes 1/2 in more of each.
func TestANumberReckonedOtherwiseIsTold(t *testing.T) {
	const was, now, why = "5 1/2 in × 63 1/2 in", "6 in × 64 in", "The program reckons it otherwise now."
	for _, bare := range []bool{false, true} {
		t.Run(fmt.Sprintf("without its number %v", bare), func(t *testing.T) {
			h := newHistory(t, plans["one border"])
			h.walk(t, "cut.1.left.ready")
			h.do(t, steps.Op{Kind: steps.KindSeen})
			if bare {
				h.bareNumbers()
			}
			w := h.next(t, longerStrips())
			got := changedOf(w, "cut.1.left.cut")
			if got != (steps.Changed{Was: was, Now: now, Why: why, Done: true}) {
				t.Errorf("the left strip, cut and seen before: got %+v, want %s, then %s", got, was, now)
			}
			if got := changedOf(w, "cut.1.right.cut"); got != (steps.Changed{}) {
				t.Errorf("the right strip, not cut yet: got %+v, want nothing: nobody went by it", got)
			}
			if tick := tickOf(t, w, "cut.1.left.cut"); tick.Number != now || !tick.Done {
				t.Errorf("the left strip is done: %v, at %s; want done, and %s shown", tick.Done, tick.Number, now)
			}
			// It is judged as it was cut, which is as the sheet has it: nothing to say.
			h.do(t, steps.Op{Kind: steps.KindMeasure, Measure: "seam-across", Value: "3 1/2"})
			if f := foundOn(h.work, "cut-1-sides", "strip-1-left"); f.Of != "" {
				t.Errorf("the left strip: found %+v, want it judged by what it was cut to", f)
			}

			h.do(t, steps.Op{Kind: steps.KindSeen, Step: "widths"})
			if changedOf(h.work, "cut.1.left.cut") == (steps.Changed{}) {
				t.Error("another step seen: the change is gone")
			}
			h.do(t, steps.Op{Kind: steps.KindSeen, Tick: "cut.1.left.cut"})
			for when, w := range map[string]*steps.Work{"at once": h.work, "read anew": h.reopen(t)} {
				if got := changedOf(w, "cut.1.left.cut"); got != (steps.Changed{}) {
					t.Errorf("seen today, %s: got %+v, want nothing", when, got)
				}
				if changedOf(w, "cut.1.left.ready") == (steps.Changed{}) {
					t.Errorf("another tick seen today, %s: its change is gone", when)
				}
			}
			// The plan then changed as well: both are why.
			h.do(t, steps.Op{Kind: steps.KindMeasure, Measure: "size-length", Value: "48"})
			if got := changedOf(h.work, "cut.1.left.ready").Why; !strings.HasPrefix(got, why+" The center is 36 1/2 in × 48 in now") {
				t.Errorf("a measure besides: why is %q, want both reasons", got)
			}

			w = h.next(t, steps.Later{})
			if got := changedOf(w, "cut.1.left.cut"); got.Why == why {
				t.Errorf("an edition later, which changes nothing: got %+v, want it still seen", got)
			}
		})
	}
}

// What was seen under an edition that reckoned as today's does stays seen.
func TestWhatWasSeenStaysSeenUnderALaterEdition(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "cut.1.left.ready")
	h.next(t, longerStrips())
	h.do(t, steps.Op{Kind: steps.KindSeen})
	if got := changedOf(h.next(t, steps.Later{}), "cut.1.left.cut"); got != (steps.Changed{}) {
		t.Errorf("the next edition reckons the same: got %+v, want nothing", got)
	}
	got := changedOf(h.next(t, longerStrips()), "cut.1.left.cut")
	if got.Was != "5 1/2 in × 63 1/2 in" || got.Now != "6 1/2 in × 64 1/2 in" {
		t.Errorf("the one after reckons otherwise again: got %+v, want what it was cut to, and 64 1/2 in", got)
	}
}

// Seen of before takes the reason away for which a tick was opened then, and nothing more.
func TestAReasonSeenBeforeIsGone(t *testing.T) {
	h := newHistory(t, string(onePlan("48 1/2", "5 1/2", "1/4")))
	h.walk(t, "cut.1.left.ready")
	h.do(t, steps.Op{Kind: steps.KindPlan, Plan: onePlan("48 1/2", "6", "1/4")})
	seen := h.work.Entry(steps.Op{ID: "seen", Kind: steps.KindSeen}, 0, noon)
	w := h.next(t, longerStrips())
	if tick := tickOf(t, w, "cut.1.left.cut"); tick.Done || tick.Opened == "" {
		t.Fatalf("a wider border: the cut is %+v, want it open with a reason", tick)
	}
	w, _ = w.Recall(seen)
	if got := tickOf(t, w, "cut.1.left.cut").Opened; got != "" {
		t.Errorf("seen: still open for %q", got)
	}
	if changedOf(w, "cut.1.left.cut") == (steps.Changed{}) {
		t.Error("seen before: the new number is no news, want it told")
	}
}

// A tick done under an edition between is held to the reckoning of that one.
func TestATickIsHeldToTheReckoningOfItsEdition(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "cut.1.left.ready")
	h.next(t, longerStrips())
	h.do(t, steps.Op{Kind: steps.KindSeen})
	h.walk(t, "cut.1.right.ready")
	h.bareNumbers()
	w := h.next(t, longerStrips())
	for id, was := range map[string]string{"cut.1.left.cut": "5 1/2 in × 63 1/2 in", "cut.1.right.cut": "6 in × 64 in"} {
		if got := changedOf(w, id); got.Was != was || got.Now != "6 1/2 in × 64 1/2 in" {
			t.Errorf("%s: got %+v, want %s, then 6 1/2 in × 64 1/2 in", id, got, was)
		}
	}
}

// Side 48 1/2, 5 1/2 wide: cut to 60 the strip has a tail of 5 3/4 (derived), whatever
// number its tick has today.
func TestACutStripIsJudgedByTheNumberThatItWasCutTo(t *testing.T) {
	h := newHistory(t, plans["one border"])
	h.walk(t, "cut.1.left.measured")
	e := h.work.Entry(tickOp("cut.1.left.cut", true), 0, noon)
	e.Number = "5 1/2 in × 60 in"
	h.entries = append(h.entries, e)
	f := foundOn(h.reopen(t), "cut-1-sides", "strip-1-left")
	if got := figureOf(f, "tail at each end"); got != "5 3/4 in" {
		t.Errorf("cut to 60 in: a tail of %q, want 5 3/4 in", got)
	}
	// Words that are no length are told as they were, and judge nothing.
	h.entries[len(h.entries)-1].Number = "as long as the table"
	w := h.reopen(t)
	if got := changedOf(w, "cut.1.left.cut").Was; got != "as long as the table" {
		t.Errorf("cut to what is no length: it was %q, want the words", got)
	}
	if f := foundOn(w, "cut-1-sides", "strip-1-left"); f.Of != "" {
		t.Errorf("cut to what is no length: found %+v, want nothing", f)
	}
}

// Numbers that were seen on a step stay seen when the step, or the tick, is renamed.
func TestWhatWasSeenStaysSeenUnderAnotherName(t *testing.T) {
	for name, op := range map[string]steps.Op{
		"a step": {Kind: steps.KindSeen, Step: "strip-ends"},
		"a tick": {Kind: steps.KindSeen, Tick: "mark.top.ends"},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHistory(t, plans["one border"])
			h.do(t, steps.Op{Kind: steps.KindMeasure, Measure: "size-width", Value: "36"})
			w := h.next(t, steps.Later{
				Steps:    map[string]string{"strip-ends": "finishes"},
				Replaced: [][2]string{{"mark.{edge}.ends", "mark.{edge}.finish"}},
				Rows:     map[string][]steps.Row{"mark.{edge}.ends": {{ID: "mark.{edge}.finish"}}},
			})
			if changedOf(w, "mark.top.finish") == (steps.Changed{}) {
				t.Fatal("nothing changed, want the top strip's ends")
			}
			h.entries = append(h.entries, steps.Entry{Op: op})
			if got := changedOf(h.reopen(t), "mark.top.finish"); got != (steps.Changed{}) {
				t.Errorf("seen by its name of before: got %+v, want nothing", got)
			}
		})
	}
}
