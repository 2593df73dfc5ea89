package steps_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

func partOf(c calc.Compared, kind string) string {
	for _, p := range c.Parts {
		if p.Kind == kind {
			return p.By.Shown()
		}
	}
	return ""
}

func TestTheOutcomeTellsWhereADifferenceComesFrom(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "")
	if o := steps.Outcome(w); o.Flat.Kind != calc.Missing || o.Width.Measured.Length.Sign() != 0 {
		t.Errorf("nothing measured: got %+v, want nothing known", o.Verdict)
	}
	// Planned 36 1/2 + 2 x 5 = 46 1/2. Built on 36 1/4: 1/4 in less. Three strips of
	// 1 1/2 measuring 3 7/16 take 17/64 in a seam (J. Cahoon, Quiltcentric, 16 September
	// 2012): two seams of two allowances each take 1/16 in. 46 1/8 leaves 1/16 in.
	w = enterAll(t, w, "size-width 36 1/4", "seam-across 3 7/16",
		"top-width-top 46 1/8", "top-width-middle 46 1/8", "top-width-bottom 46 1/8",
		"top-length-left 58 1/2", "top-length-middle 58 1/2", "top-length-right 58 1/2",
		"top-diagonal-1 74 1/2", "top-diagonal-2 74 1/2")
	o := steps.Outcome(w)
	if got := o.Width.Expected.Shown(); got != "46 1/2 in" {
		t.Errorf("expected %s, want the first plan's 46 1/2 in", got)
	}
	for kind, want := range map[string]string{"center": "-1/4 in", "seams": "-1/16 in", "rest": "-1/16 in"} {
		if got := partOf(o.Width, kind); got != want {
			t.Errorf("of the width %s explains %q, want %s", kind, got, want)
		}
	}
	if o.Verdict.Kind != calc.Right || o.Shape.Verdict.Kind != calc.Rectangle || o.Flat.Kind != calc.Right {
		t.Errorf("all in all: %+v, want flat and square", o.Verdict)
	}
	// 1/4 in eases in 20 in (cp): the edges 1 1/4 in longer than the middle do not.
	if o = steps.Outcome(enterAll(t, w, "top-width-top 47 3/8", "top-width-bottom 47 3/8")); o.Flat.Kind != calc.Wavy {
		t.Errorf("edges 1 1/4 in longer than the middle: %+v, want wavy", o.Flat)
	}
}

// Off by as much as may be apart is as good as right; by as much as can be eased is eased.
func TestTheTopIsJudgedByThePlansLimits(t *testing.T) {
	plan := strings.Replace(plans["one border"], `"borders"`, `"limits":{"apart":"1/8","mend":"1/2"},"borders"`, 1)
	for measured, want := range map[string]struct{ kind, says string }{
		"46 1/2": {calc.Right, "As expected: 46 1/2 in."}, "46 5/8": {calc.Right, "46 5/8 in: 1/8 in more than the 46 1/2 in expected."},
		"46 3/4": {calc.Ease, "1/4 in more"}, "46 1/4": {calc.Ease, "1/4 in less"}, "46 3/8": {calc.Right, "1/8 in less"},
		"47": {calc.Ease, "1/2 in more"}, "47 1/16": {calc.Mend, "9/16 in more"}, "45 7/8": {calc.Mend, "5/8 in less"},
	} {
		w := enterAll(t, begin(t, plan), "top-width-top "+measured, "top-width-middle "+measured)
		if f := foundOn(w, "top-widths", "top-width"); f.Of != "" {
			t.Errorf("two of three: found %+v, want nothing yet", f)
		}
		f := foundOn(entered(t, w, "top-width-bottom", measured), "top-widths", "top-width")
		if f.Kind != want.kind || !strings.Contains(f.Say[0], want.says) {
			t.Errorf("%s wide: found %s %q, want %s with %q", measured, f.Kind, f.Say, want.kind, want.says)
		}
		if figureOf(f, "expected") != "46 1/2 in" || figureOf(f, "measured") != measured+" in" {
			t.Errorf("%s wide: the figures are %+v", measured, f.Figures)
		}
	}
	// A seam test that can't be so explains nothing.
	w := enterAll(t, walk(t, begin(t, plan), ""), "seam-across 9", "top-width-top 46", "top-width-middle 46", "top-width-bottom 46")
	if got := partOf(steps.Outcome(w).Width, "seams"); got != "" {
		t.Errorf("three strips 9 in across: seams explain %s, want nothing", got)
	}
}

func TestAPlanChangedOnTheWayIsComparedWithTheFirst(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "cut.1.bottom.ready")
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: []byte(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5","stripe":"1 1/8"}]}`)})
	w = enterAll(t, w, "top-width-top 45 1/2", "top-width-middle 45 1/2", "top-width-bottom 45 1/2")
	if got := partOf(steps.Outcome(w).Width, "borders"); got != "-1 in" {
		t.Errorf("borders 1/2 in narrower explain %q, want -1 in", got)
	}
}

func TestWhatComesNext(t *testing.T) {
	// Castilleja Cotton, 2 June 2013: 50 x 60 takes 220 in of binding, 6 strips. The
	// backing 4 in more on every side (cp). Raw 39 + 2 x 5 1/2 by 49 + 2 x 5 1/2.
	w := begin(t, `{"center":{"width":"39","length":"49"},"borders":[{"cut":"6"}]}`)
	n, err := steps.Next(w)
	if err != nil || n.Measured {
		t.Fatalf("nothing measured: got %+v, %v; want it for the plan", n, err)
	}
	if n.Top.Width.Shown() != "50 in" || n.Binding.Perimeter.Shown() != "220 in" || n.Binding.Strips != 7 || n.Backing.Width.Shown() != "58 in" || n.Batting.Length.Shown() != "68 in" {
		t.Errorf("a top of 50 x 60: got %+v, want 220 in around, 6 strips, 58 x 68", n.Next)
	}
	w = enterAll(t, w, "top-width-top 49", "top-width-middle 49", "top-width-bottom 49", "top-length-left 60", "top-length-middle 60")
	if n, _ = steps.Next(w); n.Measured {
		t.Error("one length missing: want it for the plan")
	}
	w = entered(t, w, "top-length-right", "60")
	if n, _ = steps.Next(w); !n.Measured || n.Top.Width.Shown() != "49 in" || n.Binding.Perimeter.Shown() != "218 in" {
		t.Errorf("a top measured 49 x 60: got %v, %s around; want 218 in", n.Measured, n.Binding.Perimeter.Shown())
	}
}
