package web

import (
	"html/template"
	"net/http"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps/draw"
)

type sheetView struct {
	session.Snapshot
	Sheet calc.Sheet
	Pic   template.HTML
}

// sheetPage is every number of the plan on one page, to look up or to print.
func (s *Server) sheetPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	q := snap.Work.Quilt()
	s.show(w, r, http.StatusOK, "sheet", sheetView{snap, snap.Work.Sheet,
		template.HTML(q.Defs() + q.Draw(draw.Scene{Kind: draw.PlanScene}))})
}
