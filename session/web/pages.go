package web

import (
	"bytes"
	"html/template"
	"io/fs"
	"net/http"
	"regexp"
	"strings"
	"time"

	"cornerwise/static"
)

var templates = parsed(template.New("").Funcs(template.FuncMap{
	"asset":  assetURL,
	"clock":  func(t time.Time) string { return t.Local().Format("15:04") },
	"when":   func(t time.Time) string { return inDays(t, time.Now()) },
	"day":    func(t time.Time) string { return onDay(t, time.Now()) },
	"utc":    func(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05Z") },
	"inc":    func(n int) int { return n + 1 },
	"spaced": func(list []string) string { return strings.Join(list, " ") },
}))

var indent = regexp.MustCompile(`\n +`)

// parsed adds the templates of static, without their indentation: it is for who reads
// them, and would weigh on every page.
func parsed(all *template.Template) *template.Template {
	files, err := fs.Glob(static.Files, "templates/*.html")
	if err != nil {
		panic(err) // the pattern is ours
	}
	for _, file := range files {
		template.Must(all.Parse(indent.ReplaceAllString(string(readFile(file)), "\n")))
	}
	return all
}

// show sends a page. It is made whole first: a fault in the middle must not
// leave half a page on the screen.
func (s *Server) show(w http.ResponseWriter, r *http.Request, status int, name string, data any) {
	rise, err := s.desks.sit(r.Context(), visitorOf(r))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	defer rise()
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
	switch day := onDay(t, now); day {
	case "today", "yesterday":
		return day + " " + t.Local().Format("15:04")
	default:
		return day
	}
}

// onDay is the day of a time as people say it: today, yesterday, Monday 4 May, 3 May 2025.
func onDay(t, now time.Time) string {
	t, now = t.Local(), now.Local()
	switch {
	case sameDay(t, now):
		return "today"
	case sameDay(t, now.AddDate(0, 0, -1)):
		return "yesterday"
	case t.Year() == now.Year():
		return t.Format("Monday 2 January")
	}
	return t.Format("2 January 2006")
}

func sameDay(a, b time.Time) bool {
	return a.Local().Format(time.DateOnly) == b.Local().Format(time.DateOnly)
}
