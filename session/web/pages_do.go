package web

import (
	"crypto/rand"
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/steps"
)

// doPage takes an op from a plain form: what the page does where no script runs.
func (s *Server) doPage(w http.ResponseWriter, r *http.Request) {
	if !s.readValues(w, r) {
		return
	}
	id, sent := chi.URLParam(r, "id"), r.PostForm
	if err := s.opened(r.Context(), visitorOf(r), id); err != nil {
		s.refuse(w, r, err)
		return
	}
	if sent.Get("kind") == "measures" {
		s.keepMeasures(w, r, id)
		return
	}
	op := steps.Op{ID: sent.Get("op"), Kind: sent.Get("kind"), Tick: sent.Get("tick"),
		Measure: sent.Get("measure"), Value: sent.Get("value"), Step: sent.Get("step"), Of: sent.Get("of"),
		Number: sent.Get("number"), Why: sent.Get("why")}
	if op.Kind == steps.KindTick {
		done := sent.Get("done") == "true"
		op.Done = &done
	}
	if s.asksAgain(w, r, id, op) {
		return
	}
	if _, err := s.takeFor(r.Context(), visitorOf(r), id, op); err != nil {
		s.refuse(w, r, err)
		return
	}
	back := "/s/" + id
	if to := sent.Get("to"); to != "" {
		if snap, err := s.Store.Get(id); err == nil {
			if _, step := snap.Work.Step(to); step != nil {
				back = stepPath(id, step.ID)
			}
		}
	}
	http.Redirect(w, r, back, http.StatusSeeOther)
}

// keepMeasures keeps the fields of a step that are others now. What was kept before the first
// that is refused stays.
func (s *Server) keepMeasures(w http.ResponseWriter, r *http.Request, id string) {
	snap, err := s.Store.Get(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	_, step := snap.Work.Step(r.PostForm.Get("step"))
	if step == nil {
		s.unknownPath(w, r)
		return
	}
	for _, m := range step.Measures {
		value, sent := r.PostForm[m.ID]
		if !sent || strings.TrimSpace(value[0]) == m.Value {
			continue
		}
		op := steps.Op{ID: rand.Text(), Kind: steps.KindMeasure, Measure: m.ID, Value: value[0]}
		if _, err := s.takeFor(r.Context(), visitorOf(r), id, op); err != nil {
			s.refuse(w, r, err)
			return
		}
	}
	http.Redirect(w, r, stepPath(id, step.ID), http.StatusSeeOther)
}
