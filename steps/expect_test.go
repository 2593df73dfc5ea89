package steps_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
	"cornerwise/steps"
)

// valued is a measure of the work, which must have it.
func valued(t interface{ Fatalf(string, ...any) }, w *steps.Work, id string) steps.Measure {
	for _, m := range measures(w) {
		if m.ID == id {
			return m
		}
	}
	t.Fatalf("there is no measure %s", id)
	return steps.Measure{}
}

func entered(t *testing.T, w *steps.Work, id, value string) *steps.Work {
	t.Helper()
	return do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: id, Value: value})
}

func TestEveryStageAsksForWhatFabricDid(t *testing.T) {
	w := begin(t, plans["two borders"])
	// The plan: center 36 1/2 x 48 1/2, borders cut 1 1/2 and 5 1/2, so a band of 6 1/2;
	// strips as side + 2 x band + 4 (cp); three strips of 1 1/2 make 3 1/2 (J. Cahoon,
	// Quiltcentric, 16 September 2012); raw top 36 1/2 + 2 x 6 = 48 1/2 by 60 1/2.
	for id, want := range map[string]string{
		"width-top": "36 1/2 in", "length-right": "48 1/2 in", "diagonal-2": "60 11/16 in", "size-length": "48 1/2 in",
		"cut-1-left-width": "1 1/2 in", "cut-2-top-width": "5 1/2 in",
		"cut-1-left-length": "65 1/2 in", "cut-2-bottom-length": "53 1/2 in",
		"seam-across": "3 1/2 in", "edge-left": "48 1/2 in", "edge-top": "36 1/2 in",
		"top-width-middle": "48 1/2 in", "top-length-left": "60 1/2 in", "top-diagonal-1": "77 9/16 in",
	} {
		m := valued(t, w, id)
		if m.Expect == nil || m.Expect.Shown() != want {
			t.Errorf("%s: got %v expected, want %s", id, m.Expect, want)
		}
	}
	for _, id := range []string{"look-1", "look-4", "first-pair"} {
		if m := valued(t, w, id); m.Expect != nil || len(m.Options) == 0 {
			t.Errorf("%s: got %+v, want a choice that expects nothing", id, m)
		}
	}
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, m := range step.Measures {
				if at, tick := w.Tick(m.Tick); tick == nil || at.ID != step.ID {
					t.Errorf("%s is taken with %q, which is no tick of %s", m.ID, m.Tick, step.ID)
				}
			}
		}
	}
}

func TestADoubtAsksAndRefusesNothing(t *testing.T) {
	for name, c := range map[string]struct{ measure, value, asks string }{
		"as planned":                {"width-top", "36 1/2", ""},
		"1/2 in off is fabric (cp)": {"width-top", "37", ""},
		"digits changed over":       {"width-top", "63 1/2", "63 1/2 in, where the plan has 36 1/2 in. Are two digits changed over: 36 1/2 in?"},
		"a strip wide by an inch":   {"cut-1-left-width", "6 1/2", "6 1/2 in is a whole inch more than the plan's 5 1/2 in. Did the tape begin at 0?"},
		"a strip a foot short":      {"cut-1-top-length", "39 1/2", "39 1/2 in is a foot less than the plan's 51 1/2 in. Did the tape slip by a foot?"},
		"a miss within the repeat":  {"miss-1", "1/2", ""},
		"a miss beyond half of it":  {"miss-1", "3/4", "3/4 in is more than half a repeat, 9/16 in: then the next line is nearer. Is that so?"},
		"what is seen":              {"look-2", "gap", ""},
	} {
		w := begin(t, plans["one border"])
		next, change, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: c.measure, Value: c.value})
		if err != nil {
			t.Errorf("%s: %s = %s: got %v, want it taken", name, c.measure, c.value, err)
			continue
		}
		m := valued(t, next, c.measure)
		if m.Value != c.value || m.Doubt != c.asks {
			t.Errorf("%s: %s = %s: got %q with %q, want %q asked", name, c.measure, c.value, m.Value, m.Doubt, c.asks)
		}
		if told := len(change.Steps) == 1; c.asks != "" && !told {
			t.Errorf("%s: the change tells of no step", name)
		}
		if m = valued(t, do(t, next, steps.Op{Kind: steps.KindMeasure, Measure: c.measure}), c.measure); m.Value+m.Doubt != "" {
			t.Errorf("%s: taken away again: got %q with %q left", name, m.Value, m.Doubt)
		}
	}
	_, _, err := try(begin(t, plans["one border"]), steps.Op{Kind: steps.KindMeasure, Measure: "edge-left", Value: "1001"})
	if r, ok := err.(*steps.Refusal); !ok || r.Code != steps.BadValue {
		t.Errorf("1,001 in: got %v, want bad-value", err)
	}
}

// What the plan says is never asked about; what lies outside least to most always is.
func TestOutsideWhatIsPlausibleThereIsADoubt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plan := rapid.SampledFrom([]string{"one border", "unequal bands", "in centimeters"}).Draw(t, "plan")
		w, err := steps.Begin([]byte(plans[plan]))
		if err != nil {
			t.Fatal(err)
		}
		all := slices.DeleteFunc(measures(w), func(m steps.Measure) bool { return m.Expect == nil })
		m := rapid.SampledFrom(all).Draw(t, "measure")
		// A size may be hard to believe and, as it can't be built on, refused.
		enter := func(value string) (steps.Measure, error) {
			next, _, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: m.ID, Value: value})
			if err != nil {
				return m, err
			}
			return valued(t, next, m.ID), nil
		}
		if planned, err := enter(m.Expect.Value()); err != nil || planned.Doubt != "" {
			t.Fatalf("%s as expected: %v, asked %q", m.ID, err, planned.Doubt)
		}
		l := calc.Of(rapid.Int64Range(1, 8000).Draw(t, "eighths"), 8, w.Plan.Unit)
		m, err = enter(calc.Figure{Length: l, Unit: w.Plan.Unit}.Value())
		if err != nil {
			return
		}
		if outside := l.Less(m.Least.Length) || m.Most.Length.Less(l); outside && m.Doubt == "" {
			t.Fatalf("%s is %s, outside %s to %s: nothing asked", m.ID, fmt.Sprint(m.Value), m.Least.Shown(), m.Most.Shown())
		}
	})
}
