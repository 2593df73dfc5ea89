package web

import (
	"crypto/rand"
	"errors"
	"net/http"
	"time"

	"cornerwise/session"
	"cornerwise/steps"
)

// A cutView asks before a cut is marked done that no script has had held for a second: the
// page's own form is there before its script, and a short touch sends it.
type cutView struct {
	session.Snapshot
	Step  *steps.Step
	Tick  *steps.Tick
	OpID  string
	Fault string // why it needs a reason
}

// asksAgain tells whether a form's op is a cut that nobody was asked about yet, and then asks.
// What can't be done at all is refused as ever.
func (s *Server) asksAgain(w http.ResponseWriter, r *http.Request, id string, op steps.Op) bool {
	if op.Kind != steps.KindTick || !*op.Done || r.PostForm.Get("meant") == "to cut" {
		return false
	}
	snap, err := s.Store.Get(id)
	if err != nil {
		return false
	}
	step, tick := snap.Work.Tick(op.Tick)
	if tick == nil || !tick.Cuts || tick.Done {
		return false
	}
	v := cutView{Snapshot: snap, Step: step, Tick: tick, OpID: rand.Text()}
	var refusal *steps.Refusal
	if _, _, err := snap.Work.Apply(op, time.Now()); errors.As(err, &refusal) {
		if refusal.Code != steps.LookFirst {
			return false
		}
		v.Fault = refusal.Message
	}
	s.show(w, r, http.StatusOK, "cut", v)
	return true
}
