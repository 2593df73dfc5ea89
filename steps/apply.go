package steps

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// What an op may hold, in characters.
const (
	maxOpID = 100
	maxText = 1000
	// how many values an op for mend may hold
	maxValues = 20
)

// Apply is the work after an op taken at a time, and what it made new. The error
// is a *Refusal, and the work is as before.
func (w *Work) Apply(op Op, at time.Time) (*Work, Change, error) {
	if err := op.check(); err != nil {
		return nil, Change{}, err
	}
	next, text, err := w.apply(op)
	if err != nil {
		return nil, Change{}, err
	}
	if next != w && w.finds(op) {
		next = next.find()
	}
	switch {
	case op.Kind == KindUndo:
		// As it was, and nothing to take back.
	case op.Kind != KindHere && op.Kind != KindSeen && next != w:
		before := *w
		before.Last = nil
		c := *next
		c.Last = &Done{Op: op, At: at, Text: text, before: &before}
		next = &c
	}
	return next, changed(w, next), nil
}

// finds tells whether something may be found out from an op.
func (w *Work) finds(op Op) bool {
	switch op.Kind {
	case KindMeasure, KindPlan, KindRedo, KindMend:
		return true
	case KindTick:
		_, t := w.Tick(op.Tick)
		return t.Cuts
	}
	return false
}

// check refuses what no session could take.
func (op Op) check() error {
	if op.ID == "" || utf8.RuneCountInString(op.ID) > maxOpID || !printable(op.ID) {
		return &Refusal{Code: BadOp, Field: "op", Message: fmt.Sprintf("The op needs an id of 1 to %d plain characters, a new one for every op.", maxOpID)}
	}
	if len(op.Values) > maxValues {
		return &Refusal{Code: BadOp, Field: "values", Message: fmt.Sprintf("That is %d values; at most %d are looked at. Send those that are asked for.", len(op.Values), maxValues)}
	}
	for _, t := range []struct{ field, text string }{{"text", op.Text}, {"why", op.Why}, {"number", op.Number}} {
		if n := utf8.RuneCountInString(t.text); n > maxText {
			return &Refusal{Code: BadOp, Field: t.field, Message: fmt.Sprintf("That is %d characters; at most %d are kept. Make it shorter.", n, maxText)}
		}
		if !printable(strings.NewReplacer("\n", " ", "\t", " ", "\r", " ").Replace(t.text)) {
			return &Refusal{Code: BadOp, Field: t.field, Message: "That has a character that can't be shown. Write it in plain letters."}
		}
	}
	return nil
}

func printable(s string) bool {
	for _, c := range s {
		if c < ' ' || c == 0x7f || c == utf8.RuneError {
			return false
		}
	}
	return true
}

func (w *Work) apply(op Op) (*Work, string, error) {
	switch op.Kind {
	case KindTick:
		return w.tick(op)
	case KindMeasure:
		return w.measure(op)
	case KindHere:
		return w.here(op)
	case KindNote:
		return w.note(op)
	case KindRedo:
		return w.redo(op)
	case KindPlan:
		return w.replan(op)
	case KindSeen:
		next, err := w.seenBy(op)
		return next, "", err
	case KindMend:
		return w.mend(op)
	case KindUndo:
		return w.undo(op)
	}
	return nil, "", &Refusal{Code: BadOp, Field: "kind", Message: fmt.Sprintf("%.40q is no kind of op. Use tick, measure, here, note, redo, plan, seen, mend or undo.", op.Kind)}
}

func (w *Work) tick(op Op) (*Work, string, error) {
	step, t := w.Tick(op.Tick)
	if t == nil {
		return nil, "", unknown(UnknownTick, "tick", op.Tick)
	}
	if op.Done == nil {
		return nil, "", &Refusal{Code: BadOp, Field: "done", Message: "A tick is done or open: send done as true or false."}
	}
	if *op.Done {
		if open := w.missing(t); len(open) > 0 {
			return nil, "", &Refusal{Code: NotYet, Field: "tick", Missing: open,
				Message: fmt.Sprintf("Not yet: first %s.", w.titles(open))}
		}
		if err := t.stale(op.Number); !t.Done && err != nil {
			return nil, "", err
		}
		if err := w.gate(t, op.Why); !t.Done && err != nil {
			return nil, "", err
		}
	} else if users := w.users(t.ID); len(users) > 0 {
		return nil, "", &Refusal{Code: InUse, Field: "tick", Missing: users,
			Message: fmt.Sprintf("Work that needs this is done: %s. If it was undone in cloth, say so with redo.", w.titles(users))}
	}
	next := w.set(op.Tick, *op.Done)
	if next == w {
		return w, "", nil
	}
	if *op.Done {
		if despite := w.despite(t, op.Why); despite != "" {
			_, done := next.Tick(op.Tick) // next has a step of its own
			done.Despite = despite
		}
		next.Here = next.next(w.index.ticks[op.Tick])
		return next, step.at(t.Label), nil
	}
	next.Here = step.ID
	return next, "Open again: " + step.at(lower(t.Title)), nil
}

// at adds where it was to what was done, if that does not say it.
func (s *Step) at(what string) string {
	if s.where == "" {
		return what
	}
	return what + ", " + s.where
}

// users are the done ticks that need this one.
func (w *Work) users(id string) []string {
	var done []string
	for _, user := range w.index.users[id] {
		if w.done(user) {
			done = append(done, user)
		}
	}
	return done
}

// titles names ticks in words: the first few, and how many more.
func (w *Work) titles(ids []string) string {
	const most = 3
	var words []string
	for _, id := range ids {
		if step, t := w.Tick(id); t != nil && len(words) < most {
			words = append(words, fmt.Sprintf("%s (%s)", lower(t.Title), step.Title))
		}
	}
	out := strings.Join(words, "; ")
	if n := len(ids) - len(words); n > 0 {
		out += fmt.Sprintf("; and %d more", n)
	}
	return out
}

func lower(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

func (w *Work) here(op Op) (*Work, string, error) {
	if _, step := w.Step(op.Step); step == nil {
		return nil, "", unknown(UnknownStep, "step", op.Step)
	}
	if w.Here == op.Step {
		return w, "", nil
	}
	c := *w
	c.Here = op.Step
	return &c, "", nil
}

// unknown refuses an id that this session does not have; what is tick, step or measure.
func unknown(code, what, id string) *Refusal {
	return &Refusal{Code: code, Field: what, Message: fmt.Sprintf("This session has no %s %.60q. Load the session anew to see its %ss.", what, id, what)}
}

func (w *Work) note(op Op) (*Work, string, error) {
	_, step := w.Step(op.Step)
	if step == nil {
		return nil, "", unknown(UnknownStep, "step", op.Step)
	}
	text := strings.TrimSpace(op.Text)
	if step.Note == text {
		return w, "", nil
	}
	next, step := w.clone(w.index.steps[op.Step])
	step.Note = text
	if text == "" {
		return next, "Note taken away: " + lower(step.Title), nil
	}
	return next, "Noted: " + lower(step.Title), nil
}

// redo opens a tick and every tick that needs it, to the last.
func (w *Work) redo(op Op) (*Work, string, error) {
	step, t := w.Tick(op.Tick)
	if t == nil {
		return nil, "", unknown(UnknownTick, "tick", op.Tick)
	}
	next, queue := w, []string{op.Tick}
	for len(queue) > 0 {
		id := queue[0]
		queue = append(queue[1:], next.users(id)...)
		next = next.set(id, false)
	}
	if next == w {
		return w, "", nil
	}
	next = next.retake(op.Tick)
	next.Here = step.ID
	return next, "To do again: " + step.at(lower(t.Title)), nil
}

func (w *Work) undo(op Op) (*Work, string, error) {
	if w.Last == nil || w.Last.Op.ID != op.Of {
		return nil, "", &Refusal{Code: NotLast, Field: "of", Message: "Something else was done since, so that can't be taken back in one go. Open the tick itself instead."}
	}
	return w.Last.before, "", nil
}
