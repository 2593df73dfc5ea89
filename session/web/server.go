package web

import (
	"context"
	"log/slog"
	"net/http"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"cornerwise/session"
)

// A Server answers for one store.
type Server struct {
	Store   *session.Store
	Devices *session.Devices // those that may come in beside this computer
	Open    bool             // anyone on the network may
	Name    string           // that is announced on the network, such as cornerwise.local; "" for none
	Version string           // of this program, for the foot of pages; "" for none
	// Authority is the certificate, in DER, that devices must trust for https. Where
	// there is one, other devices must come by https.
	Authority []byte
	Log       *slog.Logger // nil: no log
	// Addresses are those by which other devices come now, best first, such as
	// http://192.168.7.2:8370. nil: there are none.
	Addresses func() []string
	// OnlyHere tells that it was asked to listen on this computer only.
	OnlyHere bool
	// AtLogin is the switch for starting with this computer; nil where there is none.
	AtLogin *AtLogin
	// Quit stops the program; nil where it can't be from a page.
	Quit func()
	// System is what this computer runs, as runtime.GOOS names it; "" for that.
	System string
	// Stop is closed when the server goes down: every live connection ends.
	Stop <-chan struct{}

	changes   *session.Throttle // by party
	around    *session.Throttle // changes of the parties in one network of IPv6
	reads     *session.Throttle // by party
	requests  *quota            // under way
	strangers *quota            // requests of those who are not in
	liveQuota *quota
	tally     *tally
	lanes     *lanes
	accounts  *accounts // of an open server
	desks     desks
	texts     *stateTexts
	// One place each: an import takes memory and time.
	imports    chan struct{}     // of all other devices
	importsOf  *session.Throttle // by party
	ownImports chan struct{}
	photos     chan struct{} // two of all other devices
	ownPhotos  chan struct{}
	lives      sync.WaitGroup // live connections: net/http forgets them once hijacked
	came       atomic.Bool    // another device, since the start
}

// Handler is the whole router.
func (s *Server) Handler() http.Handler {
	if s.Log == nil {
		s.Log = slog.New(slog.DiscardHandler)
	}
	if s.Addresses == nil {
		s.Addresses = func() []string { return nil }
	}
	// What a tablet did in an hour without a network comes at once.
	s.changes = session.NewThrottle(200, time.Second/20)
	s.lanes, s.desks, s.texts, s.accounts = newLanes(), newDesks(), newStateTexts(), newAccounts()
	s.imports, s.ownImports = make(chan struct{}, 1), make(chan struct{}, 1)
	s.photos, s.ownPhotos = make(chan struct{}, 2), make(chan struct{}, 1)
	s.importsOf = session.NewThrottle(5, time.Minute)
	s.around = session.NewThrottle(800, time.Second/80)
	s.reads = session.NewThrottle(300, time.Second/30)
	s.requests = newQuota(maxRequestsOfEach, maxRequestsAround, maxRequests)
	s.strangers = newQuota(maxRequestsOfEach, maxRequestsAround, maxStrangers)
	s.tally = newTally()
	s.liveQuota = newQuota(maxLivesOfEach, maxLivesAround, maxLives)
	s.requests.few, s.strangers.few, s.liveQuota.few = fewOfEach, fewOfEach, fewOfEach
	return s.routes()
}

// Wait returns when every live connection has ended, or with ctx. Close Stop first.
func (s *Server) Wait(ctx context.Context) {
	defer s.tally.tellAll()
	ended := make(chan struct{})
	go func() {
		s.lives.Wait()
		close(ended)
	}()
	select {
	case <-ended:
	case <-ctx.Done():
	}
}

// catchBugs makes a reply of a panic: a sentence for the person, the stack for the log.
func (s *Server) catchBugs(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			bug := recover()
			if bug == nil {
				return
			}
			if bug == http.ErrAbortHandler {
				panic(bug)
			}
			s.tally.add(s.Log, "bug", slog.LevelError, "bug", "what", bug, "stack", string(debug.Stack()))
			s.refuse(w, r, errBug)
		}()
		next.ServeHTTP(w, r)
	})
}
