package steps

import (
	"fmt"
	"strings"

	"cornerwise/calc"
)

// What is seen at a corner before its trim; miss goes with how far.
const (
	lookFlat   = "flat"
	lookPucker = "pucker"
	lookGap    = "gap"
	lookMiss   = "miss"
)

// looks are what may be seen at a corner of this quilt: on one plain border nothing can
// miss. An entry of before counts all the same.
func looks(q *quilt) []Option {
	o := []Option{{lookFlat, "Flat"}, {lookPucker, "Pucker"}, {lookGap, "Gap"}}
	if what := q.plan.Meet(); what != "" {
		o = append(o, Option{lookMiss, sentence(what) + " miss"})
	}
	return o
}

// look is what was entered at a corner before its trim: whether the trim may follow, and
// whether anything was entered at all. A miss alone says that the stripes miss.
func (w *Work) look(t readings, n names) (a calc.Answer, pass, looked bool) {
	seen, miss := t.values[n.fill("look-{corner}")], t.length(n.fill("miss-{corner}"))
	look := map[string]calc.Look{lookFlat: calc.LookFlat, lookPucker: calc.LookPucker, lookGap: calc.LookGap, lookMiss: calc.LookStripes}[seen]
	switch {
	case look == "" && miss.Sign() == 0:
		return a, true, false
	case look == "":
		look = calc.LookStripes
	case look == calc.LookStripes && miss.Sign() == 0:
		a = answer(calc.Verdict{Kind: "ask", Text: fmt.Sprintf("By how much do the %s miss?", w.built.plan.Meet()), Act: "Measure it along the strip, at the miter."})
		a.Missing = []string{n.fill("miss-{corner}")}
		return a, false, true
	}
	a, pass = calc.AnswerLook(w.built.plan, w.Sheet, look, n.number("corner"), miss, w.limits())
	return w.redoIn(a, n), pass, true
}

// gate refuses to trim a corner whose look is no pass, unless there is a reason. A corner
// where nothing was entered passed when its look was ticked.
func (w *Work) gate(t *Tick, why string) error {
	if !t.gate || strings.TrimSpace(why) != "" {
		return nil
	}
	a, pass, _ := w.look(w.readings(), t.of)
	if pass {
		return nil
	}
	return &Refusal{Code: LookFirst, Field: "why", Message: fmt.Sprintf(
		"Corner %s has not passed: %s Put it right first, or say why it is to be trimmed as it is.", t.of["corner"], a.Say[0])}
}

// despite is the reason, where one was needed.
func (w *Work) despite(t *Tick, why string) string {
	if !t.gate || w.gate(t, "") == nil {
		return ""
	}
	return strings.TrimSpace(why)
}

// retake takes away what was measured of work that is now done again, from this tick on.
// The center's own measures stay: numbers follow from them until they are measured anew.
func (w *Work) retake(tick string, users map[string][]string) *Work {
	again, queue := map[string]bool{}, []string{tick}
	for len(queue) > 0 {
		id := queue[0]
		queue = queue[1:]
		if !again[id] {
			again[id] = true
			queue = append(queue, users[id]...)
		}
	}
	next := w
	for id, at := range w.index.meas {
		m := w.Stages[at.stage].Steps[at.step].Measures[at.at]
		if m.Value != "" && again[m.Tick] && !follows(id) {
			var step *Step
			next, step = next.clone(at)
			step.Measures[at.at].enter("", w.limits())
		}
	}
	return next
}
