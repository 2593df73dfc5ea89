package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
)

// A scope is how far a route goes for a device that was let in for one quilt only.
type scope int

const (
	// closed: there is no such address for it.
	closed scope = iota
	// own: where {id} is the quilt that it was let in for. What it asks of another is answered
	// alike, whether there is such a one or not.
	own
	// leads: to the page of its quilt.
	leads
	// open: as for every device.
	open
)

// An access is who may use a route.
type access int

const (
	// everyone may: a device that is not paired, by plain http where --tls asks for
	// https, as often as it likes.
	everyone access = iota
	// unpaired devices may, by https where --tls asks for it.
	unpaired
	// paired devices may, and the owner. A device that looks on may only read, and
	// changes have their limit (mayChange).
	paired
	// owner is the one at this computer.
	owner
)

var (
	needsTLS = &problem{status: http.StatusForbidden, Code: "needs-https",
		Message: "This program was started with --tls and takes nothing in the open. " +
			"Use the same address with https in place of http."}
	notPaired = &problem{status: http.StatusUnauthorized, Code: "not-paired",
		Message: "This device is not paired, and nothing was changed. " +
			"Open the first page on it and type the code that the computer shows."}
	notOwner = &problem{status: http.StatusForbidden, Code: "not-owner",
		Message: "Who may come in is said at the computer that serves, in its own browser. " +
			"Open the page of devices there."}
)

// admit lets a visitor through to a route that it may use. Programs get others' refusals
// as JSON; people are led to the page that helps.
func (s *Server) admit(who access, one scope, next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		v := visitorOf(r)
		switch {
		case who != everyone && s.inTheOpen(r, v):
			s.sendAway(w, r, needsTLS, "/trust")
			return
		case who != everyone && who != unpaired && !v.in:
			s.sendAway(w, r, notPaired, "/pair")
			return
		case v.only() != "" && one != open && !(one == own && chi.URLParam(r, "id") == v.only()):
			s.keepToOne(w, r, one)
			return
		case who == everyone, who == unpaired:
		case who == owner && !v.owner:
			s.refuse(w, r, notOwner)
			return
		case changes(r):
			if err := s.mayChange(v); err != nil {
				s.refuse(w, r, err)
				return
			}
		default:
			if err := s.mayRead(v); err != nil {
				s.refuse(w, r, err)
				return
			}
		}
		next(w, r)
	}
}

// keepToOne answers a device of one quilt that asks for something else.
func (s *Server) keepToOne(w http.ResponseWriter, r *http.Request, one scope) {
	v := visitorOf(r)
	switch err := s.mayRead(v); {
	case err != nil:
		s.refuse(w, r, err)
	case one == leads:
		giveSecret(w, r, secretOf(r)) // for as long again
		w.Header().Set("Cache-Control", "no-store")
		http.Redirect(w, r, "/s/"+v.only(), http.StatusSeeOther)
	case one == own:
		s.refuse(w, r, session.ErrNotFound)
	default:
		s.unknownPath(w, r)
	}
}

// inTheOpen tells what came by plain http where https was asked for. This computer
// itself may: nothing of it goes over the network.
func (s *Server) inTheOpen(r *http.Request, v visitor) bool {
	return s.Authority != nil && r.TLS == nil && !v.owner
}

func (s *Server) sendAway(w http.ResponseWriter, r *http.Request, why *problem, page string) {
	if forPrograms(r) {
		s.refuse(w, r, why)
		return
	}
	http.Redirect(w, r, page, http.StatusSeeOther)
}

func changes(r *http.Request) bool {
	return r.Method != http.MethodGet && r.Method != http.MethodHead
}
