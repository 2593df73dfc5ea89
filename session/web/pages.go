package web

import (
	"bytes"
	"html/template"
	"net/http"
	"strings"
	"time"

	"cornerwise/static"
)

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
	day := func(t time.Time) time.Time {
		return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location())
	}
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
