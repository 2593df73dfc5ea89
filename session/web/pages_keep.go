package web

import (
	"html/template"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

type keepView struct {
	session.Snapshot
	Opens   opener
	Pic     template.HTML
	Sheet   calc.Sheet
	Outcome calc.Outcome
	Next    *steps.NextUp
	Fabrics []fabricView
	Notes   []noteView
	Begun   time.Time
	Owner   bool // at this computer
}

// A noteView is what was noted on a step.
type noteView struct{ Step, Text string }

// keepPage is what is kept with the quilt: sizes, how it came out, what comes next,
// fabric, notes and dates. To print.
func (s *Server) keepPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	q := s.quiltOf(snap)
	v := keepView{Snapshot: snap, Sheet: q.Sheet, Outcome: steps.Outcome(snap.Work), Fabrics: fabrics(q),
		Owner: visitorOf(r).owner, Opens: s.opener(r, snap.ID),
		Pic: template.HTML(q.Defs() + q.Draw(draw.Scene{Kind: draw.PlanScene}))}
	if next, err := steps.Next(snap.Work); err == nil {
		v.Next = &next
	}
	for _, stage := range snap.Work.Stages {
		for _, step := range stage.Steps {
			if step.Note != "" {
				v.Notes = append(v.Notes, noteView{step.Title, step.Note})
			}
		}
	}
	v.Begun, _ = s.Store.Begun(snap.ID)
	s.show(w, r, http.StatusOK, "keep", v)
}
