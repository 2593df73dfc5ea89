package steps

import (
	"encoding/json"
	"path"
	"strings"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// The procedure is data: a table a stage (squareup.go, cut.go, mark.go, sew.go,
// miter.go, press.go), in the order of work. A row's words may hold names in
// braces, which the round it is repeated in fills in (round.go).
var procedure = []stageRow{squareUp, cut, mark, sew, miter, press}

type stageRow struct {
	id, title string
	steps     []stepRow
}

// A stepRow becomes one step each time that its round repeats it.
type stepRow struct {
	round    round
	when     when
	id       string
	title    string
	where    string // "corner {corner}", where the labels of its ticks do not say it
	measures []measureRow
	groups   []groupRow
	ticks    []tickRows
}

// tickRows are a few ticks done one after another, each time that their round repeats
// them within the step.
type tickRows struct {
	round round
	rows  []tickRow
}

// A tickRow becomes one tick.
type tickRow struct {
	when    when
	id      string
	label   string // what is then done, for the button
	title   string // the act
	say     string // the command: at most 20 words, one action
	why     string
	needs   string // ids, parted by blanks; * stands for any part of an id
	cuts    bool
	look    bool   // it says whether work is right; taken alone, as cuts are
	gate    bool   // the look at {corner} must have passed (look.go)
	group   string // the group that it belongs to (group.go); "": none
	as      string // what it is called there
	number  string // a name in numbers (number.go)
	caution string // a name in cautions (caution.go)
	kind    string // the drawing
	act     string
}

// A measureRow becomes one measure each time that its round repeats it within the step.
type measureRow struct {
	round     round
	id, label string
	expect    string // a name in expects (expect.go); "" where nothing is expected
	tick      string // the id of the tick that it is entered with
	when      string // "look-{corner}=miss": asked for only then; "": always
	options   func(*quilt) []Option
}

// A when leaves a row out where it does not hold; nil always holds.
type when func(*quilt, names) bool

// A given is what a quilt is worked out from, and nothing else.
type given struct {
	plan     calc.Plan
	source   json.RawMessage   // the plan as it was written
	measured map[string]string // every value entered
	// made are the strips that are cut already, as "1.left": however the sheet may lay them
	// now.
	made    map[string]cutAs
	mends   []*mend // ways out that were taken, in their order
	trimmed bool    // the center was trimmed to the least, by the rule of the first edition
}

// A quilt is what the procedure is worked out for.
type quilt struct {
	given
	plan    calc.Plan // on the size settled on
	sheet   calc.Sheet
	settled pairOfSizes
	first   calc.Edges // the pair sewn first
	basis   *basis
	// early are the pieces of the joined strips as they were laid before joins had their
	// place, by border from 1.
	early func() map[int][]calc.Piece
}

// cutAs is how a strip was cut.
type cutAs int

const (
	inOne      cutAs = iota
	inParts          // to be joined
	earlyParts       // before joins had their place
)

// joinsPlaced is the edition with which joins got their place.
const joinsPlaced = 2

// build works the procedure out: every step and tick, none done.
func (q *quilt) build() ([]Stage, *index) {
	stages := make([]Stage, len(procedure))
	for i, row := range procedure {
		stages[i] = Stage{ID: row.id, Title: row.title}
		for _, s := range row.steps {
			for _, n := range s.round.repeats(q, names{}) {
				if s.when == nil || s.when(q, n) {
					stages[i].Steps = append(stages[i].Steps, q.step(s, n))
				}
			}
		}
	}
	q.insert(stages)
	for i := range stages {
		noticeOnce(&stages[i])
	}
	return stages, newIndex(stages)
}

// noticeOnce leaves each notice at the first tick of the stage that has it: it is about
// fabric, and read once. A caution stands once a step, a warning at every cut.
func noticeOnce(stage *Stage) {
	inStage := map[string]bool{}
	for i := range stage.Steps {
		inStep := map[string]bool{}
		for k := range stage.Steps[i].Ticks {
			c := stage.Steps[i].Ticks[k].Caution
			if c == nil || c.Word == "WARNING" {
				continue
			}
			told := inStep
			if c.Word == "NOTICE" {
				told = inStage
			}
			if told[c.Text] {
				stage.Steps[i].Ticks[k].Caution = nil
			}
			told[c.Text] = true
		}
	}
}

func (q *quilt) step(row stepRow, n names) Step {
	s := Step{ID: n.fill(row.id), Title: sentence(n.fill(row.title)), Measures: []Measure{}, Where: n.fill(row.where)}
	for _, m := range row.measures {
		for _, inner := range m.round.repeats(q, n) {
			s.Measures = append(s.Measures, q.measure(m, inner))
		}
	}
	for _, rows := range row.ticks {
		for _, inner := range rows.round.repeats(q, n) {
			for _, t := range rows.rows {
				if t.when == nil || t.when(q, inner) {
					s.Ticks = append(s.Ticks, q.tick(t, inner))
				}
			}
		}
	}
	s.Groups = q.groups(row.groups, n, s.Ticks)
	return s
}

func (q *quilt) measure(row measureRow, n names) Measure {
	m := Measure{ID: n.fill(row.id), Label: sentence(n.fill(row.label)), Tick: n.fill(row.tick), When: n.fill(row.when)}
	if expect := expects[row.expect]; expect != nil {
		expect(q, n, &m)
	}
	if row.options != nil {
		m.Options = row.options(q)
	}
	return m
}

func (q *quilt) tick(row tickRow, n names) Tick {
	t := Tick{
		ID:      n.fill(row.id),
		Label:   sentence(n.fill(row.label)),
		Needs:   strings.Fields(n.fill(row.needs)),
		Cuts:    row.cuts,
		Title:   sentence(n.fill(row.title)),
		Say:     sentence(n.fill(row.say)),
		Why:     n.fill(row.why),
		Caution: cautions[row.caution],
		Scene: draw.Scene{Kind: row.kind, Act: row.act, Edge: n["edge"], Edges: calc.Edges(n["edges"]),
			Corner: n.number("corner"), Border: n.number("border"), Second: n["second"] != ""},
	}
	t.Group, t.As = n.fill(row.group), sentence(n.fill(row.as))
	t.row, t.of, t.gate, t.look, t.lies, t.came = row.id, n, row.gate, row.look, lies[row.number], since(row.id)
	if reckon := numbers[row.number]; reckon != nil {
		t.Numbers = reckon(q, n)
	}
	if len(t.Numbers) > 0 {
		t.Number = t.Numbers[0].Shown()
	}
	t.seen = view{numbers: t.Numbers, of: q.basis}
	return t
}

// sentence begins with a capital.
func sentence(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// An index finds ticks and steps by id. It is shared by all Works of one
// procedure and never changed.
type index struct {
	ticks  map[string]position
	steps  map[string]position
	meas   map[string]position
	users  map[string][]string // the ticks that need a tick
	later  []lateTick          // the ticks that came after the first edition
	latest int                 // the last edition that brought one of them
}

// A lateTick is where a tick stands that came with a later edition than the first.
type lateTick struct {
	position
	edition int
}

// A position is where a step, tick or measure stands in Stages.
type position struct{ stage, step, at int }

// newIndex also all the patterns in needs into the ids that they stand for.
func newIndex(stages []Stage) *index {
	x := &index{ticks: map[string]position{}, steps: map[string]position{}, meas: map[string]position{}, users: map[string][]string{}}
	var ids []string
	for i, stage := range stages {
		for j, step := range stage.Steps {
			x.steps[step.ID] = position{i, j, 0}
			for k, t := range step.Ticks {
				x.ticks[t.ID] = position{i, j, k}
				ids = append(ids, t.ID)
				if t.came > 1 {
					x.later = append(x.later, lateTick{position{i, j, k}, t.came})
					x.latest = max(x.latest, t.came)
				}
			}
			for k, m := range step.Measures {
				x.meas[m.ID] = position{i, j, k}
			}
		}
	}
	for _, stage := range stages {
		for _, step := range stage.Steps {
			for k := range step.Ticks {
				t := &step.Ticks[k]
				t.Needs = expand(t.Needs, ids)
				for _, need := range t.Needs {
					x.users[need] = append(x.users[need], t.ID)
				}
			}
		}
	}
	return x
}

func expand(needs, ids []string) []string {
	out := []string{}
	for _, need := range needs {
		if !strings.Contains(need, "*") {
			out = append(out, need)
			continue
		}
		start, _, _ := strings.Cut(need, "*")
		for _, id := range ids {
			if !strings.HasPrefix(id, start) {
				continue
			}
			if ok, _ := path.Match(need, id); ok {
				out = append(out, id)
			}
		}
	}
	return out
}
