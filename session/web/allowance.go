package web

import (
	"fmt"
	"maps"
	"net/http"
	"strings"
	"sync"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
)

// accounts are those of an open server, which knows its devices by address only. They are in
// memory, until the program ends.
type accounts struct {
	mu   sync.Mutex
	each map[string]*session.Account
	rest session.Account // of those who found no room in each
}

// maxAccounts are remembered; beyond them strangers share one.
const maxAccounts = 1024

func newAccounts() *accounts { return &accounts{each: map[string]*session.Account{}} }

// of is the account of a party, within that of its network of IPv6.
func (a *accounts) of(p party) *session.Account {
	a.mu.Lock()
	defer a.mu.Unlock()
	var wider *session.Account
	if p.around != "" {
		wider = a.ofKeyLocked("around "+p.around, nil)
	}
	return a.ofKeyLocked(p.one, wider)
}

func (a *accounts) ofKeyLocked(key string, wider *session.Account) *session.Account {
	if one := a.each[key]; one != nil {
		return one
	}
	if len(a.each) >= maxAccounts {
		// Who only looked needs none; a network adds no more than a few of its addresses may.
		maps.DeleteFunc(a.each, func(_ string, one *session.Account) bool { return !one.Used() })
	}
	if len(a.each) >= maxAccounts {
		return &a.rest
	}
	one := &session.Account{Wider: wider}
	a.each[key] = one
	return one
}

// askAtComputer is why something can't be added, and what to do.
func askAtComputer(spent *session.Spent) *problem {
	most, what := inBytes(session.MaxBytes), "Open the page of devices there and touch Allow more."
	if spent.Sessions {
		most = fmt.Sprintf("%d quilts", session.MaxSessions)
	}
	if !spent.Paired {
		what = "Start the program there again, best without --open, and pair the devices."
	}
	return &problem{status: http.StatusForbidden, Code: "ask-at-computer",
		Message: "This device may add " + most + " before somebody at the computer is asked, and with this it " +
			"would be more. Nothing is lost, but this was not taken yet. " + what}
}

// Adds is what a device has added, where that is more than half of what it may; "" before.
func (d deviceView) Adds() string {
	var all []string
	if n := d.Device.Added.Sessions; 2*n > session.MaxSessions {
		all = append(all, fmt.Sprintf("%d of %d quilts", n, session.MaxSessions))
	}
	if n := d.Device.Added.Bytes; 2*n > session.MaxBytes {
		all = append(all, fmt.Sprintf("%d of %s", (n+1<<19)>>20, inBytes(session.MaxBytes)))
	}
	if len(all) == 0 {
		return ""
	}
	return "has added " + strings.Join(all, " and ")
}

// allowDevice lets a device add as much again.
func (s *Server) allowDevice(w http.ResponseWriter, r *http.Request) {
	s.toDevices(w, r, s.Devices.Allow(r.Context(), chi.URLParam(r, "device")))
}
