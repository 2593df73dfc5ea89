package web

import (
	"fmt"
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
	Wide string        // usable width that is reckoned with
	Pic  template.HTML // how the strips lie on it; none where they do not fit
}

// Line is the cloth on a shopping list.
func (c clothView) Line() string {
	picked := c.Picked()
	if picked == nil {
		return fmt.Sprintf("%s: the strips do not fit on cloth with %s usable width; look at the notes", c.Name, c.Wide)
	}
	return fmt.Sprintf("%s: %s, usable width %s or more, strips %s", c.Name, picked.Buy.Shown(), c.Wide, c.Pick)
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
			all = append(all, clothView{c.Name, c.Ways, usableWidth(q, c.Border), layout(q, c.Ways)})
		}
	}
	for _, c := range q.Sheet.Together {
		all = append(all, clothView{c.Name, c.Ways, usableWidth(q, c.Borders...), layout(q, c.Ways)})
	}
	return all
}

// usableWidth is the least of these borders' cloths: what they are reckoned with.
func usableWidth(q draw.Quilt, borders ...int) string {
	var least calc.Length
	for _, border := range borders {
		if wide := q.Plan.Borders[border-1].Cloth.UsableWidth; least.Sign() == 0 || wide.Less(least) {
			least = wide
		}
	}
	return calc.Figure{Length: least, Unit: q.Plan.Unit}.Shown()
}

// shoppingList is what to buy, as text to print or to paste.
func (s *Server) shoppingList(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	fmt.Fprintf(w, "%s: cloth to buy\n\n", snap.Title)
	for _, c := range cloths(snap.Work.Quilt()) {
		fmt.Fprintf(w, "- %s\n", c.Line())
	}
}

func layout(q draw.Quilt, w calc.Ways) template.HTML {
	picked := w.Picked()
	if picked == nil {
		return ""
	}
	return template.HTML(q.Layout(picked, picked == w.Lengthwise))
}
