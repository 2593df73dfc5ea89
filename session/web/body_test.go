package web

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
)

// Of a value of another kind it is said what it must be.
func TestWhatAFieldMustBeIsSaid(t *testing.T) {
	for text, want := range map[string]string{
		`{"done": "yes"}`:    "done can't be a JSON string; it must be true or false.",
		`{"corner": "1"}`:    "corner can't be a JSON string; it must be a whole number.",
		`{"border": 1.5}`:    "border can't be a JSON number 1.5; it must be a whole number.",
		`{"values": "x"}`:    "values can't be a JSON string; it must be an object with text in quotes.",
		`{"tick": ["left"]}`: "tick can't be a JSON array; it must be text in quotes.",
	} {
		if _, err := decodeOp([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("decodeOp(%s): got %v, want %q", text, err, want)
		}
	}
}

// FuzzDecodeOp holds the decoder of ops, which the websocket and the API share,
// to its word: an op that means the same when written again, or a sentence.
func FuzzDecodeOp(f *testing.F) {
	for _, s := range []string{
		`{"op": "1", "kind": "tick", "tick": "sew.top.pinned", "done": true}`,
		`{"op": "1", "kind": "plan", "plan": {"center": [1, {"a": null}]}}`,
		`{"op": 1}`, `{"op": "1", "done": "x"}`, `[]`, `null`, ``, `{`, `{"op": "1"}{}`, `{"OP": "1", "x": 2}`, "\xff", `{"plan": 1e999}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		op, err := decodeOp(data)
		if err != nil {
			var p *problem
			if !errors.As(err, &p) || p.status < 400 || p.status > 499 || !strings.HasSuffix(p.Message, ".") {
				t.Errorf("decodeOp(%q): got the error %v, want a 4xx with a sentence", data, err)
			}
			return
		}
		written, err := json.Marshal(op)
		if err != nil {
			t.Fatalf("Marshal(decodeOp(%q)): %v", data, err)
		}
		again, err := decodeOp(written)
		if rewritten, _ := json.Marshal(again); err != nil || !reflect.DeepEqual(written, rewritten) {
			t.Errorf("decodeOp(%q) written again: got %s, want %s; %v", data, rewritten, written, err)
		}
	})
}
