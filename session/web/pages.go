package web

import (
	"bytes"
	"html/template"
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/static"
)

// pages is all that is made for people to look at.
func (s *Server) pages(r chi.Router) {
	r.Get("/static/{name}", s.asset)
	r.Get("/worker.js", s.worker)

	r.Get("/", s.homePage)
	r.Post("/demo", s.makeDemo)
	r.Post("/s/{id}/bin", s.binPage)
	r.Post("/s/{id}/restore", s.restorePage)

	r.Group(func(r chi.Router) {
		r.Use(s.ownerOnly)
		r.Get("/devices", s.devicesPage)
		r.Post("/devices/forget", s.forgetDevices)
		r.Post("/devices/{device}/forget", s.forgetDevice)
	})

	r.Get("/new", s.newPage)
	r.Post("/new", s.makePlan)
	r.Post("/new/edit", s.editPlan)
	r.Post("/new/preview", s.previewPlan)

	r.Get("/s/{id}", s.sessionPage)
	r.Get("/s/{id}/drawings", s.drawings)
	r.Get("/s/{id}/sheet", s.sheetPage)
	r.Get("/s/{id}/cutting", s.cuttingPage)
	r.Get("/s/{id}/plan", s.planPage)
	r.Get("/s/{id}/keep", s.keepPage)
	r.Get("/s/{id}/wrong", s.wrongsPage)
	r.Get("/s/{id}/wrong/{wrong}", s.wrongPage)
	r.Get("/s/{id}/found/{of}", s.foundPage)
	r.Post("/s/{id}/mend", s.mendPage)
	r.Get("/s/{id}/shopping", s.shoppingPage)
	r.Get("/s/{id}/shopping.txt", s.shoppingText)
	r.Get("/s/{id}/stage/{stage}", s.sessionPage)
	r.Get("/s/{id}/{step}", s.sessionPage)
	r.Post("/s/{id}/do", s.doPage)
}

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"asset":  assetURL,
	"clock":  func(t time.Time) string { return t.Local().Format("15:04") },
	"when":   func(t time.Time) string { return inDays(t, time.Now()) },
	"utc":    func(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05Z") },
	"inc":    func(n int) int { return n + 1 },
	"spaced": func(list []string) string { return strings.Join(list, " ") },
}).ParseFS(static.Files, "templates/*.html"))

// show sends a page. It is made whole first: a fault in the middle must not
// leave half a page on the screen.
func (s *Server) show(w http.ResponseWriter, r *http.Request, status int, name string, data any) {
	var page bytes.Buffer
	if err := templates.ExecuteTemplate(&page, name, data); err != nil {
		s.refuse(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	w.Write(page.Bytes())
}

// inDays is a time as people say it: today 14:02, yesterday 9:30, 3 May 2026.
func inDays(t, now time.Time) string {
	t, now = t.Local(), now.Local()
	day := func(t time.Time) time.Time { return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location()) }
	switch {
	case day(t).Equal(day(now)):
		return "today " + t.Format("15:04")
	case day(t).Equal(day(now).AddDate(0, 0, -1)):
		return "yesterday " + t.Format("15:04")
	case t.Year() == now.Year():
		return t.Format("Monday 2 January")
	}
	return t.Format("2 January 2006")
}
