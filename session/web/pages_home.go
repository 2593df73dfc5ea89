package web

import (
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
)

const (
	homePageSize = 24
	binSize      = 50
)

type homeView struct {
	First   *cardView // the last one touched; nil past the first page
	Cards   []cardView
	Next    string // the address of what comes after
	Bin     []cardView
	Binned  *cardView // just put there
	Empty   bool
	Owner   bool        // at this computer
	Others  *othersView // of this computer: how others come
	Looks   bool        // this device may look, and change nothing
	Version string
}

// An othersView is how other devices come to this computer.
type othersView struct {
	Address string // "" where none can
	Came    bool
}

type cardView struct {
	session.Head
	StageTitle string
	StepTitle  string // where work goes on; of the first card only
}

func newCard(h session.Head) cardView {
	// The ids of the stages are their names: square-up.
	words := strings.ReplaceAll(h.Stage, "-", " ")
	return cardView{Head: h, StageTitle: strings.ToUpper(words[:1]) + words[1:]}
}

func (c cardView) AllDone() bool { return c.Done == c.Total }

func (s *Server) homePage(w http.ResponseWriter, r *http.Request) {
	after := r.URL.Query().Get("after")
	heads, next, err := s.Store.List(homePageSize, after, false)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	binned, _, err := s.Store.List(binSize, "", true)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	v := homeView{Empty: len(heads) == 0 && after == "",
		Owner: visitorOf(r).owner, Looks: visitorOf(r).device.Looks,
		Version: s.Version}
	if v.Owner {
		v.Others = &othersView{}
		addresses := s.Addresses()
		v.Others.Came = s.reach(addresses).Came
		if len(addresses) > 0 {
			v.Others.Address = addresses[0]
		}
	}
	for _, h := range heads {
		v.Cards = append(v.Cards, newCard(h))
	}
	if after == "" && len(v.Cards) > 0 {
		first := v.Cards[0]
		if snap, err := s.Store.Get(first.ID); err == nil {
			_, step := snap.Work.Step(snap.Work.Here)
			first.StepTitle = step.Title
		}
		v.First, v.Cards = &first, v.Cards[1:]
	}
	for _, h := range binned {
		c := newCard(h)
		v.Bin = append(v.Bin, c)
		if h.ID == r.URL.Query().Get("binned") {
			v.Binned = &c
		}
	}
	if next != "" {
		v.Next = "/?after=" + next
	}
	if visitorOf(r).device.ID != "" {
		giveSecret(w, r, secretOf(r)) // for as long again
	}
	s.show(w, r, http.StatusOK, "home", v)
}

func (s *Server) makeDemo(w http.ResponseWriter, r *http.Request) {
	head, err := s.Store.Create(r.Context(), []byte(DemoPlan))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	http.Redirect(w, r, "/s/"+head.ID, http.StatusSeeOther)
}

func (s *Server) binPage(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	if err := s.Store.Bin(r.Context(), id); err != nil {
		s.refuse(w, r, err)
		return
	}
	http.Redirect(w, r, "/?binned="+id, http.StatusSeeOther)
}

func (s *Server) restorePage(w http.ResponseWriter, r *http.Request) {
	if err := s.Store.Unbin(r.Context(), chi.URLParam(r, "id")); err != nil {
		s.refuse(w, r, err)
		return
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
