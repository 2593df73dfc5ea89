package steps

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"cornerwise/calc"
)

// A mend is a way out that was taken: a step of its own in the procedure, and what it
// makes of strips that are cut. It is never changed.
type mend struct {
	n             int
	title         string
	acts          []act
	before, after string   // the step that it comes before, or after
	needs         []string // of its first tick
	blocks        []string // ticks that come after its last one
	of            names
	strips        map[string]calc.CutStrip // what they are once mended, by border and edge: "1.left"
}

// mend takes a way out: it opens what is to be done again, changes the plan where the
// way does, and puts the way's acts into the work as a step.
func (w *Work) mend(op Op) (*Work, string, error) {
	title, about, a, err := w.wrong(op)
	if err != nil {
		return nil, "", err
	}
	i := slices.IndexFunc(a.Ways, func(way calc.WayOut) bool { return way.ID == op.Way })
	if i < 0 {
		return nil, "", &Refusal{Code: BadOp, Field: "way", Message: fmt.Sprintf("%.40q is no way out here. There %s.", op.Way, ways(a.Ways))}
	}
	way := a.Ways[i]
	if w.edition == 1 && way.First != nil {
		way = w.asFirst(way, about.names())
	}
	m, err := w.newMend(way, title, about)
	if err != nil {
		return nil, "", err
	}
	next := w
	for _, id := range way.Redo {
		next, _ = next.redo(Op{Tick: id})
	}
	next = next.unmeasured(m)
	from, stands := next.given(), stand(always)
	from.mends = append(slices.Clone(w.mends), m)
	if way.Change != nil {
		if from.source, err = changeIn(w.Source, *way.Change); err != nil {
			return nil, "", err
		}
		if from.plan, err = calc.ParsePlan(from.source); err != nil {
			return nil, "", badPlan(err)
		}
	}
	q, err := newQuilt(from)
	if err != nil {
		return nil, "", err
	}
	fresh := next.anew(q)
	if way.Change != nil {
		if stands = next.standing(fresh); w.edition > 1 {
			stands = next.joinedStays(stands)
		}
	}
	next, _ = next.onto(fresh, stands)
	if next.Here = next.next(position{}); len(m.acts) > 0 {
		next.Here = m.id()
	} else if len(way.Redo) > 0 {
		// A strip that was joined may be cut in one by now.
		if step, _ := next.Tick(way.Redo[0]); step != nil {
			next.Here = step.ID
		}
	}
	return next, fmt.Sprintf("To mend: %s, %s", lower(title), lower(strings.TrimSuffix(way.Title, "."))), nil
}

// joinedStays lets the joins of strips stay whose parts are cut: a joined strip is cut
// narrower as it is.
func (w *Work) joinedStays(stands stand) stand {
	return func(was, is *Tick) string {
		if strings.HasPrefix(is.ID, "join.") && w.done(is.of.fill("join.{border}.{edge}.cut")) {
			return ""
		}
		return stands(was, is)
	}
}

// wrong is what an op is about: a finding of this session, else a trouble.
func (w *Work) wrong(op Op) (string, About, calc.Answer, error) {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, f := range step.Findings {
				if f.Of == op.Wrong {
					return f.Title, f.About, f.Answer, nil
				}
			}
		}
	}
	about := About{op.Border, op.Edge, op.Edges, op.Corner}
	// In the first edition no end was asked for, and a corner named with an edge was where
	// the person stood. An op that names none still does what it did.
	anyEnd := op.Wrong == "past-dot" && (op.Corner == 0 || w.edition == 1)
	a, err := w.answer(op.Wrong, Asked{about, op.Values}, anyEnd)
	if err != nil {
		return "", about, a, err
	}
	if a.Kind == "ask" {
		return "", about, a, &Refusal{Code: BadOp, Field: "values", Message: fmt.Sprintf("Before anything is mended it must be measured: %s.", strings.Join(a.Missing, ", "))}
	}
	return w.place(about), about, a, nil
}

func ways(all []calc.WayOut) string {
	var ids []string
	for _, way := range all {
		ids = append(ids, way.ID)
	}
	switch len(ids) {
	case 0:
		return "is none that needs steps"
	case 1:
		return "is " + ids[0]
	}
	return "are " + strings.Join(ids, ", ")
}

// nextMend is the number of the next way out that is taken.
func (w *Work) nextMend() int {
	n := 1
	for _, was := range w.mends {
		n = was.n + 1
	}
	return n
}

// newMend works out where the acts of a way belong.
func (w *Work) newMend(way calc.WayOut, title string, about About) (*mend, error) {
	m := &mend{n: w.nextMend(), title: "Mend: " + lower(title), of: about.names(), strips: map[string]calc.CutStrip{}}
	if way.Change != nil {
		about.Border = way.Change.Border
	}
	border := fmt.Sprint(about.Border)
	blockStrip := func(n names) {
		m.needs = append(m.needs, n.fill("cut.{border}.{edge}.cut"))
		m.blocks = append(m.blocks, n.fill("mark.{edge}.middle"), n.fill("band.{border}.{edge}.pinned"), fmt.Sprintf("band.%d.%s.pinned", about.Border-1, n["edge"]))
	}
	switch way.Kind {
	case "joined", "new-strip":
		if about.Border == 0 || about.Edge == "" {
			return nil, &Refusal{Code: BadOp, Field: "edge", Message: "Say which strip it is: its border, and its edge."}
		}
		if way.Kind == "new-strip" { // the ticks that cut it stand in the procedure already
			way.Acts = loosening(way.Acts)
			return w.takenOff(m, way), nil
		}
		n := m.of
		m.after = n.fill("cut-{border}-{edges}")
		blockStrip(n)
		for _, f := range way.Figures {
			if f.Name == "whole" {
				m.strips[n.fill("{border}.{edge}")] = calc.CutStrip{Length: f.Figure.Length}
			}
		}
	case "narrower", "trim-all":
		m.of = m.of.with(names{"border": border})
		m.after = "cut-" + border + "-" + string(calc.TopBottom)
		for _, e := range way.Change.Edges {
			for _, n := range edgesOf(e) {
				n["border"] = border
				blockStrip(n)
				m.strips[n.fill("{border}.{edge}")] = calc.CutStrip{Width: way.Change.Cut.Length}
			}
		}
	default:
		if len(way.Redo) == 0 {
			return nil, &Refusal{Code: BadOp, Field: "way", Message: "That way needs no steps of its own. Go on as it says."}
		}
		m.blocks = way.Redo
		first := position{len(w.Stages), 0, 0}
		for _, id := range way.Redo {
			if at := w.index.ticks[id]; at.stage < first.stage || at.stage == first.stage && at.step < first.step {
				first = at
			}
		}
		m.before = w.Stages[first.stage].Steps[first.step].ID
		if about.hasEnd() && about.Border == 0 && w.edition > 1 { // at one end of a seam: before that is looked at
			m.before = m.of.fill("sew-{edge}")
			if checked := m.of.fill("sew.{edge}.checked"); !w.done(checked) {
				m.blocks = append(slices.Clone(m.blocks), checked)
			}
		}
	}
	m.acts = actsOf(way)
	if w.edition == 1 && way.First != nil {
		m.acts = fewer(m.acts, way.First.Deeds)
	}
	if len(m.strips) > 0 {
		m.acts = append(m.acts, act{verb: "Measure", say: "Measure what you mended once more, before it is marked.", why: "What is marked and sewn next relies on it."})
	}
	return m, nil
}

// loosening are the acts by which an old strip comes off.
func loosening(acts []string) []string {
	return slices.DeleteFunc(slices.Clone(acts), func(a string) bool { return !strings.HasPrefix(a, "Unpick") && !strings.HasPrefix(a, "Press") })
}

// takenOff is a mend that takes the old strip off before the first tick that cuts the new one.
func (w *Work) takenOff(m *mend, way calc.WayOut) *mend {
	if w.edition > 1 && len(way.Acts) > 0 && len(way.Redo) > 0 {
		step, _ := w.stepOf(way.Redo[0])
		m.before, m.blocks, m.acts = step, way.Redo[:1], actsOf(way)
	}
	return m
}

// stepOf is the id of the step that a tick stands in.
func (w *Work) stepOf(tick string) (string, bool) {
	at, ok := w.index.ticks[tick]
	if !ok {
		return "", false
	}
	return w.Stages[at.stage].Steps[at.step].ID, true
}

// asFirst is a way out that opens what it opened in the first edition.
func (w *Work) asFirst(way calc.WayOut, n names) calc.WayOut {
	if way.First.Change != nil {
		way.Change = way.First.Change
	}
	if way.First.Redo == nil {
		return way
	}
	then := way
	then.Redo = way.First.Redo
	way.Redo = w.redoIn(calc.Answer{Ways: []calc.WayOut{then}}, n).Ways[0].Redo
	return way
}

// fewer are so many acts: those beyond are told with the last. A mend keeps as many ticks
// as it was begun with.
func fewer(acts []act, n int) []act {
	if n < 1 || n >= len(acts) {
		return acts
	}
	for _, a := range acts[n:] {
		acts[n-1].why += " " + a.say
	}
	return acts[:n:n]
}

// unmeasured is the Work without the measures of strips that a mend makes others.
func (w *Work) unmeasured(m *mend) *Work {
	next := w
	for strip, is := range m.strips {
		border, edge, _ := strings.Cut(strip, ".")
		id := "cut-" + border + "-" + edge + "-length"
		if is.Width.Sign() > 0 {
			id = "cut-" + border + "-" + edge + "-width"
		}
		if at, ok := next.index.meas[id]; ok {
			var step *Step
			next, step = next.clone(at)
			step.Measures[at.at].enter("", w.limits())
		}
	}
	return next
}

// mended is what mends made of a strip that is cut; what was measured since goes before.
func (q *quilt) mended(c *cutStrip) {
	for i := len(q.mends) - 1; i >= 0; i-- {
		m := q.mends[i]
		is, ok := m.strips[c.fill("{border}.{edge}")]
		if ok && is.Width.Sign() > 0 && c.width.Sign() == 0 {
			c.width = is.Width
		}
		if ok && is.Length.Sign() > 0 && c.length.Sign() == 0 {
			c.length = is.Length
		}
	}
}

// changeIn is a plan in JSON with a border's new cut width.
func changeIn(source json.RawMessage, c calc.Change) (json.RawMessage, error) {
	var plan map[string]json.RawMessage
	var borders []map[string]json.RawMessage
	if err := json.Unmarshal(source, &plan); err != nil {
		return nil, fmt.Errorf("read the plan: %w", err)
	}
	if err := json.Unmarshal(plan["borders"], &borders); err != nil {
		return nil, fmt.Errorf("read the plan's borders: %w", err)
	}
	b := borders[c.Border-1]
	if b["cutTopBottom"] == nil {
		b["cutTopBottom"] = b["cut"]
	}
	cut, err := json.Marshal(c.Cut.Value() + " " + string(c.Cut.Unit))
	if err != nil {
		return nil, err
	}
	for _, e := range c.Edges {
		if e == calc.TopBottom {
			b["cutTopBottom"] = cut
		} else {
			b["cut"] = cut
		}
	}
	if string(b["cut"]) == string(b["cutTopBottom"]) {
		delete(b, "cutTopBottom")
	}
	if plan["borders"], err = json.Marshal(borders); err != nil {
		return nil, err
	}
	return json.Marshal(plan)
}
