package steps

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

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
		if len(op.Ticks) > 0 {
			return w.askTicks(op)
		}
		return w.askTick(op)
	case KindRedo:
		if _, t := w.Tick(op.Tick); t == nil {
			return unknown(UnknownTick, "tick", op.Tick)
		}
	case KindLater:
		return w.askLater(op)
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

// askTicks asks each of several ticks, with those before it done. Cuts and looks are each
// taken alone.
func (w *Work) askTicks(op Op) error {
	for i, id := range op.Ticks {
		_, t := w.Tick(id)
		switch {
		case t == nil:
			return unknown(UnknownTick, "ticks", id)
		case t.Cuts || t.look:
			return &Refusal{Code: BadOp, Field: "ticks", Message: fmt.Sprintf("A cut or a look is taken alone: %s. Send it as tick.", t.Lower())}
		case slices.Contains(op.Ticks[:i], id):
			return &Refusal{Code: BadOp, Field: "ticks", Message: fmt.Sprintf("The tick %.60q is there twice. Send each once.", id)}
		}
		one := op.one(id)
		if err := w.askTick(one); err != nil {
			return err
		}
		w, _ = w.tick(one)
	}
	return nil
}

// one is the op for one of its ticks alone.
func (op Op) one(id string) Op {
	return Op{ID: op.ID, Kind: KindTick, Tick: id, Done: op.Done, Number: op.Numbers[id]}
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
