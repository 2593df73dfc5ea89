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
	Cloth []clothView
}

// A clothView is one cloth to buy: for one border, or for several of one cloth.
type clothView struct {
	Name string
	calc.Ways
	Pic template.HTML // how the strips lie on it; none where they do not fit
}

// Joined tells whether strips are put together of parts.
func (c clothView) Joined() bool {
	for _, piece := range c.Picked().Layout {
		if piece.Part > 0 {
			return true
		}
	}
	return false
}

// sheetPage is every number of the plan on one page, to look up or to print.
func (s *Server) sheetPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	q := snap.Work.Quilt()
	s.show(w, r, http.StatusOK, "sheet", sheetView{snap, q.Sheet,
		template.HTML(q.Defs() + q.Draw(draw.Scene{Kind: draw.PlanScene})), cloths(q)})
}

// cloths are what is to be bought: shared cloths in place of their borders.
func cloths(q draw.Quilt) []clothView {
	shared := map[int]bool{}
	var all []clothView
	for _, c := range q.Sheet.Together {
		for _, border := range c.Borders {
			shared[border] = true
		}
	}
	for _, c := range q.Sheet.Cloth {
		if !shared[c.Border] {
			all = append(all, clothView{c.Name, c.Ways, layout(q, c.Ways)})
		}
	}
	for _, c := range q.Sheet.Together {
		all = append(all, clothView{c.Name, c.Ways, layout(q, c.Ways)})
	}
	return all
}

func layout(q draw.Quilt, w calc.Ways) template.HTML {
	picked := w.Picked()
	if picked == nil {
		return ""
	}
	return template.HTML(q.Layout(picked, picked == w.Lengthwise))
}
