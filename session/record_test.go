package session_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
)

// record has TestRecord write the recordings of an edition: -record ../testdata/sessions/3
var record = flag.String("record", "", "the folder that the recordings of this edition go to")

// A recording is a session as the program of its edition kept it, and what that program
// showed at the end.
type recording struct {
	Story  string            `json:"story"`
	Export json.RawMessage   `json:"export"`
	Done   map[string]string `json:"done"`   // the done ticks, each with the number that it was done to
	Open   []string          `json:"open"`   // the open ticks
	Values map[string]string `json:"values"` // by measure
	Notes  map[string]string `json:"notes"`  // by step
	Here   string            `json:"here"`
	Source json.RawMessage   `json:"plan"` // as it is at the end
}

// A player does the ops of a story, one after another.
type player struct {
	t     testing.TB
	store *session.Store
	id    string
	n     int
	done  map[string]string
}

func (p *player) work() *steps.Work { return get(p.t, p.store, p.id).Work }

func (p *player) do(op steps.Op) {
	p.t.Helper()
	p.n++
	op.ID = fmt.Sprintf("op-%04d", p.n)
	do(p.t, p.store, p.id, op)
}

// tick does one tick. By every second cut it carries its number, as the pages send it.
func (p *player) tick(id string) {
	p.t.Helper()
	_, tick := p.work().Tick(id)
	if tick == nil {
		p.t.Fatalf("there is no tick %q", id)
	}
	op := steps.Op{Kind: steps.KindTick, Tick: id, Done: new(true)}
	if tick.Cuts && p.n%2 == 0 {
		op.Number = tick.Number
	}
	p.done[id] = tick.Number
	p.do(op)
}

// together does ticks by one op.
func (p *player) together(ids ...string) {
	p.t.Helper()
	for _, id := range ids {
		_, tick := p.work().Tick(id)
		p.done[id] = tick.Number
	}
	p.do(steps.Op{Kind: steps.KindTick, Ticks: ids, Done: new(true)})
}

// measureDone enters a measure that does its tick.
func (p *player) measureDone(id, value string) {
	p.t.Helper()
	tick := ""
	for _, stage := range p.work().Stages {
		for _, step := range stage.Steps {
			for _, m := range step.Measures {
				if m.ID == id {
					tick = m.Tick
				}
			}
		}
	}
	_, t := p.work().Tick(tick)
	p.done[tick] = t.Number
	p.do(steps.Op{Kind: steps.KindMeasure, Measure: id, Value: value, Done: new(true)})
}

func (p *player) later(id, why string) {
	p.do(steps.Op{Kind: steps.KindLater, Tick: id, Why: why})
}

// to does every open tick in the order of work, up to and with the last one; "" for all.
func (p *player) to(last string) {
	p.t.Helper()
	for _, stage := range p.work().Stages {
		for _, step := range stage.Steps {
			for _, tick := range step.Ticks {
				if _, now := p.work().Tick(tick.ID); now != nil && !now.Done {
					p.tick(tick.ID)
				}
				if tick.ID == last {
					return
				}
			}
		}
	}
	if last != "" {
		p.t.Fatalf("there is no tick %q", last)
	}
}

func (p *player) measure(pairs ...string) {
	p.t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		p.do(steps.Op{Kind: steps.KindMeasure, Measure: pairs[i], Value: pairs[i+1]})
	}
}

func (p *player) untick(id string) {
	p.do(steps.Op{Kind: steps.KindTick, Tick: id, Done: new(false)})
}
func (p *player) note(step, text string) {
	p.do(steps.Op{Kind: steps.KindNote, Step: step, Text: text})
}
func (p *player) redo(id, why string) { p.do(steps.Op{Kind: steps.KindRedo, Tick: id, Why: why}) }
func (p *player) here(step string)    { p.do(steps.Op{Kind: steps.KindHere, Step: step}) }
func (p *player) seen()               { p.do(steps.Op{Kind: steps.KindSeen}) }
func (p *player) plan(plan string) {
	p.do(steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plan)})
}
func (p *player) undo() {
	p.do(steps.Op{Kind: steps.KindUndo, Of: p.work().Last.Op.ID})
}

const (
	planOne       = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`
	planWider     = `{"title":"Harbour lanterns, wider","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"6 3/8","stripe":"1 1/8"}]}`
	planTwo       = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"dark line","cut":"1 1/2"},{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`
	planUnequal   = `{"title":"Harbour lanterns","unit":"in","seam":"1/4","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"dark line","cut":"1 1/2"},{"name":"ticking","cut":"5 1/2","cutTopBottom":"6 1/2","stripe":"1 1/8","motif":"6","fabric":{"usableWidth":"42","runs":"lengthwise"}}],"spare":"4"}`
	planCm        = `{"title":"Quay walk","unit":"cm","center":{"width":"92,7","length":"121"},"borders":[{"name":"rope","cut":"4"},{"name":"tide","cut":"12,5","stripe":"2,5"}],"spare":"10"}`
	planCoped     = `{"title":"Lantern print","center":{"width":"60 1/2","length":"80 1/2"},"coping":{"edges":"sides"},"borders":[{"name":"lanterns","cut":"5 1/2","motif":"6"}]}`
	planAslant    = `{"title":"Long pier","center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"tar","cut":"5 1/2","fabric":{"runs":"crosswise"}}]}`
	planStraight  = `{"title":"Long pier","center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","motif":"6","fabric":{"runs":"crosswise","join":"straight"}}]}`
	planOneJoined = `{"title":"Long pier","center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"tar","cut":"4 1/2","fabric":{"runs":"crosswise"}}]}`
	planLimits    = `{"title":"Strict","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2"}],"limits":{"apart":"1/4","mend":"2"}}`
)

var planTwelve = func() string {
	b := `{"title":"Twelve tides","center":{"width":"36 1/2","length":"48 1/2"},"borders":[`
	for n := range 11 {
		b += fmt.Sprintf(`{"name":"tide %d","cut":"1 1/2"},`, n+1)
	}
	return b + `{"name":"sea","cut":"3","cutTopBottom":"4"}]}`
}()

// A story is what a recording tells: it begins with a plan, and goes on by ops.
type story struct {
	name, plan, story string
	tell              func(*player)
}

var stories = []story{
	{"one-border-whole", planOne, "One striped border, every tick in order.", func(p *player) { p.to("") }},
	{"one-border-half", planOne, "One striped border, put down after the first edge was sewn.", func(p *player) { p.to("sew.left.pressed") }},
	{"begun", planOne, "A plan, and nothing done.", func(*player) {}},
	{"measured", planOne, "The center measures less than planned; a note, a look around, a redo and an undo.", func(p *player) {
		p.to("center.pressed")
		p.measure("width-top", "36 3/8", "width-middle", "36 3/8", "width-bottom", "36 1/4",
			"length-left", "48 1/2", "length-middle", "48 3/8", "length-right", "48 1/2", "diagonal-1", "60 5/8", "diagonal-2", "60 1/2")
		p.note("widths", "the top edge waves")
		p.to("cut.1.left.cut")
		p.here("diagonals")
		p.to("cut.1.bottom.ready")
		p.measure("cut-1-left-length", "63 1/4", "cut-1-left-width", "5 1/2")
		p.redo("mark.left.middle", "the chalk rubbed off")
		p.to("mark.left.middle")
		p.undo()
		p.to("mark.dot.2")
		p.untick("mark.dot.2")
	}},
	{"measured-late", planOne, "All strips are cut and marked, then another width is entered: numbers change, and stay done.", func(p *player) {
		p.to("mark.dot.4")
		p.measure("size-width", "36")
		p.seen()
		p.measure("size-length", "48")
		p.to("sew.right.pressed")
	}},
	{"plan-changed", planOne, "The border becomes wider after its strips are cut; what opened is done again.", func(p *player) {
		p.to("mark.left.middle")
		p.plan(planWider)
		p.to("cut.1.left.cut")
		p.undo()
		p.to("mark.dot.4")
	}},
	{"border-added", planOne, "A second border is added to a plan whose strips are cut.", func(p *player) {
		p.to("cut.1.bottom.ready")
		p.plan(planTwo)
		p.to("band.1.left.sewn")
	}},
	{"border-taken-away", planTwo, "A border is taken away when both are cut and sewn.", func(p *player) {
		p.to("band.1.bottom.pressed")
		p.plan(planOne)
		p.to("mark.left.middle")
	}},
	{"unequal-whole", planUnequal, "Two borders of unequal width, all done.", func(p *player) { p.to("") }},
	{"unequal-half", planUnequal, "Two borders of unequal width, put down at the second corner.", func(p *player) { p.to("miter.2.sewn") }},
	{"twelve-whole", planTwelve, "Twelve borders, all done.", func(p *player) { p.to("") }},
	{"twelve-half", planTwelve, "Twelve borders, put down when the bands are half sewn.", func(p *player) { p.to("band.6.left.sewn") }},
	{"coped-whole", planCoped, "Coping strips on the sides, measured with the center, all done.", func(p *player) {
		p.to("coping.right.pressed")
		p.measure("coped-width", "62 1/4")
		p.to("")
	}},
	{"coped-half", planCoped, "Coping strips cut and not yet sewn.", func(p *player) { p.to("coping.right.cut") }},
	{"joined-aslant-whole", planAslant, "Strips joined from parts on the diagonal, all done.", func(p *player) { p.to("") }},
	{"joined-straight-half", planStraight, "Strips joined from parts by straight seams, put down in the marking.", func(p *player) { p.to("mark.left.ends") }},
	{"joined-then-narrower", planAslant, "Joined strips; then a narrower border is planned.", func(p *player) {
		p.to("mark.left.ends")
		p.plan(planOneJoined)
		p.to("mark.right.ends")
	}},
	{"cm-whole", planCm, "Two borders in centimeters, with measures, all done.", func(p *player) {
		p.to("center.pressed")
		p.measure("width-top", "92,5", "width-middle", "92,6", "width-bottom", "92,4")
		p.to("press.4.front")
		p.measure("top-width-top", "122,5", "top-width-middle", "122,6", "top-width-bottom", "122,4")
		p.to("")
	}},
	{"cm-half", planCm, "Two borders in centimeters, top and bottom sewn first.", func(p *player) {
		p.to("band.1.bottom.pressed")
		p.measure("first-pair", "topBottom")
		p.to("sew.top.pressed")
	}},
	{"short-strip-joined", planOne, "A strip came out short; a piece is joined on, and the work goes on to the end.", func(p *player) {
		p.to("mark.dot.4")
		p.measure("cut-1-top-length", "45")
		p.do(steps.Op{Kind: steps.KindMend, Wrong: "strip-1-top", Way: "joined"})
		p.to("")
	}},
	{"short-strip-narrower", planOne, "A strip came out short; the border becomes narrower.", func(p *player) {
		p.to("cut.1.bottom.ready")
		p.measure("cut-1-left-length", "59")
		p.do(steps.Op{Kind: steps.KindMend, Wrong: "strip-1-left", Way: "narrower"})
		p.to("mark.left.middle")
	}},
	{"past-the-dot", planOne, "Sewn past the dot at corner 2, mended twice, one mend taken back.", func(p *player) {
		p.to("miter.2.sewn")
		about := steps.About{Edge: "top", Edges: calc.TopBottom, Corner: 2}
		mend := steps.Op{Kind: steps.KindMend, Wrong: "past-dot", Edge: "top", Edges: calc.TopBottom,
			Corner: 2, Values: map[string]string{"past": "1/8"}}
		a, err := steps.Answer(p.work(), "past-dot", steps.Asked{About: about, Values: mend.Values})
		if err != nil || len(a.Ways) == 0 {
			p.t.Fatalf("past-dot at corner 2: %+v, %v", a, err)
		}
		mend.Way = a.Ways[0].ID
		p.do(mend)
		p.undo()
		p.do(mend)
		p.to("miter.2.sewn")
		p.do(mend)
		p.to("miter.3.trimmed")
	}},
	{"looked-and-despite", planOne, "A corner does not pass its look: sewn again, and one trimmed with a reason.", func(p *player) {
		p.to("miter.1.looked")
		p.measure("look-1", "pucker")
		p.redo("miter.1.sewn", "pucker")
		p.to("miter.1.looked")
		p.measure("look-1", "miss", "miss-1", "1/4")
		p.done["miter.1.trimmed"] = "1/4 in"
		p.do(steps.Op{Kind: steps.KindTick, Tick: "miter.1.trimmed", Done: new(true), Why: "it is for a barn"})
		p.to("press.1.front")
	}},
	{"corners-crosswise", planOne, "Corners done in another order than they are counted.", func(p *player) {
		p.to("sew.bottom.pressed")
		for _, corner := range []string{"3", "1", "4"} {
			for _, act := range []string{"folded", "turned", "lined", "pinned", "sewn", "looked", "trimmed"} {
				p.tick("miter." + corner + "." + act)
			}
		}
		p.tick("press.3.opened")
		p.redo("sew.left.pinned", "the edge was gathered")
		p.to("sew.left.sewn")
	}},
	{"practiced", planOne, "At the practiced pace: several ticks by one op, measures that do theirs, what is put off, one undo.", func(p *player) {
		p.to("center.steadied")
		for _, m := range []string{"width-top", "width-middle", "width-bottom", "length-left", "length-middle", "length-right", "diagonal-1", "diagonal-2"} {
			value := map[byte]string{'w': "36 3/8", 'l': "48 1/2", 'd': "60 5/8"}[m[0]]
			p.measureDone(m, value)
		}
		p.to("cut.1.bottom.ready")
		p.together("mark.center.left", "mark.center.right", "mark.center.top", "mark.center.bottom")
		p.later("mark.left.middle", "the marker dried out")
		p.to("mark.bottom.middle")
		p.together("mark.left.ends", "mark.right.ends", "mark.top.ends", "mark.bottom.ends")
		p.undo()
		p.together("mark.left.ends", "mark.right.ends", "mark.top.ends", "mark.bottom.ends")
		p.together("mark.dot.1", "mark.dot.2", "mark.dot.3", "mark.dot.4")
		p.later("sew.left.pinned", "pins to be bought")
		p.to("test.made")
		p.measureDone("seam-across", "3 1/2")
		p.tick("pair.chosen")
		p.together("sew.left.pinned", "sew.left.sewn", "sew.left.checked")
		p.to("sew.bottom.pressed")
		p.together("miter.2.folded", "miter.2.turned", "miter.2.lined", "miter.2.pinned")
		p.later("miter.2.sewn", "the thread ran out")
	}},
	{"own-limits", planLimits, "A plan with limits of its own, widths an inch apart.", func(p *player) {
		p.to("center.pressed")
		p.measure("width-top", "36 1/2", "width-middle", "36", "width-bottom", "35 1/2")
		p.to("cut.1.left.cut")
		p.seen()
	}},
}

// play makes a story's session in a store.
func play(t testing.TB, s *session.Store, plan string, tell func(*player)) *player {
	t.Helper()
	head, err := s.Create(ctx, json.RawMessage(plan))
	if err != nil {
		t.Fatalf("Create: %v", err)
	}
	p := &player{t: t, store: s, id: head.ID, done: map[string]string{}}
	tell(p)
	return p
}

func (p *player) recording(story string) recording {
	p.t.Helper()
	w := p.work()
	r := recording{Story: story, Done: map[string]string{}, Open: []string{}, Values: map[string]string{}, Notes: map[string]string{}, Here: w.Here, Source: w.Source}
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			if step.Note != "" {
				r.Notes[step.ID] = step.Note
			}
			for _, m := range step.Measures {
				if m.Value != "" {
					r.Values[m.ID] = m.Value
				}
			}
			for _, tick := range step.Ticks {
				if tick.Done {
					r.Done[tick.ID] = p.done[tick.ID]
				} else {
					r.Open = append(r.Open, tick.ID)
				}
			}
		}
	}
	var err error
	if r.Export, err = p.store.Export(p.id); err != nil {
		p.t.Fatal(err)
	}
	return r
}

// TestRecord writes the recordings, and the procedure that each of their plans gives, into
// a folder. What stands there is never written again: of an edition that is recorded already,
// only stories that are new.
func TestRecord(t *testing.T) {
	if *record == "" {
		t.Skip("only with -record FOLDER")
	}
	if err := os.MkdirAll(*record, 0o755); err != nil {
		t.Fatal(err)
	}
	for i, story := range stories {
		if _, err := os.Stat(filepath.Join(*record, story.name+".json")); err == nil {
			continue
		}
		c := &clock{at: time.Date(2026, 11, 1, 9, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Hour)}
		s := open(t, newPath(t), c.now)
		r := play(t, s, story.plan, story.tell).recording(story.story)
		// An op a line: a change would show.
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		data = bytes.ReplaceAll(data, []byte(`{"rev":`), []byte("\n"+`{"rev":`))
		write(t, story.name+".json", append(data, '\n'))
		first, err := steps.Begin(json.RawMessage(story.plan))
		if err != nil {
			t.Fatal(err)
		}
		if slices.IndexFunc(stories, samePlan(story)) < i {
			continue // its procedure stands there already
		}
		write(t, story.name+".txt", []byte(procedureOf(first)))
	}
}

func samePlan(as story) func(story) bool { return func(s story) bool { return s.plan == as.plan } }

func write(t testing.TB, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(*record, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// procedureOf is what an edition is an edition of: every tick with its needs and what it
// is worked to, and every measure. Words are no part of it.
func procedureOf(w *steps.Work) string {
	var b bytes.Buffer
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			fmt.Fprintf(&b, "%s / %s\n", stage.ID, step.ID)
			for _, tick := range step.Ticks {
				fmt.Fprintf(&b, "  %s", tick.ID)
				if tick.Cuts {
					b.WriteString(" cuts")
				}
				for _, n := range tick.Numbers {
					fmt.Fprintf(&b, " | %s", n.Shown())
				}
				if len(tick.Needs) > 0 {
					fmt.Fprintf(&b, "\n    needs %v", tick.Needs)
				}
				b.WriteString("\n")
			}
			for _, m := range step.Measures {
				fmt.Fprintf(&b, "  asks %s with %s\n", m.ID, m.Tick)
			}
		}
	}
	return b.String()
}
