package steps

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// take is the work after an op, and the op in words. It asks nothing: an error is that it
// can't be done at all, with this plan.
func (w *Work) take(op Op) (*Work, string, error) {
	switch op.Kind {
	case KindTick:
		next, text := w.ticks(op)
		return next, text, nil
	case KindMeasure:
		next, text, err := w.measure(op)
		if err != nil || len(op.Ticks) == 0 {
			return next, text, err
		}
		next, done := next.ticks(op)
		return next, cmp.Or(text, done), nil
	case KindHere:
		return w.here(op), "", nil
	case KindNote:
		next, text := w.note(op)
		return next, text, nil
	case KindLater:
		next, text := w.later(op)
		return next, text, nil
	case KindRedo:
		next, text := w.redo(op)
		return next, text, nil
	case KindPlan:
		return w.replan(op)
	case KindSeen:
		return w.seenBy(op), "", nil
	case KindMend:
		return w.mend(op)
	case KindUndo:
		if w.Last == nil || w.Last.Op.ID != op.Of {
			return w, "", nil
		}
		return w.Last.before, "", nil
	}
	return w, "", nil
}

// ticks does the op's tick, or its ticks one after another.
func (w *Work) ticks(op Op) (*Work, string) {
	if len(op.Ticks) == 0 {
		return w.tick(op)
	}
	next, text, did := w, "", []string(nil)
	for _, id := range op.Ticks {
		if after, said := next.tick(op.one(id)); after != next {
			next, text, did = after, said, append(did, id)
		}
	}
	switch _, first := w.Tick(op.Ticks[0]); {
	case len(did) == 0:
		return w, ""
	case first == nil || len(did) == 1:
	case *op.Done:
		text = w.labelOf(did)
	default:
		text += more(len(did) - 1)
	}
	return next, text
}

func (w *Work) tick(op Op) (*Work, string) {
	step, t := w.Tick(op.Tick)
	if t == nil {
		return w.formerTick(op.Tick, *op.Done, op.Number)
	}
	if *op.Done && w.edition == 1 && slices.Contains(settling, op.Tick) {
		w = w.resettled(true)
	}
	next := w.setTo(op.Tick, *op.Done, op.Number)
	if next == w {
		return w, ""
	}
	if *op.Done {
		if despite := w.despite(t, op.Why); despite != "" {
			_, done := next.Tick(op.Tick) // next has a step of its own
			done.Despite = despite
		}
		next.Here = next.next(w.index.ticks[op.Tick])
		return next, step.at(t.Label)
	}
	next.Here = step.ID
	return next, "Open again: " + step.at(lower(t.Title))
}

// at adds where it was to what was done, if that does not say it.
func (s *Step) at(what string) string {
	if s.Where == "" {
		return what
	}
	return what + ", " + s.Where
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

func lower(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

func (w *Work) here(op Op) *Work {
	id := renamed(op.Step, stepsOf)
	if _, step := w.Step(id); step == nil || w.Here == id {
		return w
	}
	c := *w
	c.Here = id
	return &c
}

func (w *Work) note(op Op) (*Work, string) {
	id := renamed(op.Step, stepsOf)
	_, step := w.Step(id)
	text := strings.TrimSpace(op.Text)
	if step == nil || step.Note == text {
		return w, ""
	}
	next, step := w.clone(w.index.steps[id])
	step.Note = text
	if text == "" {
		return next, "Note taken away: " + lower(step.Title)
	}
	return next, "Noted: " + lower(step.Title)
}

// redo opens a tick and every tick that needs it, to the last.
func (w *Work) redo(op Op) (*Work, string) {
	_, t := w.Tick(op.Tick)
	if t == nil {
		return w.formerRedo(op.Tick)
	}
	return w.redoAll([]string{op.Tick})
}

// redoAll opens ticks and every tick that needs them, by the needs of the edition that
// the work is under. The text is of the first of them.
func (w *Work) redoAll(ids []string) (*Work, string) {
	users := w.usersIn(w.edition)
	next, queue := w, slices.Clone(ids)
	for len(queue) > 0 {
		id := queue[0]
		queue = queue[1:]
		for _, user := range users[id] {
			if next.done(user) {
				queue = append(queue, user)
			}
		}
		next = next.set(id, false)
	}
	if next == w {
		return w, ""
	}
	for _, id := range ids {
		next = next.retake(id, users)
	}
	step, t := w.Tick(ids[0])
	next.Here = step.ID
	return next, fmt.Sprintf("To do again: %s", step.at(lower(t.Title)))
}
