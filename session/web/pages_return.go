package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
	"cornerwise/steps"
)

// What the card shows that one finds who comes back to a quilt (static/return.js).
type returnView struct {
	ID     string
	Last   time.Time // of the newest act
	Acts   []toldAct // the last ones, newest last
	By     string    // who did all of them; "" where that is not one alone
	Title  string    // the act that comes next; "" once all is done
	Step   string
	Number *steps.Number // that it is worked to
	// Machine are the lines of the note on the step of the machine, and Note is where to note
	// them: the step's title.
	Machine []string
	Note    string
}

// A toldAct is one op in words.
type toldAct struct {
	At           time.Time
	Day          string // where it is another than the newest act's
	Text, Number string
	By           string
}

const (
	actsTold = 5
	// actsRead are looked at for those: looking round is in the history too, and what was undone.
	actsRead = 200
)

func (s *Server) returnPage(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	snap, err := s.Store.Get(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	v := newReturnView(snap)
	undone := map[string]bool{}
	err = s.Store.Lately(id, actsRead, func(e steps.Entry) bool {
		if e.Kind == steps.KindUndo {
			undone[e.Of] = true
		}
		if text, number := snap.Work.Tell(e); text != "" && !undone[e.ID] {
			v.add(toldAct{At: e.At, Text: text, Number: number, By: who(e, snap.Head, visitorOf(r))})
		}
		return len(v.Acts) == actsTold
	})
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	s.show(w, r, http.StatusOK, "return", v)
}

func newReturnView(snap session.Snapshot) *returnView {
	v := &returnView{ID: snap.ID}
	if step, t := snap.Work.Act(); t != nil {
		v.Title, v.Step = t.Title, step.Title
		if len(t.Numbers) > 0 {
			v.Number = &t.Numbers[0]
		}
	}
	if _, step := snap.Work.Step(machineStep); step != nil {
		v.Machine, v.Note = noted(step.Note), step.Title
	}
	return v
}

// add puts an earlier act before the others.
func (v *returnView) add(a toldAct) {
	if v.Last.IsZero() {
		v.Last, v.By = a.At, a.By
	}
	if a.By != v.By {
		v.By = ""
	}
	if !sameDay(a.At, v.Last) {
		a.Day = a.At.Local().Format("2 Jan")
	}
	v.Acts = append([]toldAct{a}, v.Acts...)
}

// who did an act, for a visitor: a device by its name; "" where nobody knows.
func who(e steps.Entry, head session.Head, v visitor) string {
	switch {
	case e.By != "":
		return e.By
	case head.Named == 0 || e.Rev < head.Named:
		return ""
	case v.owner:
		return "this computer"
	}
	return "the computer"
}

// machineStep is the step in whose note the settings of the machine stand, and machineLines is
// what is asked for there, a line each.
const machineStep = "machine"

var machineLines = []string{"Stitch length", "Needle", "Thread", "Foot", "Iron"}

// noted are the lines of a note, without those of its template that were left open.
func noted(note string) []string {
	var lines []string
	for line := range strings.Lines(note) {
		if line = strings.TrimSpace(line); line != "" && !isOpen(line) {
			lines = append(lines, line)
		}
	}
	return lines
}

func isOpen(line string) bool {
	name, colon := strings.CutSuffix(line, ":")
	return colon && slices.Contains(machineLines, name)
}

// Lines are what the step's note opens with while it is empty; "" for all but the machine's.
func (s *stepView) Lines() string {
	if s.ID != machineStep {
		return ""
	}
	return strings.Join(machineLines, ":\n") + ":"
}

// Noted are the lines of the step's note.
func (s *stepView) Noted() []string { return noted(s.Note) }
