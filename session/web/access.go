package web

import "net/http"

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
func (s *Server) admit(who access, next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		v := visitorOf(r)
		switch {
		case who == everyone:
		case s.inTheOpen(r, v):
			s.sendAway(w, r, needsTLS, "/trust")
			return
		case who == unpaired:
		case !v.in:
			s.sendAway(w, r, notPaired, "/pair")
			return
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
