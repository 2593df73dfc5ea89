package web

import (
	"html/template"
	"net/http"
	"strings"
	"sync"

	"cornerwise/steps"
)

// A termsView is the page of the words of the trade. Session pages take their words from it too
// (static/words.js), so that what it draws with has names that no session's drawings have.
type termsView struct {
	One     bool // the device is of one quilt
	Defs    template.HTML
	Terms   []termView
	Version string
}

type termView struct {
	steps.Term
	Pic template.HTML
}

// ownNames gives the parts of drawings names of this page.
var ownNames = strings.NewReplacer(`id="`, `id="term-`, `url(#`, `url(#term-`, `href="#`, `href="#term-`)

// terms are the words as drawn for a hand.
func terms(left bool) termsView {
	q := steps.TermQuilt()
	q.LeftHand = left
	v := termsView{Defs: template.HTML(ownNames.Replace(q.Defs()))}
	for _, x := range steps.Terms {
		v.Terms = append(v.Terms, termView{x, template.HTML(ownNames.Replace(q.Draw(x.Scene)))})
	}
	return v
}

var (
	termsRight = sync.OnceValue(func() termsView { return terms(false) })
	termsLeft  = sync.OnceValue(func() termsView { return terms(true) })
)

func (s *Server) termsPage(w http.ResponseWriter, r *http.Request) {
	v := termsRight
	if leftHand(r) {
		v = termsLeft
	}
	page := v()
	page.One, page.Version = visitorOf(r).only() != "", s.Version
	s.show(w, r, http.StatusOK, "terms", page)
}
