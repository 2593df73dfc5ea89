package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
)

// A settingsView is the page of what one device is set to. Its browser keeps that: the server
// knows nothing of it but the hand.
type settingsView struct {
	Back, To string // the page that it was opened from, and what that is called
	Version  string
}

// handCookie is the one setting that the server is told of (static/menu.js), because it draws:
// the hand that cuts. A browser that lets go of the cookie after a while away gives it anew with
// its next page.
const handCookie = "cornerwise-hand"

func leftHand(r *http.Request) bool {
	c, err := r.Cookie(handCookie)
	return err == nil && c.Value == "left-hand"
}

func (s *Server) settingsPage(w http.ResponseWriter, r *http.Request) {
	v := settingsView{Back: "/", To: "All quilts"}
	if id := chi.URLParam(r, "id"); id != "" {
		snap, err := s.Store.Get(id)
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		v = settingsView{Back: "/s/" + snap.ID, To: "Back to " + snap.Title}
	}
	v.Version = s.Version
	s.show(w, r, http.StatusOK, "settings", v)
}
