package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"

	"cornerwise/session"
)

// An alongView is the page by which all quilts go to another computer, and come from one.
type alongView struct {
	Quilts int
	Binned int
	Taken  *takenView // what became of a file; nil before
}

// A takenView is what became of the quilts of a file, in words.
type takenView struct {
	session.TakenIn
	Why string // why it ended before the file did; "" where it did not
}

// Nothing tells that nothing was read.
func (v takenView) Nothing() bool {
	return len(v.Added)+len(v.Here)+len(v.Binned)+len(v.Unread) == 0
}

// Unreads is how many could not be read.
func (v takenView) Unreads() int { return len(v.Unread) + v.More }

// maxNamed is how many quilts are named one by one.
const maxNamed = 20

// Some are those added that are named.
func (v takenView) Some() []session.Head { return v.Added[:min(maxNamed, len(v.Added))] }

// Others are how many of those added are not named.
func (v takenView) Others() int { return len(v.Added) - len(v.Some()) }

// Names are titles in words.
func (v takenView) Names(titles []string) string {
	said := strings.Join(titles[:min(maxNamed, len(titles))], ", ")
	if more := len(titles) - maxNamed; more > 0 {
		said += fmt.Sprintf(" and %d more", more)
	}
	return said
}

// Titles are those of quilts, in words.
func (v takenView) Titles(heads []session.Head) string {
	var titles []string
	for _, h := range heads {
		titles = append(titles, h.Title)
	}
	return v.Names(titles)
}

// Quilts is a number of quilts in words.
func (v takenView) Quilts(n int) string {
	if n == 1 {
		return "1 quilt"
	}
	return fmt.Sprintf("%d quilts", n)
}

func (s *Server) alongPage(w http.ResponseWriter, r *http.Request) { s.showAlong(w, r, nil) }

func (s *Server) showAlong(w http.ResponseWriter, r *http.Request, taken *takenView) {
	v := alongView{Taken: taken}
	for _, list := range []struct {
		binned bool
		n      *int
	}{{false, &v.Quilts}, {true, &v.Binned}} {
		heads, _, err := s.Store.List(maxListed, "", list.binned)
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		*list.n = len(heads)
	}
	s.show(w, r, http.StatusOK, "along", v)
}

// maxListed is for a count of all: a house has some hundreds.
const maxListed = 100000

// alongPause is how long this computer's own browser may pause while a file is read or sent: the
// file may lie on a slow stick.
const alongPause = time.Minute

// takeAlong sends all quilts as a file.
func (s *Server) takeAlong(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", "application/octet-stream")
	h.Set("Content-Disposition", `attachment; filename="cornerwise-`+time.Now().Format(time.DateOnly)+`.quilts"`)
	h.Set("Cache-Control", "no-store")
	to := &sending{w: w}
	switch err := s.Store.AlongTo(to); {
	case err == nil:
	case !to.yet:
		h.Del("Content-Disposition")
		s.refuse(w, r, err)
	default: // a part is not to be taken for the whole
		s.record(r, explain(err), err)
		panic(http.ErrAbortHandler)
	}
}

// A sending reply may take long as a whole, and has its time anew for each piece.
type sending struct {
	w   http.ResponseWriter
	yet bool // it is begun
}

func (s *sending) Write(piece []byte) (int, error) {
	s.yet = true
	http.NewResponseController(s.w).SetWriteDeadline(time.Now().Add(alongPause))
	return s.w.Write(piece)
}

// takeIn reads such a file and says what became of it.
func (s *Server) takeIn(w http.ResponseWriter, r *http.Request) {
	select {
	case s.ownImports <- struct{}{}:
	default:
		s.refuse(w, r, otherImport)
		return
	}
	defer func() { <-s.ownImports }()
	// The file has no limit: this computer's owner could put it beside the store as well. What is
	// in memory of it has (session.TakeIn).
	r.Body = io.NopCloser(&body{from: r.Body, left: maxAlongFile, w: w,
		until: func() time.Time { return time.Now().Add(alongPause) }})
	file, err := chosenFile(r)
	var taken session.TakenIn
	if err == nil {
		taken, err = s.Store.TakeIn(r.Context(), file)
	}
	if err != nil {
		io.Copy(io.Discard, r.Body) // browsers send all before they listen
	}
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(alongPause))
	v := takenView{TakenIn: taken}
	if err != nil && v.Nothing() {
		s.refuse(w, r, err)
		return
	}
	if err != nil {
		p := explain(err)
		s.record(r, p, err)
		v.Why = p.Message
	}
	s.showAlong(w, r, &v)
}

// maxAlongFile is more than any disk gives such a file; what is larger is not even read away.
const maxAlongFile = 16 << 30

var (
	noFile = &problem{status: http.StatusUnprocessableEntity, Code: "no-file", Field: "file",
		Message: "No file was chosen, and nothing was changed. Go back and choose the file that the " +
			"other computer gave."}
	badFile = &problem{status: http.StatusBadRequest, Code: "bad-form",
		Message: "The file came broken, and nothing was changed. Go back and choose it again."}
)

// chosenFile is the file of a form, as it comes.
func chosenFile(r *http.Request) (io.Reader, error) {
	form, err := r.MultipartReader()
	if err != nil {
		return nil, badFile
	}
	part, err := form.NextPart()
	var known *problem
	switch {
	case errors.As(err, &known):
		return nil, known
	case err != nil:
		return nil, badFile
	case part.FormName() != "file" || part.FileName() == "":
		return nil, noFile
	}
	return part, nil
}
