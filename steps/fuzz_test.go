package steps_test

import (
	"encoding/json"
	"errors"
	"testing"

	"cornerwise/steps"
)

// Whatever an op says, it is taken or refused with a sentence; the work stays sound and
// can be written out.
func FuzzAnyOp(f *testing.F) {
	for _, op := range []string{
		`{"op":"1","kind":"tick","tick":"miter.1.trimmed","done":true,"why":"so be it","number":"1/4 in"}`,
		`{"op":"1","kind":"measure","measure":"cut-1-left-length","value":"59"}`,
		`{"op":"1","kind":"measure","measure":"size-width","value":"92,7 cm"}`,
		`{"op":"1","kind":"redo","tick":"sew.left.pinned"}`,
		`{"op":"1","kind":"seen","step":"strip-ends"}`,
		`{"op":"1","kind":"mend","wrong":"short-strip","way":"joined","border":1,"edge":"top","values":{"length":"50","width":"5"}}`,
		`{"op":"1","kind":"mend","wrong":"corner-2","way":"redo-2"}`,
		`{"op":"1","kind":"mend","wrong":"center-trimmed","way":"redo","values":{"width":"36","length":"1/2"}}`,
		`{"op":"1","kind":"mend","wrong":"out-of-square","way":"trim","values":{"top-diagonal-1":"75","top-diagonal-2":"1","top-width-top":"9"}}`,
		`{"op":"1","kind":"mend","wrong":"band-length","way":"redo","edges":"sides","corner":-3,"values":{"band":"1000"}}`,
		`{"op":"1","kind":"plan","plan":{"limits":{"apart":"0"},"center":{"width":"36","length":"48"},"borders":[{"cut":"5"}]}}`,
	} {
		f.Add(op)
	}
	var work *steps.Work
	f.Fuzz(func(t *testing.T, text string) {
		if work == nil {
			work = walk(t, begin(t, plans["one border"]), "miter.2.looked")
			work = enterAll(t, work, "look-2 pucker", "cut-1-left-length 59")
		}
		var op steps.Op
		if json.Unmarshal([]byte(text), &op) != nil {
			return
		}
		next, change, err := work.Apply(op, noon)
		var refusal *steps.Refusal
		if err != nil {
			if !errors.As(err, &refusal) || len(refusal.Message) < 10 {
				t.Fatalf("%s: got %v, want a sentence", text, err)
			}
			return
		}
		for _, id := range ids(next) {
			if _, tick := next.Tick(id); tick.Done && len(missing(next, id)) > 0 {
				t.Fatalf("%s: %s is done while %v are open", text, id, missing(next, id))
			}
		}
		if _, err := json.Marshal([]any{next.Stages, next.Sheet, change, steps.Outcome(next)}); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
	})
}
