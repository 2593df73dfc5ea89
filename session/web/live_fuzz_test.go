package web_test

import (
	"strings"
	"testing"

	"github.com/gorilla/websocket"
)

// FuzzLiveMessage sends a device's message, whatever it is, on a real socket. It is
// answered with one ack or one nack that has a sentence, and the line goes on.
func FuzzLiveMessage(f *testing.F) {
	h := openHouse(f)
	id := h.begin()
	step := h.state(id).Here
	for _, message := range []string{noteOp("a", step, "thread 50"), tickOp("b", h.state(id).ready(), true),
		`{"op": "c", "kind": "dance"}`, `{"op": "d", "kind": "plan", "plan": {"center": []}}`, `{"op": 1}`, `[]`, `null`, ``, `{`, "\xff",
		`{"op": "e", "kind": "measure", "measure": "no such", "value": "1e999"}`, `{"op": "a", "kind": "undo", "of": "a"}`} {
		f.Add([]byte(message), false)
	}
	f.Add([]byte{0, 1, 2}, true)
	d := h.join(id, "")
	d.next()
	f.Fuzz(func(t *testing.T, message []byte, binary bool) {
		if len(message) > 60<<10 {
			return // past the limit of a message the line ends
		}
		kind := websocket.TextMessage
		if binary {
			kind = websocket.BinaryMessage
		}
		if err := d.conn.WriteMessage(kind, message); err != nil {
			t.Fatalf("send %.80q: %v", message, err)
		}
		// An op that was taken tells of itself, before its answer or after: then the next
		// message finds it.
		for answered := false; !answered; {
			m, err := d.read()
			switch {
			case err != nil:
				t.Fatalf("after %.200q the line ended: %v", message, err)
			case m.Ack != nil:
				answered = true
			case m.Nack != nil:
				if answered = true; m.Error.Code == "" || m.Error.Code == "bug" || !strings.HasSuffix(strings.TrimRight(m.Error.Message, ")"), ".") {
					t.Errorf("%.200q: got the nack %q %q, want a code and a sentence", message, m.Error.Code, m.Error.Message)
				}
			case m.Op == nil && !m.beat():
				t.Errorf("%.200q: got %+v, want an event and an answer", message, m)
			}
		}
	})
}
