package steps_test

import (
	"testing"

	"cornerwise/steps"
)

func TestTheTrimNeedsALookThatPassed(t *testing.T) {
	looked := walk(t, begin(t, plans["one border"]), "miter.2.looked")
	for name, c := range map[string]struct {
		measures []string
		refused  bool
	}{
		"by ticks alone":             {nil, false},
		"flat":                       {[]string{"look-2 flat"}, false},
		"another corner's pucker":    {[]string{"look-1 pucker"}, false},
		"a pucker":                   {[]string{"look-2 pucker"}, true},
		"a gap":                      {[]string{"look-2 gap"}, true},
		"stripes miss":               {[]string{"look-2 miss"}, true},
		"they miss by 1/8 in (cp)":   {[]string{"look-2 miss", "miss-2 1/8"}, false},
		"they miss by 3/16 in":       {[]string{"look-2 miss", "miss-2 3/16"}, true},
		"a pucker that is put right": {[]string{"look-2 pucker", "look-2 flat"}, false},
	} {
		w := enterAll(t, looked, c.measures...)
		_, _, err := try(w, tickOp("miter.2.trimmed", true))
		r, _ := err.(*steps.Refusal)
		if refused := r != nil && r.Code == steps.LookFirst && r.Clash(); refused != c.refused {
			t.Errorf("%s: trimming got %v, want refused as look-first: %v", name, err, c.refused)
		}
		if !c.refused {
			continue
		}
		// The way past: a reason.
		op := tickOp("miter.2.trimmed", true)
		op.Why = "it will lie under the label"
		next, change, err := try(w, op)
		if err != nil {
			t.Errorf("%s, with a reason: got %v, want it taken", name, err)
			continue
		}
		if _, tick := next.Tick("miter.2.trimmed"); !tick.Done || tick.Despite != op.Why || len(change.Steps) != 1 {
			t.Errorf("%s, with a reason: got %v %q, want it done and the reason kept", name, tick.Done, tick.Despite)
		}
		next = do(t, next, steps.Op{Kind: steps.KindRedo, Tick: "miter.2.trimmed"})
		if _, tick := next.Tick("miter.2.trimmed"); tick.Despite != "" {
			t.Errorf("%s: opened again, the reason is still %q", name, tick.Despite)
		}
	}
	op := tickOp("miter.2.trimmed", true)
	op.Why = "just so"
	if _, tick := do(t, looked, op).Tick("miter.2.trimmed"); tick.Despite != "" {
		t.Errorf("a reason where none is needed: kept %q, want nothing", tick.Despite)
	}
}

func TestWorkDoneAgainIsMeasuredAgain(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "miter.2.looked")
	w = enterAll(t, w, "width-top 36 3/8", "seam-across 3 7/16", "cut-1-left-length 63", "edge-left 48 1/2", "look-1 flat", "look-2 miss", "miss-2 1/4")
	redo := foundOn(w, "corner-2", "corner-2").Ways[1].Redo
	if len(redo) == 0 {
		t.Fatal("stripes that miss open nothing")
	}
	again := do(t, w, steps.Op{Kind: steps.KindRedo, Tick: redo[0], Why: "the stripes missed"})
	for id, kept := range map[string]bool{"look-2": false, "miss-2": false, "look-1": true, "edge-left": true, "cut-1-left-length": true, "width-top": true, "seam-across": true} {
		if got := valued(t, again, id).Value != ""; got != kept {
			t.Errorf("redo %s: %s is kept: %v, want %v", redo[0], id, got, kept)
		}
	}
	if f := foundOn(again, "corner-2", "corner-2"); f.Of != "" {
		t.Errorf("redo %s: still found %+v", redo[0], f)
	}
	again = do(t, w, steps.Op{Kind: steps.KindRedo, Tick: "cut.1.left.measured", Why: "a new strip"})
	for id, kept := range map[string]bool{"cut-1-left-length": false, "edge-left": false, "look-1": false, "width-top": true, "seam-across": true} {
		if got := valued(t, again, id).Value != ""; got != kept {
			t.Errorf("a new left strip: %s is kept: %v, want %v", id, got, kept)
		}
	}
	if again = do(t, w, steps.Op{Kind: steps.KindRedo, Tick: "center.pressed"}); valued(t, again, "width-top").Value == "" {
		t.Error("redo of the first tick took the center's measures away")
	}
}
