package steps

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// What is told of an op whose step or measure the work does not have any more.
const (
	noPartStep    = "a step that is no part of the work any more"
	noPartMeasure = "A measure that is no part of the work any more"
)

// Tell is an op that was taken once, in words as today's tables have them, and the number that
// it was done to or that was measured; "" where it has none. What changed nothing in fabric or
// on paper (here, seen, undo) is not told: its text is "".
func (w *Work) Tell(e Entry) (text, number string) {
	switch e.Kind {
	case KindTick:
		text, number = w.tellTick(e)
	case KindMeasure:
		text, number = w.tellMeasure(e)
	case KindNote:
		text = w.tellNote(e)
	case KindLater:
		if text = "Put off: "; strings.TrimSpace(e.Why) == "" {
			text = "Taken up again: "
		}
		text += w.actOf(e.Tick)
	case KindRedo:
		text = "To do again: " + w.actOf(e.Tick)
	case KindPlan:
		if text = "Plan changed"; e.Rev == 1 {
			text = "Begun"
		}
	case KindMend:
		text = "To mend: " + w.place(About{e.Border, e.Edge, e.Edges, e.Corner})
	default:
		return "", ""
	}
	if w.Last != nil && w.Last.Op.ID == e.ID {
		text = cmp.Or(w.Last.Text, text)
		if e.Kind == KindMeasure && number != "" {
			text = strings.TrimSuffix(text, ": "+strings.TrimSpace(e.Value))
		}
	}
	return text, number
}

func (w *Work) tellTick(e Entry) (text, number string) {
	ids := e.Ticks
	if len(ids) == 0 {
		ids = []string{e.Tick}
	}
	var known []string
	numbers := map[string]bool{}
	for _, id := range ids {
		if _, t := w.Tick(id); t != nil {
			known = append(known, id)
		}
		if n := cmp.Or(e.Numbers[id], e.Number); n != "" {
			numbers[n] = true
			number = n
		}
	}
	switch done := e.Done != nil && *e.Done; {
	case len(known) == 0:
		text, _ = w.standIn(ids[0])
	case !done:
		text = "Open again: " + w.actOf(known[0]) + more(len(known)-1)
	case len(known) == 1:
		step, t := w.Tick(known[0])
		text = step.at(t.Label)
	default:
		text = w.labelOf(known)
	}
	if _, err := strconv.Atoi(number); err == nil || len(numbers) > 1 {
		number = "" // a count, which says nothing alone; or several ticks, each to its own
	}
	return text, number
}

// standIn is what stands for a tick that is gone: its label, and its act as it goes on within
// a sentence.
func (w *Work) standIn(id string) (label, act string) {
	for _, s := range w.built.standIns(id) {
		for _, is := range s.is {
			if step, t := w.Tick(is); t != nil {
				return step.at(t.Label), step.at(t.Lower())
			}
		}
	}
	return noPart, lower(noPart)
}

func (w *Work) actOf(tick string) string {
	step, t := w.Tick(tick)
	if t == nil {
		_, act := w.standIn(tick)
		return act
	}
	return step.at(t.Lower())
}

func (w *Work) tellMeasure(e Entry) (text, number string) {
	id, value := renamed(e.Measure, measuresOf), strings.TrimSpace(e.Value)
	at, ok := w.index.meas[id]
	if !ok {
		return noPartMeasure, value
	}
	m := w.Stages[at.stage].Steps[at.step].Measures[at.at]
	if value == "" || m.Options != nil {
		return w.label(id) + ": " + m.word(value), ""
	}
	if letters := []rune(value); unicode.IsNumber(letters[len(letters)-1]) {
		value += " " + string(w.Plan.Unit)
	}
	return w.label(id), value
}

func (w *Work) tellNote(e Entry) string {
	title := noPartStep
	if _, step := w.Step(renamed(e.Step, stepsOf)); step != nil {
		title = lower(step.Title)
	}
	if strings.TrimSpace(e.Text) == "" {
		return "Note taken away: " + title
	}
	return "Noted: " + title
}

// place is where something is to be mended.
func (w *Work) place(about About) string {
	n := about.names()
	switch {
	case about.hasEnd() && about.Border == 0:
		return n.fill("{edge} edge, corner {corner}")
	case about.Corner > 0:
		return n.fill("corner {corner}")
	case about.Border > 0 && about.Border <= len(w.Plan.Borders) && about.Edge != "":
		return fmt.Sprintf("%s, %s", w.Plan.Borders[about.Border-1].Name, about.Edge)
	case about.Edge != "":
		return n.fill("{edge} edge")
	}
	return "the work"
}

// Act is the act that comes next, and its step: of the step where work goes on, and where that
// is done, of the next, the first tick that can be done, else the first that is put off, else
// the first that is open. Both are nil once all is done.
func (w *Work) Act() (*Step, *Tick) {
	if done, total := w.Progress(); done == total {
		return nil, nil
	}
	_, step := w.Step(w.Here)
	t := w.firstOf(step)
	if t == nil {
		_, step = w.Step(w.next(w.index.steps[w.Here]))
		t = w.firstOf(step)
	}
	if t == nil {
		return nil, nil
	}
	return step, t
}

// firstOf is the tick of a step that is done first; nil where none is open.
func (w *Work) firstOf(step *Step) *Tick {
	var best *Tick
	most := 0
	for i := range step.Ticks {
		t, rank := &step.Ticks[i], 3
		switch {
		case t.Done:
			rank = 0
		case len(w.missing(t)) > 0:
			rank = 1
		case t.Later != "":
			rank = 2
		}
		if rank > most {
			best, most = t, rank
		}
	}
	return best
}

// At is the tick's title with where it is: "Draw the line, corner 2".
func (s *Step) At(t *Tick) string { return s.at(t.Title) }
