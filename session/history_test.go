package session_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

// A slow reader gets what is written to it, and does something before it takes more.
type slowReader struct {
	got     bytes.Buffer
	longest int
	between func()
}

func (r *slowReader) Write(piece []byte) (int, error) {
	r.longest = max(r.longest, len(piece))
	r.between()
	return r.got.Write(piece)
}

// longNotes is a session of two megabytes.
func longNotes(t *testing.T, s *session.Store) session.Head {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, `{"cornerwise": 1, "history": [{"rev": 1, "at": "2026-01-01T00:00:00Z", "op": "first", "kind": "plan", "plan": %s}`, plan)
	for rev := 2; rev < 2500; rev++ {
		fmt.Fprintf(&b, `,{"rev": %d, "at": "2026-01-01T00:00:01Z", "op": "op %d", "kind": "note", "step": "press-center", "text": "%s"}`, rev, rev, strings.Repeat("x", 700))
	}
	b.WriteString("]}")
	head, err := s.Import(ctx, strings.NewReader(b.String()))
	if err != nil {
		t.Fatalf("Import: %v", err)
	}
	return head
}

// However long a history is and however slowly it is read, it is in memory piece by piece, and
// holds up no op; those that are taken meanwhile are no part of it.
func TestALongHistoryIsReadInPieces(t *testing.T) {
	s := newStore(t)
	head := longNotes(t, s)
	for name, c := range map[string]struct {
		read func(*slowReader) error
		is   func() string
	}{
		"the export":  {func(r *slowReader) error { return s.ExportTo(head.ID, r) }, func() string { data, _ := s.Export(head.ID); return string(data) }},
		"the history": {func(r *slowReader) error { return s.HistoryTo(head.ID, r) }, func() string { return fmt.Sprintf(`{"history":%s}`, plain(t, s, head.ID)) }},
	} {
		want, ops := c.is(), 0
		r := &slowReader{between: func() {
			ops++
			do(t, s, head.ID, steps.Op{ID: fmt.Sprint(name, ops), Kind: steps.KindNote, Step: "press-center", Text: "meanwhile"})
		}}
		if err := c.read(r); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if r.longest > 2*steps.MaxOp {
			t.Errorf("%s comes in pieces of up to %d bytes, want at most two ops of the largest", name, r.longest)
		}
		if ops < 10 {
			t.Errorf("%s comes in %d pieces; this proves nothing", name, ops)
		}
		if r.got.String() != want {
			t.Errorf("%s is %d bytes, want the %d that it had at first", name, r.got.Len(), len(want))
		}
	}
}
