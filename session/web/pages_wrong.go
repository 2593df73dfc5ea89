package web

import (
	"crypto/rand"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
)

type wrongsView struct {
	session.Snapshot
	Step   string
	Wrongs []wrongItem
}

type wrongItem struct {
	steps.Wrong
	Address string
}

// Ways out are pages of the server's and not scripts, as changes of the plan are: they are
// rare, need the whole reckoning, and a form with a button works everywhere. Each button has
// an op id, so that a second touch changes nothing.

// wrongsPage is all that may have gone wrong, as seen from a step: what is likely there
// first, each a question that leads to its answer.
func (s *Server) wrongsPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	v := wrongsView{Snapshot: snap, Step: r.URL.Query().Get("step")}
	for _, x := range steps.Wrongs(snap.Work, v.Step) {
		q := about(x.About)
		q.Set("step", v.Step)
		v.Wrongs = append(v.Wrongs, wrongItem{x, "/s/" + snap.ID + "/wrong/" + x.ID + "?" + q.Encode()})
	}
	s.show(w, r, http.StatusOK, "wrongs", v)
}

// A wrongView is one trouble or finding with its answer in this session's numbers.
type wrongView struct {
	session.Snapshot
	Title, Step, Wrong string
	Asks               []askView
	Answer             *calc.Answer
	Fault              string
	Asked              steps.Asked
	OpID               string
}

// An askView is one thing to say before there is an answer.
type askView struct {
	calc.Ask
	Value   string
	Options []steps.Option
}

// Deed is what the button of a way says.
func (v wrongView) Deed(way calc.WayOut) string {
	switch {
	case len(way.Redo) > 0 && way.Kind == "redo":
		return "Do this: those steps open again"
	case way.Change != nil:
		return "Do this, and change the plan"
	}
	return "Do this"
}

// Takes tells whether a way has something to be put into the work.
func (v wrongView) Takes(way calc.WayOut) bool {
	return way.Kind != "leave" && way.ID != "" && (way.Kind != "redo" || len(way.Redo) > 0)
}

func (s *Server) wrongPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	t, ok := steps.TroubleOn(snap.Work, chi.URLParam(r, "wrong"))
	if !ok {
		s.unknownPath(w, r)
		return
	}
	q := r.URL.Query()
	v := wrongView{Snapshot: snap, Title: t.Title, Step: q.Get("step"), Wrong: t.ID,
		Asked: readAsked(q), OpID: rand.Text()}
	known := map[string]string{}
	for _, x := range steps.Wrongs(snap.Work, v.Step) {
		if x.ID == t.ID {
			known = x.Values
			if v.Asked.About == (steps.About{}) {
				v.Asked.About = x.About
			}
		}
	}
	for _, ask := range t.Asks {
		a := askView{Ask: ask, Value: known[ask.ID]}
		if given := v.Asked.Values[ask.ID]; given != "" {
			a.Value = given
		}
		switch ask.Kind {
		case "strip":
			a.Options, a.Value = strips(snap.Work.Plan), strconv.Itoa(v.Asked.Border)+"."+v.Asked.Edge
		case "edges":
			a.Options, a.Value = edgeOptions(), v.Asked.Edge
		case "corner":
			a.Options, a.Value = ends(v.Asked.Edge, t.Asks), strconv.Itoa(v.Asked.Corner)
		}
		v.Asks = append(v.Asks, a)
	}
	if atCorner[t.ID] {
		corner := askView{Ask: calc.Ask{ID: "corner", Label: "Which corner", Kind: "corner", Needed: true},
			Value: strconv.Itoa(v.Asked.Corner), Options: cornerOptions()}
		v.Asks = append([]askView{corner}, v.Asks...)
	}
	if answer, err := steps.Answer(snap.Work, t.ID, v.Asked); err == nil {
		v.Answer = &answer
	} else if refusal := (*steps.Refusal)(nil); errors.As(err, &refusal) {
		v.Fault = refusal.Message
	}
	s.show(w, r, http.StatusOK, "wrong", v)
}

// atCorner are the troubles that are about a corner.
var atCorner = map[string]bool{
	"pucker": true, "pleat": true, "hole": true, "stripes-miss": true, "not-flat": true,
}

func strips(p calc.Plan) []steps.Option {
	var all []steps.Option
	for i, b := range p.Borders {
		for _, edge := range edgeOptions() {
			all = append(all, steps.Option{
				Value: strconv.Itoa(i+1) + "." + edge.Value, Label: b.Name + ", " + edge.Value})
		}
	}
	return all
}

func edgeOptions() []steps.Option {
	return []steps.Option{{Value: "left", Label: "Left"}, {Value: "right", Label: "Right"},
		{Value: "top", Label: "Top"}, {Value: "bottom", Label: "Bottom"}}
}

// ends are the corners to choose from: where an edge is asked for and known, its two.
func ends(edge string, asks []calc.Ask) []steps.Option {
	all := cornerOptions()
	if !slices.ContainsFunc(asks, func(a calc.Ask) bool { return a.Kind == "edges" }) {
		return all
	}
	two := slices.DeleteFunc(cornerOptions(), func(o steps.Option) bool { return !slices.Contains(strings.Fields(o.Label), edge) })
	if len(two) != 2 {
		return all
	}
	return two
}

func cornerOptions() []steps.Option {
	var all []steps.Option
	for i, place := range cornerPlaces {
		n := strconv.Itoa(i + 1)
		all = append(all, steps.Option{Value: n, Label: n + ", " + place})
	}
	return all
}

// readAsked reads what a trouble is about and what was measured: strip=2.left, edge=top,
// corner=3, and every other field a measure.
func readAsked(q url.Values) steps.Asked {
	a := steps.Asked{Values: map[string]string{}}
	a.Border, _ = strconv.Atoi(q.Get("border"))
	a.Corner, _ = strconv.Atoi(q.Get("corner"))
	a.Edge, a.Edges = q.Get("edge"), calc.Edges(q.Get("edges"))
	if border, edge, ok := strings.Cut(q.Get("strip"), "."); ok {
		a.Border, _ = strconv.Atoi(border)
		a.Edge = edge
	}
	for name := range q {
		switch name {
		case "step", "border", "corner", "edge", "edges", "strip", "op", "wrong", "way":
		default:
			if v := strings.TrimSpace(q.Get(name)); v != "" {
				a.Values[name] = v
			}
		}
	}
	if a.Edge != "" {
		a.Edges = ""
	}
	return a
}

// foundPage is what a finding leads to.
func (s *Server) foundPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	of, _ := url.PathUnescape(chi.URLParam(r, "of"))
	f, step, ok := findingOf(snap.Work, of)
	if !ok { // it was mended meanwhile
		http.Redirect(w, r, "/s/"+snap.ID, http.StatusSeeOther)
		return
	}
	s.show(w, r, http.StatusOK, "wrong", wrongView{Snapshot: snap, Title: f.Title, Step: step,
		Wrong: f.Of, Answer: &f.Answer, Asked: steps.Asked{About: f.About}, OpID: rand.Text()})
}

// findingOf is the finding that is of something, and its step; false when there is none.
func findingOf(w *steps.Work, of string) (f steps.Finding, step string, ok bool) {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, f := range step.Findings {
				if f.Of == of {
					return f, step.ID, true
				}
			}
		}
	}
	return f, "", false
}

// mendPage takes a way out, and leads to where it goes on.
func (s *Server) mendPage(w http.ResponseWriter, r *http.Request) {
	if !s.readValues(w, r) {
		return
	}
	id, sent := chi.URLParam(r, "id"), r.PostForm
	a := readAsked(sent)
	op := steps.Op{ID: sent.Get("op"), Kind: steps.KindMend, Wrong: sent.Get("wrong"), Way: sent.Get("way"),
		Border: a.Border, Edge: a.Edge, Edges: a.Edges, Corner: a.Corner, Values: a.Values}
	if _, err := s.takeFor(r.Context(), visitorOf(r), id, op); err != nil {
		s.refuse(w, r, err)
		return
	}
	http.Redirect(w, r, "/s/"+id, http.StatusSeeOther)
}

// about is what an About says, for an address.
func about(a steps.About) url.Values {
	v := url.Values{}
	if a.Border > 0 {
		v.Set("border", strconv.Itoa(a.Border))
	}
	if a.Edge != "" {
		v.Set("edge", a.Edge)
	}
	if a.Edges != "" {
		v.Set("edges", string(a.Edges))
	}
	if a.Corner > 0 {
		v.Set("corner", strconv.Itoa(a.Corner))
	}
	return v
}
