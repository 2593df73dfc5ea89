package web_test

import (
	"strings"
	"testing"
)

// The first page tells of each quilt what was done last, when, and what comes next, and reads no
// quilt for it.
func TestTheFirstPageTellsTheLastActAndTheNext(t *testing.T) {
	h := openHouse(t)
	first, second := h.begin(), h.begin()
	for _, id := range []string{first, second} {
		h.must(200, "POST", at(id, "ops"), tickOp("1", h.state(id).ready(), true), nil)
	}
	const told = "Last: today "
	said := words(h.call("GET", "/", "").body)
	if n := strings.Count(said, told); n != 2 {
		t.Errorf("the first page tells %d last acts, want 2: %s", n, said)
	}
	if n := strings.Count(said, ", Center pressed Next: Steady the edges"); n != 2 {
		t.Errorf("the first page tells the last act and the next %d times, want 2: %s", n, said)
	}
	h.must(200, "POST", at(first, "ops"), `{"op": "2", "kind": "undo", "of": "1"}`, nil)
	if said := words(h.call("GET", "/", "").body); strings.Count(said, told) != 1 || !strings.Contains(said, "Next: Press the center") {
		t.Errorf("after an undo the first page says %s, want no last act of that quilt", said)
	}
}
