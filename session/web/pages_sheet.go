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
	Opens      opener
	Sheet      calc.Sheet
	Pic        template.HTML
	Prints     []printView
	reckonings map[string]calc.Reckoning
}

// How is the figure at a path of the sheet's JSON, such as strips[0].cutLength, with
// how it came about.
func (v sheetView) How(path string, args ...any) calc.Reckoning {
	return v.reckonings[fmt.Sprintf(path, args...)]
}

// sheetPage is every number of the plan on one page, to look up or to print; each
// opens to how it was reckoned.
func (s *Server) sheetPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	q := s.quiltOf(snap)
	v := sheetView{Snapshot: snap, Sheet: q.Sheet, reckonings: map[string]calc.Reckoning{},
		Opens: s.opener(r, snap.ID),
		Pic:   template.HTML(q.Defs() + q.Draw(draw.Scene{Kind: draw.PlanScene}))}
	for _, m := range q.Sheet.Match {
		v.Prints = append(v.Prints, newPrint(q, m))
	}
	for _, x := range q.Sheet.Reckonings(q.Plan) {
		v.reckonings[x.Path] = x
	}
	s.show(w, r, http.StatusOK, "sheet", v)
}

// A waysView is a fabric's ways to be cut, on the sheet.
type waysView struct {
	Lengthwise, Crosswise, Mixed wayView
	Pick                         string
	AnyMixed                     bool // the table has a column for it
}

type wayView struct {
	None, Fits  bool
	Buy, Length calc.Reckoning
}

// Way is the fabric at a path of the sheet's JSON.
func (v sheetView) Way(w calc.Ways, path string, args ...any) waysView {
	path = fmt.Sprintf(path, args...)
	one := func(way *calc.Way, run string) wayView {
		if way == nil {
			return wayView{None: true}
		}
		return wayView{Fits: way.Fits, Buy: v.reckonings[path+"."+run+".buy"], Length: v.reckonings[path+"."+run+".length"]}
	}
	return waysView{one(w.Lengthwise, "lengthwise"), one(w.Crosswise, "crosswise"), one(w.Mixed, "mixed"),
		w.Pick, v.Sheet.AnyMixed()}
}
