package steps_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"cornerwise/steps"
)

// State from 5,000 ops: ticks done, opened and done again, as a long session has.
func BenchmarkStateFrom5000Ops(b *testing.B) {
	w, err := steps.Begin(json.RawMessage(plans["two borders"]))
	if err != nil {
		b.Fatal(err)
	}
	var ops []steps.Op
	for len(ops) < 5000 {
		for _, id := range ids(w) {
			ops = append(ops, tickOp(id, true))
		}
		ops = append(ops, steps.Op{Kind: steps.KindRedo, Tick: "center.pressed"})
	}
	ops = ops[:5000]
	for i := range ops {
		ops[i].ID = fmt.Sprint(i)
	}
	b.ResetTimer()
	for b.Loop() {
		state := w
		for _, op := range ops {
			next, _, err := state.Apply(op, noon)
			if err != nil {
				b.Fatalf("%s: %v", op.Tick, err)
			}
			state = next
		}
	}
}

func BenchmarkBeginTwelveBorders(b *testing.B) {
	for b.Loop() {
		if _, err := steps.Begin(json.RawMessage(plans["twelve borders"])); err != nil {
			b.Fatal(err)
		}
	}
}

// A session of twelve borders is opened: what was done, with the state before the last op.
func BenchmarkReopenTwelveBorders(b *testing.B) {
	w := begin(b, plans["twelve borders"])
	for _, id := range ids(w)[:100] {
		w = do(b, w, tickOp(id, true))
	}
	kept, err := w.Bookmark()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(kept)), "bytes")
	for b.Loop() {
		if _, err := steps.Reopen(kept); err != nil {
			b.Fatal(err)
		}
	}
}
