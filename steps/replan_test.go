package steps_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/steps"
)

func fateOf(all []steps.Fate, tick string) (steps.Fate, bool) {
	for _, f := range all {
		if f.Tick == tick {
			return f, true
		}
	}
	return steps.Fate{}, false
}

// onePlan is a plan of one plain border on a center of 36 1/2 wide.
func onePlan(length, cut, seam string) json.RawMessage {
	return json.RawMessage(`{"seam":"` + seam + `","center":{"width":"36 1/2","length":"` + length + `"},"borders":[{"name":"reeds","cut":"` + cut + `"}]}`)
}

func TestAnotherPlanIsShownBeforeItIsTaken(t *testing.T) {
	// Cut for 48 1/2: strips of 48 1/2 + 2 x 5 1/2 + 4 = 63 1/2 (cp); the least length is
	// side + 2 x cut - 0.2929 (derived).
	w := walk(t, begin(t, string(onePlan("48 1/2", "5 1/2", "1/4"))), "mark.dot.4")
	for name, c := range map[string]struct {
		plan                 json.RawMessage
		kept, opened         string
		keptSays, openedSays string
	}{
		"a longer center, strips still cover": {onePlan("52", "5 1/2", "1/4"), "cut.1.left.ready", "mark.left.ends", "",
			"It was done at 24 1/4 in; it is 26 in now."},
		"a longer center, the strip kept": {onePlan("52", "5 1/2", "1/4"), "cut.1.left.cut", "mark.right.ends",
			"It was done at 5 1/2 in × 63 1/2 in; it is 5 1/2 in × 67 in now. The plan was changed.", ""},
		"a center too long for the strips": {onePlan("54", "5 1/2", "1/4"), "cut.1.top.cut", "cut.1.left.cut", "",
			"Too short by 1 1/4 in: it needs 64 3/4 in"},
		"a narrower border: trim what is cut": {onePlan("48 1/2", "4 1/2", "1/4"), "cut.1.left.ready", "", "", ""},
		"a wider border: cut again":           {onePlan("48 1/2", "6", "1/4"), "center.trimmed", "cut.1.left.cut", "", "Too narrow by 1/2 in."},
		"what needs an open tick":             {onePlan("48 1/2", "6", "1/4"), "size.settled", "mark.left.middle", "", "It comes after what is open now"},
		"another allowance":                   {onePlan("48 1/2", "5 1/2", "3/8"), "cut.1.left.ready", "mark.dot.1", "", "It was done at 1/4 in; it is 3/8 in now."},
	} {
		r, err := steps.Replanned(w, c.plan)
		if err != nil {
			t.Errorf("%s: got %v", name, err)
			continue
		}
		if f, ok := fateOf(r.Kept, c.kept); !ok || !strings.Contains(f.Why, c.keptSays) {
			t.Errorf("%s: %s stays: %v with %q, want %q", name, c.kept, ok, f.Why, c.keptSays)
		}
		if f, ok := fateOf(r.Opened, c.opened); c.opened != "" && (!ok || !strings.Contains(f.Why, c.openedSays)) {
			t.Errorf("%s: %s opens: %v with %q, want %q", name, c.opened, ok, f.Why, c.openedSays)
		}
		next := do(t, w, steps.Op{Kind: steps.KindPlan, Plan: c.plan})
		for _, f := range r.Opened {
			if _, tick := next.Tick(f.Tick); tick.Done || tick.Opened != f.Why {
				t.Errorf("%s: the op leaves %s done: %v with %q, where the preview had %q", name, f.Tick, tick.Done, tick.Opened, f.Why)
			}
		}
		for _, f := range r.Kept {
			if !done(next, f.Tick) {
				t.Errorf("%s: the op opens %s, which the preview keeps", name, f.Tick)
			}
		}
	}
	narrower := do(t, w, steps.Op{Kind: steps.KindPlan, Plan: onePlan("48 1/2", "4 1/2", "1/4")})
	if f := foundOn(narrower, "cut-1-sides", "strip-1-left"); !strings.Contains(strings.Join(f.Say, " "), "Trim it to 4 1/2 in, off the outer edge") {
		t.Errorf("a narrower border: found %q, want the strips trimmed", f.Say)
	}
	if _, err := steps.Replanned(w, json.RawMessage(`{}`)); err == nil {
		t.Error("a plan that is none: want it refused")
	}
}

func TestWhatIsGoneIsToldUntilSeen(t *testing.T) {
	w := walk(t, begin(t, plans["two borders"]), "band.1.left.pressed")
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["one border"])})
	if f, ok := fateOf(w.Gone, "band.1.left.sewn"); !ok || !strings.Contains(f.Why, "The plan was changed.") {
		t.Errorf("one border less: gone are %+v, want the band among them and why", w.Gone)
	}
	back := do(t, w, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["two borders"])})
	if len(back.Gone) != 0 {
		t.Errorf("the second border back: gone are %+v, want none", back.Gone)
	}
	_, change, err := try(w, steps.Op{Kind: steps.KindSeen})
	if err != nil || change.Gone == nil || len(*change.Gone) != 0 {
		t.Errorf("seen: got %v, want the change to tell that nothing is gone", err)
	}
}

// As many ticks may be gone as were before, and be others.
func TestOtherDevicesAreToldWhatIsGone(t *testing.T) {
	plan := func(edges string) string {
		return `{"center":{"width":"60 1/2","length":"80 1/2"},"coping":{"edges":"` + edges + `","cut":"2"},"borders":[{"cut":"5 1/2"}]}`
	}
	to := func(w *steps.Work, edges string) (*steps.Work, steps.Change) {
		next, change, err := try(w, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plan(edges))})
		if err != nil {
			t.Fatal(err)
		}
		return next, change
	}
	w, _ := to(walk(t, begin(t, plan("sides")), "coping.right.pressed"), "topBottom")
	was := len(w.Gone)
	w, change := to(walk(t, w, "coping.bottom.pressed"), "sides")
	if _, ok := fateOf(w.Gone, "coping.top.cut"); !ok || was != len(w.Gone) {
		t.Fatalf("gone are %+v, want as many as before, %d, and the top strip among them", w.Gone, was)
	}
	if change.Gone == nil || !slices.Equal(*change.Gone, w.Gone) {
		t.Errorf("the change tells that %+v are gone, want %+v", change.Gone, w.Gone)
	}
}

func TestOpenedIsToldUntilDoneOrSeen(t *testing.T) {
	w := walk(t, begin(t, string(onePlan("48 1/2", "5 1/2", "1/4"))), "mark.dot.4")
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: onePlan("52", "5 1/2", "1/4")})
	why := func(w *steps.Work) string { _, t := w.Tick("mark.left.ends"); return t.Opened }
	if why(w) == "" {
		t.Fatal("a longer center: want the ends open with a reason")
	}
	w = entered(t, w, "size-width", "36")
	if why(w) == "" {
		t.Error("a measure since: want the reason still told")
	}
	if got := why(do(t, w, tickOp("mark.left.ends", true))); got != "" {
		t.Errorf("marked anew: still told %q", got)
	}
	if got := why(do(t, w, steps.Op{Kind: steps.KindSeen, Step: "strip-ends"})); got != "" {
		t.Errorf("seen: still told %q", got)
	}
}

// No measure and no plan makes a done tick vanish without a reason that is shown.
func TestNoDoneTickVanishesWithoutAReason(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, names := someWork(t), []string{"one border", "two borders", "unequal bands", "joined straight", "coping on sides"}
		for range rapid.IntRange(1, 4).Draw(t, "ops") {
			op := steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans[rapid.SampledFrom(names).Draw(t, "plan")])}
			if rapid.Bool().Draw(t, "measure") {
				op = steps.Op{Kind: steps.KindMeasure, Measure: rapid.SampledFrom([]string{"size-width", "size-length", "width-top", "width-middle", "width-bottom", "seam-across", "edge-left", "look-1"}).Draw(t, "id"),
					Value: rapid.SampledFrom([]string{"", "20", "36", "38 1/4", "60", "81", "pucker"}).Draw(t, "value")}
			}
			next, _, err := try(w, op)
			if err != nil {
				continue
			}
			for _, id := range ids(w) {
				_, is := next.Tick(id)
				if !done(w, id) || is != nil && is.Done {
					continue
				}
				if _, told := fateOf(next.Gone, id); is == nil && !told || is != nil && is.Opened == "" {
					t.Fatalf("%+v: %s was done and is not, and nobody says why", op, id)
				}
				if op.Kind == steps.KindMeasure && is != nil && is.Cuts {
					t.Fatalf("%+v: %s is cut, and a measure opened it: %s", op, id, is.Opened)
				}
			}
			w = next
		}
	})
}
