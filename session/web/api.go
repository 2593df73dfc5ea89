package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
)

// A state is a session as programs see it.
type state struct {
	ID  string `json:"id"`
	Rev int64  `json:"rev"`
	// Edition is the edition of the procedure that the session was begun under.
	Edition int             `json:"edition"`
	Plan    json.RawMessage `json:"plan"` // as the person wrote it
	Sheet   calc.Sheet      `json:"sheet"`
	Here    string          `json:"here"`
	Stages  []steps.Stage   `json:"stages"`
	Gone    []steps.Fate    `json:"gone,omitempty"` // done ticks that are no part of the work any more
	Last    *steps.Done     `json:"last"`           // what undo would take back; null when nothing
}

func newState(s session.Snapshot) state {
	w := s.Work
	return state{ID: s.ID, Rev: s.Rev, Edition: w.Edition(), Plan: w.Source, Sheet: w.Sheet,
		Here: w.Here, Stages: w.Stages, Gone: w.Gone, Last: w.Last}
}

// A created is the reply to making a session, or taking one out of the bin.
type created struct {
	ID  string `json:"id"`
	Rev int64  `json:"rev"`
}

// unwell is what /healthz says of a store that was found damaged.
type unwell struct {
	OK    bool     `json:"ok"`
	Error *problem `json:"error"`
}

func (s *Server) health(w http.ResponseWriter, r *http.Request) {
	if err := s.Store.Health(); err != nil {
		reply(w, http.StatusServiceUnavailable, unwell{Error: explain(err)})
		return
	}
	reply(w, http.StatusOK, map[string]bool{"ok": true})
}

func (s *Server) create(w http.ResponseWriter, r *http.Request) {
	plan, err := readJSON(r, opBody)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	head, err := s.createFor(r, plan)
	s.replyOrRefuse(w, r, http.StatusCreated, created{head.ID, head.Rev}, err)
}

func (s *Server) list(w http.ResponseWriter, r *http.Request) {
	limit, err := readLimit(r.URL.Query().Get("limit"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	heads, next, err := s.Store.List(limit, r.URL.Query().Get("after"), false)
	if errors.Is(err, session.ErrNotFound) {
		err = &problem{status: http.StatusUnprocessableEntity, Code: "bad-after", Field: "after",
			Message: "after is the next of the page before; there is no such session here " +
				"any more. Start the list anew."}
	}
	if heads == nil {
		heads = []session.Head{}
	}
	s.replyOrRefuse(w, r, http.StatusOK, struct {
		Sessions []session.Head `json:"sessions"`
		Next     string         `json:"next"` // "" at the end
	}{heads, next}, err)
}

const (
	usualPage = 50
	maxPage   = 200
)

func readLimit(written string) (int, error) {
	if written == "" {
		return usualPage, nil
	}
	n, err := strconv.Atoi(written)
	if err != nil || n < 1 || n > maxPage {
		return 0, &problem{status: http.StatusUnprocessableEntity, Code: "bad-limit", Field: "limit",
			Message: fmt.Sprintf("limit is how many sessions come at once; it must be 1 to %d.", maxPage)}
	}
	return n, nil
}

func (s *Server) get(w http.ResponseWriter, r *http.Request) {
	snapshot, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	data, err := s.texts.state(snapshot)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	write(w, http.StatusOK, *data)
}

func (s *Server) do(w http.ResponseWriter, r *http.Request) {
	data, err := readJSON(r, opBody)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	op, err := decodeOp(data)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	rev, err := s.takeFor(r.Context(), visitorOf(r), chi.URLParam(r, "id"), op)
	s.replyOrRefuse(w, r, http.StatusOK, struct {
		Rev int64 `json:"rev"`
	}{rev}, err)
}

func (s *Server) history(w http.ResponseWriter, r *http.Request) {
	s.stream(w, r, func(to io.Writer) error { return s.Store.HistoryTo(chi.URLParam(r, "id"), to) })
}

func (s *Server) export(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	if err := s.opened(r.Context(), visitorOf(r), id); err != nil {
		s.refuse(w, r, err)
		return
	}
	snapshot, err := s.Store.Get(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	w.Header().Set("Content-Disposition", `attachment; filename="`+fileName(snapshot.Title)+`.json"`)
	exportTo := s.Store.ExportTo
	if r.URL.Query().Get("photos") == "yes" {
		exportTo = s.Store.ExportWithPhotosTo
	}
	s.stream(w, r, func(to io.Writer) error { return exportTo(id, to) })
}

// stream sends JSON that is written in pieces. What fails at the first is refused; later the
// connection is broken off, so that nobody takes a part for the whole. A device that is
// forgotten gets no more of it.
func (s *Server) stream(w http.ResponseWriter, r *http.Request, writeTo func(io.Writer) error) {
	to := &begun{w: w, by: visitorOf(r)}
	switch err := writeTo(to); {
	case err == nil:
	case !to.yet:
		w.Header().Del("Content-Disposition")
		s.refuse(w, r, err)
	case to.failed:
		panic(http.ErrAbortHandler)
	default:
		s.record(r, explain(err), err)
		panic(http.ErrAbortHandler)
	}
}

// A begun reply has its header before its first piece.
type begun struct {
	w      http.ResponseWriter
	by     visitor
	yet    bool // it is begun
	failed bool // the client takes no more
}

func (b *begun) Write(piece []byte) (n int, err error) {
	if err := b.by.forgotten(); err != nil {
		return 0, err
	}
	if !b.yet {
		b.yet = true
		writeHeader(b.w, http.StatusOK)
	}
	n, err = b.w.Write(piece)
	b.failed = err != nil
	return n, err
}

// fileName is a title that every system takes as the name of a file.
func fileName(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(c rune) bool {
		return (c < 'a' || c > 'z') && (c < '0' || c > '9')
	})
	if len(words) == 0 {
		return "session"
	}
	return strings.Join(words, "-")
}

func (s *Server) importSession(w http.ResponseWriter, r *http.Request) {
	head, err := s.takeImport(w, r)
	if err != nil {
		io.CopyN(io.Discard, r.Body, drainLimit) // many clients send all before they listen
	}
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(alongPause)) // the owner's may have taken long
	s.replyOrRefuse(w, r, http.StatusCreated, created{head.ID, head.Rev}, err)
}

// takeImport imports one session at a time for all other devices together, few for each of
// them, and one at a time for the owner: the largest takes the disk some tenths of a second, in
// which no tick is kept, and its space.
func (s *Server) takeImport(w http.ResponseWriter, r *http.Request) (session.Head, error) {
	v, turn, may := visitorOf(r), s.imports, deviceImport
	if v.owner {
		turn, may = s.ownImports, ownImport
	}
	select {
	case turn <- struct{}{}:
	default:
		return session.Head{}, otherImport
	}
	defer func() { <-turn }()
	if !v.owner {
		if wait := s.importsOf.Use(v.party.one, time.Now()); wait > 0 {
			return session.Head{}, &problem{status: http.StatusTooManyRequests, wait: wait, Code: "too-fast",
				Message: "This device imports more sessions than are taken, and this one was not. It is taken in " +
					inSeconds(wait) + ", or at any time on the computer that serves."}
		}
	}
	ctx, cancel := context.WithTimeout(r.Context(), may.within)
	defer cancel()
	if r.ContentLength > may.bytes {
		return session.Head{}, may.large
	}
	end := time.Now().Add(may.within)
	all := &body{from: r.Body, left: may.bytes, w: w, until: func() time.Time {
		if next := time.Now().Add(importPause); next.Before(end) {
			return next
		}
		return end
	}}
	head, err := s.Store.Import(ctx, all)
	switch {
	case all.left < 0:
		err = may.large
	case errors.Is(err, context.DeadlineExceeded):
		err = longImport
	}
	return head, err
}

// An importBound is what an import may take.
type importBound struct {
	bytes  int64
	within time.Duration // a top with twelve borders takes a second
	large  *problem
}

// The owner's may bring all the photos that a quilt ever had.
var (
	deviceImport = importBound{importLimit, 30 * time.Second, largeImport}
	ownImport    = importBound{1 << 30, time.Hour, tooLarge(1 << 30)}
)

// importPause is how long the sender of an import may pause: others wait for the place.
const importPause = 5 * time.Second

var (
	largeImport = &problem{status: http.StatusRequestEntityTooLarge, Code: "too-large",
		Message: "This file is too large: 16 MiB are taken from a device, and nothing was changed. At the " +
			"computer that serves, choose it under Take everything along, which takes a quilt with all its photos."}
	otherImport = &problem{status: http.StatusServiceUnavailable, wait: 5 * time.Second, Code: "busy",
		Message: "Another session is being imported, and this one was not. Import it in a moment."}
	longImport = &problem{status: http.StatusUnprocessableEntity, Code: session.BadImport,
		Message: "The history in this file takes longer than 30 s to go through, and nothing was kept. " +
			"Begin a new session on the same plan."}
)

func (s *Server) bin(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	err := s.Store.Bin(r.Context(), id)
	s.replyOrRefuse(w, r, http.StatusOK, struct {
		ID     string `json:"id"`
		Binned bool   `json:"binned"`
	}{id, true}, err)
}

func (s *Server) restore(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	if err := s.Store.Unbin(r.Context(), id); err != nil {
		s.refuse(w, r, err)
		return
	}
	snapshot, err := s.Store.Get(id)
	s.replyOrRefuse(w, r, http.StatusOK, created{id, snapshot.Rev}, err)
}

// replyOrRefuse replies with v, or says why not where there is an error.
func (s *Server) replyOrRefuse(w http.ResponseWriter, r *http.Request, status int, v any, err error) {
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	reply(w, status, v)
}

// reply sends v as JSON. What is sent here can always be written as JSON; a
// value that can't is a bug, and is answered as one (catchBugs).
func reply(w http.ResponseWriter, status int, v any) {
	data, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	write(w, status, data)
}

func write(w http.ResponseWriter, status int, data []byte) {
	writeHeader(w, status)
	w.Write(data)
}

func writeHeader(w http.ResponseWriter, status int) {
	h := w.Header()
	h.Set("Content-Type", "application/json")
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(status)
}
