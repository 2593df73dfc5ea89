package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
)

// A problem is why something could not be done: a code for programs, a sentence
// for people. As JSON it stands under "error".
type problem struct {
	status  int
	wait    time.Duration // until it may be tried again; 0 where that is of no matter
	Code    string        `json:"code"`
	Field   string        `json:"field"` // "" when no one field is to blame
	Message string        `json:"message"`
	Missing []string      `json:"missing,omitempty"` // ticks, for not-yet and in-use
	Faults  calc.Faults   `json:"faults,omitempty"`  // all of them, for bad-plan
}

func (p *problem) Error() string { return p.Message }

// errBug stands for what should not be; the log has the rest.
var errBug = &problem{status: http.StatusInternalServerError, Code: "bug",
	Message: "Something went wrong inside the program, and its log says what. What was kept " +
		"before is safe. Look at the session again before you repeat the step."}

// explain turns any error into a status and a whole sentence: what, the limit,
// what to do, and whether anything was lost.
func explain(err error) *problem {
	var (
		known   *problem
		faults  calc.Faults
		refusal *steps.Refusal
		soon    *session.TooSoon
		spent   *session.Spent
		system  syscall.Errno
	)
	switch {
	case errors.As(err, &known):
		return known
	case errors.As(err, &faults) && len(faults) > 0:
		return badPlan(faults)
	case errors.As(err, &refusal) && len(refusal.Faults) > 0:
		return badPlan(refusal.Faults)
	case errors.As(err, &refusal):
		status := http.StatusUnprocessableEntity
		if refusal.Clash() {
			status = http.StatusConflict
		}
		return &problem{status: status, Code: refusal.Code, Field: refusal.Field,
			Message: refusal.Message, Missing: refusal.Missing}
	case errors.Is(err, session.ErrForgotten):
		return notPaired
	case errors.Is(err, session.ErrNotFound):
		return &problem{status: http.StatusNotFound, Code: "not-found",
			Message: "There is no such session here. The address may be cut short, or it " +
				"belongs to another computer."}
	case errors.Is(err, session.ErrNoPhoto):
		return &problem{status: http.StatusNotFound, Code: "no-photo", Field: "photo",
			Message: "There is no such photo here. One that no quilt uses is removed after a day: " +
				"take it again."}
	case isPhotoFault(err):
		return photoFault(err)
	case errors.Is(err, session.ErrBinned):
		return &problem{status: http.StatusNotFound, Code: "binned",
			Message: "This session is in the bin. Nothing of it is lost: take it out again " +
				"to go on."}
	case errors.Is(err, session.ErrWrongCode):
		return &problem{status: http.StatusUnprocessableEntity, Code: "wrong-code", Field: "code",
			Message: "This code is not one that the computer shows now. Codes last 10 " +
				"minutes and let in one device: look there for the next."}
	case errors.As(err, &soon):
		return &problem{status: http.StatusTooManyRequests, wait: soon.Wait, Code: "too-many-guesses", Field: "code",
			Message: "There were too many wrong codes. Wait " + inSeconds(soon.Wait) + ", then type the code that the computer shows."}
	case errors.As(err, &spent):
		return askAtComputer(spent)
	case errors.Is(err, session.ErrManyDevices):
		return &problem{status: http.StatusConflict, Code: "too-many-devices",
			Message: "As many devices are paired as this program takes, 100. Forget one on " +
				"the computer's page of devices, then pair this one."}
	case errors.Is(err, session.ErrFull):
		return &problem{status: http.StatusServiceUnavailable, Code: "disk-full",
			Message: "The disk is full where the sessions are kept. Nothing kept is lost, " +
				"but this was not kept: free some space there, then do it again."}
	case errors.Is(err, session.ErrDamaged):
		return &problem{status: http.StatusServiceUnavailable, Code: "damaged",
			Message: "The file that the sessions are kept in is damaged, and this could not " +
				"be read or kept. Stop the program, and start it again: it then says which " +
				"backup is good and how to take it. Nothing is thrown away."}
	case errors.Is(err, session.ErrUnsure):
		return &problem{status: http.StatusServiceUnavailable, Code: "disk-failed",
			Message: "The disk failed while the sessions were written to it. What was kept " +
				"before is safe; this may be kept, or not. Stop the program, look to the " +
				"disk, start it again, then look at the session before you repeat the step."}
	case errors.Is(err, session.ErrStuck):
		return &problem{status: http.StatusServiceUnavailable, Code: "disk-failed",
			Message: "The disk failed before, while the sessions were written to it. This was not " +
				"read or kept. Stop the program, look to the disk, and start it again."}
	case errors.As(err, &system):
		return &problem{status: http.StatusServiceUnavailable, Code: "disk-failed",
			Message: "The disk or the system did not let the sessions be read or written, " +
				"and the program's log says why. Nothing kept is lost, but this was not " +
				"kept: do it again in a moment."}
	case errors.Is(err, session.ErrClosed), errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &problem{status: http.StatusServiceUnavailable, Code: "stopping",
			Message: "The program is being stopped, or its sessions are being put back from " +
				"a backup, and this was not kept. Do it again in a moment, once it runs."}
	}
	return errBug
}

func badPlan(faults calc.Faults) *problem {
	first := faults[0]
	message := fmt.Sprintf("%s %s.", first.Field, strings.TrimSuffix(first.Message, "."))
	switch more := len(faults) - 1; {
	case more == 1:
		message += " There is 1 more fault."
	case more > 1:
		message += fmt.Sprintf(" There are %d more faults.", more)
	}
	return &problem{status: http.StatusUnprocessableEntity, Code: steps.BadPlan,
		Field: first.Field, Message: message, Faults: faults}
}

// refuse answers with the problem: JSON for programs, a page for people.
func (s *Server) refuse(w http.ResponseWriter, r *http.Request, err error) {
	v := visitorOf(r)
	p := explainTo(v, err)
	s.record(r, p, err)
	retryAfter(w, p)
	if forPrograms(r) {
		reply(w, p.status, problemReply{p})
		return
	}
	wordsOnly(w, p.status, wordsView{p.Message, v.wayOn(r)})
}

// explainTo is explain, for a visitor who may see one quilt only and take none out of the bin.
func explainTo(v visitor, err error) *problem {
	if v.only() != "" && errors.Is(err, session.ErrBinned) {
		return &problem{status: http.StatusNotFound, Code: "binned",
			Message: "This quilt is in the bin. Nothing of it is lost: it goes on here once it is " +
				"taken out again at the computer."}
	}
	return explain(err)
}

func retryAfter(w http.ResponseWriter, p *problem) {
	if p.wait > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(wholeSeconds(p.wait)))
	}
}

func wholeSeconds(d time.Duration) int { return int((d + time.Second - 1) / time.Second) }

func inSeconds(d time.Duration) string {
	if n := wholeSeconds(d); n != 1 {
		return fmt.Sprintf("%d seconds", n)
	}
	return "1 second"
}

type problemReply struct {
	Error *problem `json:"error"`
}

// record logs a refusal by its code and route, never by what a person wrote: a
// session's address opens it, and its ops are its owner's business. Of one code there is a line
// a minute.
func (s *Server) record(r *http.Request, p *problem, err error) {
	route := ""
	if c := chi.RouteContext(r.Context()); c != nil {
		route = c.RoutePattern()
	}
	s.recordAt(r.Method, route, p, err)
}

func (s *Server) recordAt(method, route string, p *problem, err error) {
	about := []any{"status", p.status, "code", p.Code, "method", knownMethod(method), "route", route}
	switch {
	case errors.Is(err, context.Canceled): // whoever asked has left
		s.tally.add(s.Log, "left", slog.LevelInfo, "left", about...)
		return
	case p.status < http.StatusInternalServerError, p.Code == "busy":
		s.tally.add(s.Log, p.Code, slog.LevelInfo, "refused", about...)
		return
	}
	s.tally.add(s.Log, p.Code, slog.LevelError, "fault", append(about, "err", err)...)
}

func forPrograms(r *http.Request) bool {
	path := r.URL.Path
	return path == "/api" || strings.HasPrefix(path, "/api/") || path == "/healthz"
}

func (s *Server) unknownPath(w http.ResponseWriter, r *http.Request) {
	s.refuse(w, r, &problem{status: http.StatusNotFound, Code: "unknown-path",
		Message: "There is nothing at this address. Start from the first page and go on from " +
			"there."})
}

func (s *Server) unknownMethod(w http.ResponseWriter, r *http.Request) {
	var takes []string
	routes := chi.RouteContext(r.Context()).Routes
	for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodDelete} {
		if routes.Match(chi.NewRouteContext(), method, r.URL.Path) {
			takes = append(takes, method)
		}
	}
	if len(takes) == 0 { // a method of no known name, sent to nowhere
		s.unknownPath(w, r)
		return
	}
	w.Header().Set("Allow", strings.Join(takes, ", "))
	s.refuse(w, r, &problem{status: http.StatusMethodNotAllowed, Code: "unknown-method",
		Message: fmt.Sprintf("This address does not take %s; it takes %s.", clip(r.Method, 20), strings.Join(takes, " or "))})
}

// clip keeps what a stranger sent from filling a sentence.
func clip(s string, longest int) string {
	if r := []rune(s); len(r) > longest {
		return string(r[:longest]) + "…"
	}
	return s
}
