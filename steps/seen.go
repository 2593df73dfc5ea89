package steps

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"cornerwise/calc"
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

// A view is what a person last saw of a tick's numbers, and what they were reckoned for.
type view struct {
	numbers []Number
	of      *quilt
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
func (t *Tick) since(seen view, q *quilt) {
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
		numbers[i].Changed = &Changed{Was: seen.numbers[k].Shown(), Now: n.Shown(), Why: q.reason(seen), Done: t.Done}
	}
	if numbers != nil {
		t.Numbers = numbers
	}
}

// seeUnder is see, by an op of an edition. What later editions reckon otherwise it has not
// seen.
func (t *Tick) seeUnder(edition int, q *quilt) bool {
	if !t.seen.earlier || t.reckonedSince(edition) {
		return t.see(q)
	}
	opened := t.Opened != ""
	t.Opened = ""
	return opened
}

// see takes the numbers as seen; false: there was nothing new.
func (t *Tick) see(q *quilt) bool {
	isNew := func(n Number) bool { return n.Changed != nil }
	news := slices.ContainsFunc(t.Numbers, isNew)
	if news {
		t.Numbers = slices.Clone(t.Numbers)
		for i := range t.Numbers {
			t.Numbers[i].Changed = nil
		}
	}
	news = news || t.Opened != ""
	t.Opened, t.seen = "", view{numbers: t.Numbers, of: q}
	return news
}

// reason is why numbers are others than were seen.
func (q *quilt) reason(seen view) string {
	switch {
	case !seen.earlier:
		return q.why(seen.of)
	case q == seen.of:
		return otherwise
	}
	return otherwise + " " + q.why(seen.of)
}

// otherwise is why a number is another where neither plan nor measures changed.
const otherwise = "The program reckons it otherwise now."

// why is what made numbers others since they were reckoned for another quilt.
func (q *quilt) why(since *quilt) string {
	var why []string
	if !q.planned(since) {
		why = append(why, "The plan was changed.")
	}
	was, is := since.sheet.Center, q.sheet.Center
	if is.Width.Length.Equal(was.Width.Length) && is.Length.Length.Equal(was.Length.Length) { // coping made up for it
		was, is = since.sheet.Pieced, q.sheet.Pieced
	}
	if is.Width.Length.Cmp(was.Width.Length) != 0 || is.Length.Length.Cmp(was.Length.Length) != 0 {
		why = append(why, fmt.Sprintf("The center is %s × %s now, not %s × %s.", is.Width.Exactly(), is.Length.Exactly(), was.Width.Exactly(), was.Length.Exactly()))
		if how := q.settled.how(); how != since.settled.how() {
			why = append(why, how)
		}
	}
	if q.first != since.first {
		why = append(why, fmt.Sprintf("%s are sewn first now.", sentence(pairs[q.first].words)))
	}
	if len(why) == 0 {
		return "It was reckoned anew."
	}
	return strings.Join(why, " ")
}

// planned tells whether two quilts are of one plan, whatever was measured since.
func (q *quilt) planned(as *quilt) bool {
	bare := func(q *quilt) calc.Plan {
		p := q.plan
		p.Center, p.Pieced, p.Title = calc.Size{}, q.settled.planned, ""
		if c := p.Coping; c != nil && c.Reckoned { // what is reckoned follows from the measures
			p.Coping = &calc.Coping{Edges: c.Edges, Reckoned: true}
		}
		return p
	}
	return q == as || reflect.DeepEqual(bare(q), bare(as))
}

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
				if op.Tick != "" && !slices.Contains(ticks, t.ID) || !t.seeUnder(w.edition, w.built) {
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
