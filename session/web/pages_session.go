package web

import (
	"crypto/rand"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// A sessionView is the whole session in one page: every step is in it, one shows.
type sessionView struct {
	session.Snapshot
	Past    string // that its revision counts in
	Stages  []stageView
	View    string // what shows: step, list or end
	Stage   string // of the step or the list that shows
	Step    *stepView
	Tick    *tickView
	Now     *stepView // where work goes on
	Back    string    // the addresses of the tick before and after
	Ahead   string
	Looking bool // what shows is not where work goes on
	AllDone bool
	OpID    string // of the form that does without a script
	Defs    template.HTML
	Corners []cornerView
	Looks   bool // this device may look, and not tick
	One     bool // it sees no other quilt
	Left    bool // who works on it cuts with the left hand
}

type stageView struct {
	steps.Stage
	Steps       []*stepView
	Done, Total int
	State       string // done, open
	Now         bool   // work goes on here
	Shown       bool   // its list shows
}

type stepView struct {
	*steps.Step
	Stage       string
	Ticks       []*tickView
	Fields      []fieldOfStep
	Session     string
	Done, Total int
	State       string // done, open, locked
	Lock        *lockView
	Now, Shown  bool
}

type tickView struct {
	*steps.Tick
	Step    *stepView
	State   string // done, open, locked
	Lock    *lockView
	Shown   bool
	Found   *foundView    // nil: nothing to tell
	Drawing template.HTML // where the page brings it along
}

// A lockView is the first thing that is missing.
type lockView struct{ Tick, Step, Title, StepTitle string }

// A fieldOfStep is a measure, which shows with its tick.
type fieldOfStep struct {
	steps.Measure
	Unit string
}

func (s *Server) sessionPage(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	v := newSessionView(snap, s.quiltOf(snap))
	v.Past = s.Store.Epoch()
	by := visitorOf(r)
	v.Looks, v.One, v.Left = by.device.Looks, by.only() != "", leftHand(r)
	if v.One {
		giveSecret(w, r, secretOf(r)) // for as long again: this is its first page
	}
	step, stage := chi.URLParam(r, "step"), chi.URLParam(r, "stage")
	switch {
	case stage != "":
		if !v.showList(stage) {
			s.unknownPath(w, r)
			return
		}
	case step != "":
		if !v.showStep(step, r.URL.Query().Get("tick")) {
			s.unknownPath(w, r)
			return
		}
	case v.AllDone:
		v.View = "end"
	default:
		v.showStep(snap.Work.Here, "")
	}
	s.show(w, r, http.StatusOK, "session", v)
}

// ReadsPlan tells whether this device may only read the plan.
func (v *sessionView) ReadsPlan() bool { return v.Looks || v.One }

// Mode is what the wide button does: tick, hereon, locked, done, list.
func (v *sessionView) Mode() string {
	if v.Tick == nil {
		return "list"
	}
	return v.Tick.mode()
}

func (t *tickView) mode() string {
	switch {
	case t.State == "open" && !t.Step.Now:
		return "hereon"
	case t.State == "open":
		return "tick"
	}
	return t.State
}

// atWork tells whether work goes on at this tick, or it is only looked at. Once all is
// done nothing goes on anywhere.
func (v *sessionView) atWork(t *tickView) bool {
	return t.Step.Now && !v.AllDone && (t.State == "open" || t == t.Step.pick(""))
}

func newSessionView(snap session.Snapshot, q draw.Quilt) *sessionView {
	w := snap.Work
	done, total := w.Progress()
	v := &sessionView{Snapshot: snap, View: "step", AllDone: done == total, OpID: rand.Text(),
		Defs: template.HTML(q.Defs())}
	for i := range w.Stages {
		stage := stageView{Stage: w.Stages[i], State: "open"}
		stage.Done, stage.Total = w.Stages[i].Progress()
		if stage.Done == stage.Total {
			stage.State = "done"
		}
		for j := range stage.Stage.Steps {
			step := newStepView(w, stage.ID, &stage.Stage.Steps[j])
			step.Session = snap.ID
			for _, t := range step.Ticks {
				t.Found = newFound(snap.ID, step, t)
			}
			if step.Now = step.ID == w.Here; step.Now {
				v.Now, stage.Now = step, true
			}
			stage.Steps = append(stage.Steps, step)
		}
		v.Stages = append(v.Stages, stage)
	}
	v.Corners = cornersOf(w)
	return v
}

func newStepView(w *steps.Work, stage string, step *steps.Step) *stepView {
	sv := &stepView{Step: step, Stage: stage, State: "done"}
	for k := range step.Ticks {
		t := &tickView{Tick: &step.Ticks[k], Step: sv, State: "done"}
		if t.Done {
			sv.Done++
		} else if t.State, t.Lock = "open", lockOf(w, t.Tick); t.Lock != nil {
			t.State = "locked"
		}
		sv.Ticks = append(sv.Ticks, t)
		if t.Passed {
			continue // the work went on without it
		}
		sv.Total++
		switch {
		case t.State == "open":
			sv.State, sv.Lock = "open", nil
		case t.State == "locked" && sv.State == "done":
			sv.State, sv.Lock = "locked", t.Lock
		}
	}
	for _, m := range step.Measures {
		sv.Fields = append(sv.Fields, fieldOfStep{Measure: m, Unit: string(w.Plan.Unit)})
	}
	return sv
}

// Nth is which of the step's ticks shows.
func (s *stepView) Nth() string {
	for i, t := range s.Ticks {
		if t.Shown {
			return fmt.Sprintf("%d of %d", i+1, len(s.Ticks))
		}
	}
	return ""
}

// Word is how far the step is, for the list of its stage.
func (s *stepView) Word() string {
	switch s.State {
	case "done":
		return "done"
	case "locked":
		return "not yet: first " + s.Lock.Title
	}
	put := 0
	for _, t := range s.Ticks {
		if t.Later != "" {
			put++
		}
	}
	word := fmt.Sprintf("%d of %d", s.Done, s.Total)
	if put > 0 {
		word += fmt.Sprintf(", %d put off", put)
	}
	return word
}

func lockOf(w *steps.Work, t *steps.Tick) *lockView {
	for _, need := range t.Needs {
		if step, n := w.Tick(need); !n.Done {
			return &lockView{Tick: n.ID, Step: step.ID, Title: n.Lower(), StepTitle: step.Title}
		}
	}
	return nil
}

func (v *sessionView) showList(stage string) bool {
	for i := range v.Stages {
		if v.Stages[i].ID == stage {
			v.View, v.Stage, v.Stages[i].Shown = "list", stage, true
			return true
		}
	}
	return false
}

// showStep shows a tick of a step: the one named, else the first that can be done, else the
// first that is put off, else the first that is open, else the last.
func (v *sessionView) showStep(id, tick string) bool {
	var all []*tickView
	for _, stage := range v.Stages {
		for _, step := range stage.Steps {
			all = append(all, step.Ticks...)
			if step.ID == id {
				v.Step, v.Stage = step, stage.ID
			}
		}
	}
	if v.Step == nil {
		return false
	}
	v.Tick = v.Step.pick(tick)
	v.Step.Shown, v.Tick.Shown = true, true
	v.Looking = !v.atWork(v.Tick)
	q := v.Work.Quilt()
	q.LeftHand = v.Left
	for _, t := range v.Step.Ticks {
		t.Drawing = template.HTML(q.Draw(t.Scene))
	}
	for i, t := range all {
		if t == v.Tick && i > 0 {
			v.Back = v.address(all[i-1])
		}
		if t == v.Tick && i+1 < len(all) {
			v.Ahead = v.address(all[i+1])
		}
	}
	return true
}

func (s *stepView) pick(tick string) *tickView {
	// The first of the best: that can be done, that is put off, that is open.
	rank := func(t *tickView) int {
		switch {
		case t.State == "open" && t.Later == "":
			return 3
		case t.State == "open":
			return 2
		case t.State == "locked":
			return 1
		}
		return 0
	}
	best, most := s.Ticks[len(s.Ticks)-1], 0
	for _, t := range s.Ticks {
		if t.ID == tick {
			return t
		}
		if n := rank(t); n > most {
			best, most = t, n
		}
	}
	return best
}

func (v *sessionView) address(t *tickView) string {
	return stepPath(v.ID, t.Step.ID) + "?tick=" + t.ID
}

// stepPath is the address of a step of a session.
func stepPath(id, step string) string { return "/s/" + id + "/step/" + step }

// oldStepPage leads on from where steps were, beside the session's other pages, to
// where they are: saved addresses and kept pages still name the old addresses.
func (s *Server) oldStepPage(w http.ResponseWriter, r *http.Request) {
	id, step := chi.URLParam(r, "id"), chi.URLParam(r, "step")
	snap, err := s.Store.Get(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	if _, known := snap.Work.Step(step); known == nil {
		s.unknownPath(w, r)
		return
	}
	to := stepPath(id, step)
	if r.URL.RawQuery != "" {
		to += "?" + r.URL.RawQuery
	}
	w.Header().Set("Cache-Control", "no-store") // as all that is a session's
	http.Redirect(w, r, to, http.StatusMovedPermanently)
}

// drawings is every drawing of the session, each with the ticks that it belongs
// to: too many for the page itself, which a slow tablet should show at once. With stage it is
// those of one, with but those of all others than some, parted by commas.
func (s *Server) drawings(w http.ResponseWriter, r *http.Request) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	type picture struct {
		Ticks   []string
		Drawing template.HTML
	}
	var all []*picture
	seen := map[draw.Scene]*picture{}
	q := snap.Work.Quilt()
	q.LeftHand = leftHand(r)
	query := r.URL.Query()
	only, but := query.Get("stage"), strings.Split(query.Get("but"), ",")
	wanted := func(stage string) bool {
		return (only == "" || only == stage) && !slices.Contains(but, stage)
	}
	for _, stage := range snap.Work.Stages {
		if !wanted(stage.ID) {
			continue
		}
		for _, step := range stage.Steps {
			for _, t := range step.Ticks {
				p := seen[t.Scene]
				if p == nil {
					p = &picture{Drawing: template.HTML(q.Draw(t.Scene))}
					seen[t.Scene], all = p, append(all, p)
				}
				p.Ticks = append(p.Ticks, t.ID)
			}
		}
	}
	if wanted(steps.LastStage) {
		all = append(all, &picture{Ticks: []string{"end"}, Drawing: template.HTML(q.Draw(draw.Scene{Kind: draw.PlanScene}))})
	}
	s.show(w, r, http.StatusOK, "drawings", all)
}
