package steps

import (
	"fmt"
	"slices"
	"strings"
)

// A Changed is a number that is another than the person last saw: when the tick was
// done, when the session began, or when they said that they had seen it.
type Changed struct {
	Was string `json:"was"` // as shown then
	Now string `json:"now"`
	Why string `json:"why"`
	// Done: the tick was done at what it was. It stays done; fabric is as it is.
	Done bool `json:"done"`
}

// A view is what a person last saw of a tick's numbers, and what they rested on.
type view struct {
	numbers []Number
	of      *basis
	earlier bool // as an earlier edition reckoned them
}

// Shown is the number as it stands on the screen: "1 1/2 in × 51 3/8 in".
func (n Number) Shown() string {
	if n.Text != "" {
		return n.Text
	}
	words := make([]string, len(n.Figures))
	for i, f := range n.Figures {
		words[i] = f.Shown()
	}
	return strings.Join(words, " × ")
}

// since marks the numbers that are others than were seen.
func (t *Tick) since(seen view, on *basis) {
	t.seen = seen
	var numbers []Number
	for i, n := range t.Numbers {
		k := slices.IndexFunc(seen.numbers, func(was Number) bool { return was.Name == n.Name })
		if k < 0 || seen.numbers[k].Shown() == n.Shown() {
			continue
		}
		if numbers == nil {
			numbers = slices.Clone(t.Numbers)
		}
		numbers[i].Changed = &Changed{Was: seen.numbers[k].Shown(), Now: n.Shown(), Why: on.reason(seen), Done: t.Done}
	}
	if numbers != nil {
		t.Numbers = numbers
	}
}

// seeUnder is see, by an op of an edition. What later editions reckon otherwise it has not
// seen.
func (t *Tick) seeUnder(edition int, on *basis) bool {
	if !t.seen.earlier || t.reckonedSince(edition) {
		return t.see(on)
	}
	opened := t.Opened != ""
	t.Opened = ""
	return opened
}

// see takes the numbers as seen; false: there was nothing new.
func (t *Tick) see(on *basis) bool {
	news := t.Opened != "" || slices.ContainsFunc(t.Numbers, Number.isNew)
	t.Numbers = t.unchanged()
	t.Opened, t.seen = "", view{numbers: t.Numbers, of: on}
	return news
}

// unchanged are the tick's numbers without what has changed since they were seen.
func (t *Tick) unchanged() []Number {
	if !slices.ContainsFunc(t.Numbers, Number.isNew) {
		return t.Numbers
	}
	numbers := slices.Clone(t.Numbers)
	for i := range numbers {
		numbers[i].Changed = nil
	}
	return numbers
}

func (n Number) isNew() bool { return n.Changed != nil }

// seenBy takes the numbers of a step, of a tick, or of all as seen. It is no deed that
// undo would take back.
func (w *Work) seenBy(op Op) *Work {
	next := w
	inStep, ticks := renamed(op.Step, stepsOf), w.built.today([]string{op.Tick})
	for i := range w.Stages {
		for j := range w.Stages[i].Steps {
			if inStep != "" && inStep != w.Stages[i].Steps[j].ID {
				continue
			}
			for k, t := range w.Stages[i].Steps[j].Ticks {
				if op.Tick != "" && !slices.Contains(ticks, t.ID) || !t.seeUnder(w.edition, w.built.basis) {
					continue
				}
				var step *Step
				next, step = next.clone(position{i, j, k})
				step.Ticks[k] = t
			}
		}
	}
	if op.Step == "" && op.Tick == "" && len(next.Gone) > 0 {
		c := *next
		c.Gone, next = w.unseen(), &c
	}
	return next
}

// unseen are the fates that an op of the work's edition can't have seen: of ops that only
// the program of today can't do.
func (w *Work) unseen() []Fate {
	if w.edition == Edition() {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(w.Gone), func(f Fate) bool { return f.Tick != "" })
}

// isAt tells whether a number, as it was shown, is the one that the tick has.
func (t *Tick) isAt(number string) bool { return plain(number) == plain(t.Number) }

func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

// stale refuses a tick that was done to a number which is another by now.
func (t *Tick) stale(number string) error {
	if number == "" || t.isAt(number) {
		return nil
	}
	is := t.Number
	if is == "" {
		is = "no number at all"
	}
	return &Refusal{Code: NumberChanged, Field: "number", Message: fmt.Sprintf(
		"You were shown %.60s; it is %s now. Look at it again, then tick.", plain(number), is)}
}
