package web_test

import (
	"testing"

	"github.com/gorilla/websocket"
)

// FuzzLiveMessage sends anything down a live line that another device is on too.
// Whatever comes is answered by an ack or by a whole sentence, no answer is a bug of
// ours, the line stays up, and the other device hears what was taken and no more.
func FuzzLiveMessage(f *testing.F) {
	h := openHouse(f)
	id := h.begin()
	s := h.state(id)
	ready, step := s.ready(), s.Here
	for _, seed := range []string{
		"", "{}", "[]", "null", `"op"`, "{", "\xff", "\x00", `{"op": 1}`, `{"op": "a"}`,
		tickOp("b", ready, true), tickOp("c", ready, false), tickOp("d", s.blocked(), true), tickOp("", ready, true),
		noteOp("e", step, "a note"), noteOp("f", "nowhere", "a note"), noteOp("g", step, "\u0000\u202e"),
		`{"op": "h", "kind": "measure", "measure": "width-top", "value": "36 3/8"}`,
		`{"op": "i", "kind": "measure", "measure": "width-top", "value": "1e9999"}`,
		`{"op": "j", "kind": "here", "step": "` + step + `"}`, `{"op": "k", "kind": "redo", "tick": "` + ready + `", "why": "unpicked"}`,
		`{"op": "l", "kind": "undo", "of": "b"}`, `{"op": "m", "kind": "plan", "plan": {"center": {"width": "20", "length": "20"}, "borders": [{"cut": "3"}]}}`,
		`{"op": "n", "kind": "plan", "plan": {"center": {"width": "0", "length": "1/0"}, "borders": []}}`, `{"op": "o", "kind": "plan", "plan": null}`,
		`{"op": "p", "kind": "tick", "tick": "x", "done": true, "op": "q"}`, `{"op": "r", "kind": "quilt"}`,
	} {
		f.Add(seed, false)
		f.Add(seed, true)
	}
	one, other := h.join(id, ""), h.join(id, "")
	one.next()
	rev := other.next().Rev
	f.Fuzz(func(t *testing.T, text string, binary bool) {
		one.t, other.t = t, t
		if len(text) >= 64<<10 {
			t.Skip("longer than a line takes, which ends it")
		}
		kind := websocket.TextMessage
		if binary {
			kind = websocket.BinaryMessage
		}
		if err := one.conn.WriteMessage(kind, []byte(text)); err != nil {
			t.Fatalf("send %q: %v", text, err)
		}
		m := one.next()
		for m.Ack == nil && m.Nack == nil { // its own events, heartbeats
			m = one.next()
		}
		if m.Nack != nil {
			if m.Error.Code == "" || m.Error.Code == "bug" || !sentence(m.Error.Message) {
				t.Errorf("%q: got %q %q, want a code and a sentence", text, m.Error.Code, m.Error.Message)
			}
			return
		}
		if binary || m.Rev > rev+1 {
			t.Fatalf("%q: got ack of %q at rev %d after %d, want at most the next, and none of a binary message", text, *m.Ack, m.Rev, rev)
		}
		if m.Rev <= rev {
			return // an op that was sent before
		}
		rev = m.Rev
		heard := other.next()
		for heard.beat() {
			heard = other.next()
		}
		if heard.Op == nil || heard.Rev != rev {
			t.Fatalf("%q was taken as rev %d: the other device got %+v, want that event", text, rev, heard)
		}
	})
}
