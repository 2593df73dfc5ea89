package session_test

import (
	"testing"

	"cornerwise/steps"
)

// The head has the last act and the next in words, and undo takes the last one away.
func TestTheHeadTellsTheLastActAndTheNext(t *testing.T) {
	s := newStore(t)
	id := create(t, s).ID
	if head := get(t, s, id).Head; head.Last != "" || head.Next != "Press the center" {
		t.Errorf("a new session has %q, %q, want nothing done and the first act", head.Last, head.Next)
	}
	do(t, s, id, tick("1", "center.pressed", true))
	do(t, s, id, steps.Op{ID: "2", Kind: steps.KindHere, Step: "corner-2"})
	snap := get(t, s, id)
	head, err := s.Head(id)
	if err != nil || head != snap.Head || head.Last != snap.Work.Last.Text || !head.LastAt.Equal(snap.Work.Last.At) || head.Next == "" {
		t.Errorf("the head is %+v, %v, want the last act %q", head, err, snap.Work.Last.Text)
	}
	do(t, s, id, steps.Op{ID: "3", Kind: steps.KindUndo, Of: "1"})
	if head := get(t, s, id).Head; head.Last != "" || !head.LastAt.IsZero() {
		t.Errorf("after an undo the head has %q, want none", head.Last)
	}
}
