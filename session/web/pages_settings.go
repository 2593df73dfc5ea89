package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
)

// A settingsView is the page of what one device is set to. Its browser keeps that: the server
// knows nothing of it.
type settingsView struct {
	Back, To string // the page that it was opened from, and what that is called
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
	s.show(w, r, http.StatusOK, "settings", v)
}
