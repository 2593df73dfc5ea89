package steps_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
	"cornerwise/steps"
)

// walked are the plans that properties are held to, each as it stands after so many
// ticks. A Work is never changed, so all may share it.
var walked = sync.OnceValue(func() map[string][]*steps.Work {
	all := map[string][]*steps.Work{}
	for _, name := range []string{"one border", "two borders", "unequal bands", "in centimeters", "joined aslant", "coping on sides", "one plain border"} {
		w, err := steps.Begin(json.RawMessage(plans[name]))
		if err != nil {
			panic(err)
		}
		all[name] = []*steps.Work{w}
		for _, id := range ids(w) {
			if w, _, err = try(w, tickOp(id, true)); err != nil {
				panic(err)
			}
			all[name] = append(all[name], w)
		}
	}
	return all
})

// someWork is a plan walked some way.
func someWork(t *rapid.T) *steps.Work {
	all := walked()
	of := all[rapid.SampledFrom(slices.Sorted(maps.Keys(all))).Draw(t, "plan")]
	return of[rapid.IntRange(0, len(of)-1).Draw(t, "done")]
}

func measures(w *steps.Work) []steps.Measure {
	var all []steps.Measure
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			all = append(all, step.Measures...)
		}
	}
	return all
}

// bare is the work without what was entered and what is said of it.
func bare(t *rapid.T, w *steps.Work) string {
	var stages []steps.Stage
	for _, stage := range w.Stages {
		stage.Steps = append([]steps.Step(nil), stage.Steps...)
		for j := range stage.Steps {
			step := &stage.Steps[j]
			step.Findings, step.Ticks = nil, append([]steps.Tick(nil), step.Ticks...)
			step.Measures = slices.Clone(step.Measures)
			for k := range step.Measures {
				step.Measures[k].Value = ""
			}
			for k := range step.Ticks {
				numbers := append([]steps.Number(nil), step.Ticks[k].Numbers...)
				for n := range numbers {
					numbers[n].How = "" // how tells of the tape, where it was of the plan
				}
				step.Ticks[k].Numbers = numbers
			}
		}
		stages = append(stages, stage)
	}
	b, err := json.Marshal([]any{stages, w.Sheet, w.Here, w.Gone})
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// What fabric measures as planned changes nothing, and nothing is wrong with it.
func TestAMeasureEqualToThePlanChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := someWork(t)
		want := bare(t, w)
		all, entered := measures(w), []string{}
		for range rapid.IntRange(1, 12).Draw(t, "measures") {
			m := rapid.SampledFrom(all).Draw(t, "measure")
			if m.Expect == nil {
				continue
			}
			next, _, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: m.ID, Value: m.Expect.Value()})
			if err != nil {
				t.Fatalf("%s as planned, %s: %v", m.ID, m.Expect.Value(), err)
			}
			w = next
			entered = append(entered, m.ID)
		}
		if got := bare(t, w); got != want {
			t.Fatalf("%v as planned change the work:\n%s\n%s", entered, want, got)
		}
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				for _, f := range step.Findings {
					if f.Kind != calc.Right && f.Kind != calc.Rectangle && f.Kind != calc.Missing && f.Kind != calc.Unknown {
						t.Fatalf("all as planned: found %s %q on %s", f.Kind, f.Say, step.ID)
					}
				}
			}
		}
	})
}

// Whatever order measures come in, they come to the same.
func TestMeasuresInAnyOrderComeToTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := someWork(t)
		var entered []steps.Op
		seen := map[string]bool{}
		for _, m := range rapid.SliceOfN(rapid.SampledFrom(measures(start)), 1, 10).Draw(t, "measures") {
			if seen[m.ID] || m.ID == "first-pair" {
				continue
			}
			seen[m.ID] = true
			op := steps.Op{Kind: steps.KindMeasure, Measure: m.ID}
			switch {
			case m.Options != nil:
				op.Value = rapid.SampledFrom(m.Options).Draw(t, "option").Value
			case m.Expect != nil:
				off := calc.Of(rapid.Int64Range(-12, 12).Draw(t, "eighths"), 8, calc.Inch)
				op.Value = calc.Figure{Length: m.Expect.Length.Add(off), Unit: start.Plan.Unit}.Value()
			default:
				op.Value = "1/8"
			}
			entered = append(entered, op)
		}
		enter := func(ops []steps.Op) *steps.Work {
			w := start
			for _, op := range ops {
				next, _, err := try(w, op)
				if err != nil {
					t.Skip("a size that can't be") // on the way there, or at its end
				}
				w = next
			}
			w.Last = nil
			return w
		}
		one := enter(entered)
		shuffled := append([]steps.Op(nil), entered...)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		r.Shuffle(len(shuffled), func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
		other := enter(shuffled)
		if a, b := state(t, one), state(t, other); a != b {
			t.Fatalf("%v and %v come to\n%s\n%s", ops(entered), ops(shuffled), a, b)
		}
		if !reflect.DeepEqual(steps.Outcome(one), steps.Outcome(other)) {
			t.Fatalf("%v and %v have another outcome", ops(entered), ops(shuffled))
		}
	})
}

func ops(all []steps.Op) []string {
	var words []string
	for _, op := range all {
		words = append(words, fmt.Sprintf("%s %s", op.Measure, op.Value))
	}
	return words
}

// After undo the state is the state before, whatever was done.
func TestUndoIsTheStateBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := someWork(t)
		all := measures(w)
		for range rapid.IntRange(1, 8).Draw(t, "ops") {
			op := anOp(t, w, all)
			next, _, err := try(w, op)
			if err != nil {
				if _, ok := err.(*steps.Refusal); !ok {
					t.Fatalf("%+v: got %v, want a Refusal", op, err)
				}
				continue
			}
			if next.Last != nil && (w.Last == nil || next.Last.Op.ID != w.Last.Op.ID) {
				back, _, err := try(next, steps.Op{Kind: steps.KindUndo, Of: next.Last.Op.ID})
				if err != nil || state(t, back) != state(t, w) {
					t.Fatalf("undo of %+v: %v; the state is not the state before", op, err)
				}
			}
			w = next
		}
		reopenedAlike(t, "any ops", w)
	})
}

// anOp is any op that means something in this work.
func anOp(t *rapid.T, w *steps.Work, all []steps.Measure) steps.Op {
	tick := rapid.SampledFrom(ids(w)).Draw(t, "tick")
	yes := true
	switch rapid.SampledFrom([]string{"tick", "ticks", "later", "redo", "measure", "measure", "plan", "seen", "mend", "mend"}).Draw(t, "kind") {
	case "tick":
		return steps.Op{Kind: steps.KindTick, Tick: tick, Done: new(bool)}
	case "ticks":
		return steps.Op{Kind: steps.KindTick, Ticks: rapid.SampledFrom(together(w)).Draw(t, "group"), Done: &yes}
	case "later":
		return steps.Op{Kind: steps.KindLater, Tick: tick, Why: rapid.SampledFrom([]string{"", "no thread"}).Draw(t, "why")}
	case "redo":
		return steps.Op{Kind: steps.KindRedo, Tick: tick, Why: "creased"}
	case "plan":
		return steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans[rapid.SampledFrom([]string{"one border", "two borders", "coping on sides"}).Draw(t, "plan")])}
	case "seen":
		return steps.Op{Kind: steps.KindSeen}
	case "mend":
		var taken []steps.Op
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				for _, f := range step.Findings {
					for _, way := range f.Ways {
						taken = append(taken, steps.Op{Kind: steps.KindMend, Wrong: f.Of, Way: way.ID})
					}
				}
			}
		}
		taken = append(taken, steps.Op{Kind: steps.KindMend, Wrong: "pleat", Way: "redo", Corner: 2})
		return rapid.SampledFrom(taken).Draw(t, "way")
	}
	m := rapid.SampledFrom(all).Draw(t, "measure")
	values := []string{"", "1/4", "36", "48", "58 1/4", "5"}
	for _, o := range m.Options {
		values = append(values, o.Value)
	}
	op := steps.Op{Kind: steps.KindMeasure, Measure: m.ID, Value: rapid.SampledFrom(values).Draw(t, "value")}
	if rapid.Bool().Draw(t, "with its tick") {
		op.Done = &yes
	}
	return op
}
