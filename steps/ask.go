package steps

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// What an op may hold, in characters.
const (
	maxOpID = 100
	maxText = 1000
	// how many values an op for mend may hold
	maxValues = 20
)

// Check refuses what no session could take, whatever it looks like and whenever it was.
func (op Op) Check() error {
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
	switch op.Kind {
	case KindTick:
		if op.Done == nil {
			return &Refusal{Code: BadOp, Field: "done", Message: "A tick is done or open: send done as true or false."}
		}
	case KindMeasure, KindHere, KindNote, KindRedo, KindPlan, KindSeen, KindMend, KindUndo:
	default:
		return &Refusal{Code: BadOp, Field: "kind", Message: fmt.Sprintf("%.40q is no kind of op. Use tick, measure, here, note, redo, plan, seen, mend or undo.", op.Kind)}
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

// ask refuses a new op that the work as it stands does not allow. Nothing of it is asked
// of an op that was taken once.
func (w *Work) ask(op Op) error {
	switch op.Kind {
	case KindTick:
		return w.askTick(op)
	case KindRedo:
		if _, t := w.Tick(op.Tick); t == nil {
			return unknown(UnknownTick, "tick", op.Tick)
		}
	case KindMeasure:
		return w.askMeasure(op)
	case KindHere, KindNote:
		return w.askStep(op.Step)
	case KindSeen:
		if op.Step != "" {
			if err := w.askStep(op.Step); err != nil {
				return err
			}
		}
		if _, t := w.Tick(op.Tick); op.Tick != "" && t == nil {
			return unknown(UnknownTick, "tick", op.Tick)
		}
	case KindUndo:
		if w.Last == nil || w.Last.Op.ID != op.Of {
			return &Refusal{Code: NotLast, Field: "of", Message: "Something else was done since, so that can't be taken back in one go. Open the tick itself instead."}
		}
	}
	return nil
}

func (w *Work) askStep(id string) error {
	if _, step := w.Step(id); step == nil {
		return unknown(UnknownStep, "step", id)
	}
	return nil
}

func (w *Work) askTick(op Op) error {
	_, t := w.Tick(op.Tick)
	if t == nil {
		return unknown(UnknownTick, "tick", op.Tick)
	}
	if !*op.Done {
		if users := w.users(t.ID); len(users) > 0 {
			return &Refusal{Code: InUse, Field: "tick", Missing: users,
				Message: fmt.Sprintf("Work that needs this is done: %s. If it was undone in fabric, say so with redo.", w.titles(users))}
		}
		return nil
	}
	if open := w.missing(t); len(open) > 0 && !t.Done {
		return &Refusal{Code: NotYet, Field: "tick", Missing: open,
			Message: fmt.Sprintf("Not yet: first %s.", w.titles(open))}
	}
	if t.Done {
		return nil
	}
	if err := t.stale(op.Number); err != nil {
		return err
	}
	return w.gate(t, op.Why)
}

// unknown refuses an id that this session does not have; what is tick, step or measure.
func unknown(code, what, id string) *Refusal {
	return &Refusal{Code: code, Field: what, Message: fmt.Sprintf("This session has no %s %.60q. Load the session anew to see its %ss.", what, id, what)}
}

// titles names ticks in words: the first few, and how many more.
func (w *Work) titles(ids []string) string {
	const maxNamed = 3
	var words []string
	for _, id := range ids {
		if step, t := w.Tick(id); t != nil && len(words) < maxNamed {
			words = append(words, fmt.Sprintf("%s (%s)", lower(t.Title), step.Title))
		}
	}
	out := strings.Join(words, "; ")
	if n := len(ids) - len(words); n > 0 {
		out += fmt.Sprintf("; and %d more", n)
	}
	return out
}
