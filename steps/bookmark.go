package steps

import (
	"bytes"
	"encoding/gob"
	"encoding/json"
	"reflect"
	"time"

	"cornerwise/calc"
)

// A bookmark is the work as it stands, so that who opens it need not go through all that led
// there. It is read by the same program only, to the byte: another may reckon otherwise, and
// goes by the ops.
//
// It has what the ops made of the work, and nothing that follows from it: the quilt is worked
// out from what it was given, and what was found out is found out again.
type bookmark struct {
	First  []byte      // the plan as it was first made
	Bases  []keptBasis // what numbers were seen on
	Before *keptWork   // the work that undo would bring back; nil: there is none
	Undo   keptUndo
	Work   keptWork
}

// A keptUndo is the last op, where undo can take it back.
type keptUndo struct {
	Op   []byte
	At   time.Time
	Text string
}

// A keptWork is one Work. Where Same, its quilt is that of the one before it, and Steps have
// only what differs from that one.
type keptWork struct {
	Same                  bool
	Given                 keptGiven
	Mends                 []keptMend
	Begun, Edition, Whole int
	Here                  string
	Gone                  []Fate
	Former                map[string]formerTick
	Steps                 map[string]keptStep
}

type keptGiven struct {
	Source   []byte
	Measured map[string]string
	Made     map[string]cutAs
	Mends    int // so many of the work's; the rest could not be told
	Trimmed  bool
}

type keptMend struct {
	N             int
	Title         string
	Acts          []keptAct
	Before, After string
	Needs, Blocks []string
	Of            names
	Strips        map[string]calc.CutStrip
}

type keptAct struct {
	Verb, Say, Why string
	Numbers        []Number
	Figures        []calc.Named
}

// A keptBasis is one, with where its size came from, width and length.
type keptBasis struct {
	Source         []byte
	Pieced, Center calc.Area
	Width, Length  string
	First          calc.Edges
}

type keptStep struct {
	Done     bool
	Note     string
	Measures map[string]string
	Ticks    map[string]keptTick
}

// A keptTick is what became of a tick. Where Told or Seen is nil, it is the numbers that the
// tick has.
type keptTick struct {
	Done, New, Passed bool
	Despite, Opened   string
	Later             string
	Under             int
	Told, Seen        *keptNumbers
	Basis             int // what Seen rests on, from 1; 0: what the quilt does
	Earlier           bool
	Changed           map[int]Changed // by number
}

type keptNumbers struct{ Numbers []Number }

// Bookmark keeps the work as it stands, for Reopen.
func (w *Work) Bookmark() ([]byte, error) {
	k := bookmark{First: w.firstSource}
	bases := map[*basis]int{}
	if last := w.Last; last != nil {
		op, err := json.Marshal(last.Op)
		if err != nil {
			return nil, err
		}
		before := last.before.kept(bases)
		k.Before, k.Undo = &before, keptUndo{op, last.At, last.Text}
	}
	k.Work = w.kept(bases)
	if w.Last != nil && w.Last.before.index == w.index {
		k.Work.Same, k.Work.Steps = true, differing(k.Before.Steps, k.Work.Steps)
	}
	k.Bases = make([]keptBasis, len(bases))
	for b, n := range bases {
		k.Bases[n-1] = keptBasis{b.source, b.pieced, b.center, b.settled.width, b.settled.length, b.first}
	}
	var data bytes.Buffer
	err := gob.NewEncoder(&data).Encode(k)
	return data.Bytes(), err
}

// kept is the Work in the form of a bookmark. bases gets what its numbers were seen on.
func (w *Work) kept(bases map[*basis]int) keptWork {
	from := w.built.given
	k := keptWork{
		Given: keptGiven{from.source, from.measured, from.made, len(from.mends), from.trimmed},
		Begun: w.begun, Edition: w.edition, Whole: w.whole,
		Here: w.Here, Gone: w.Gone, Former: w.former, Steps: map[string]keptStep{},
	}
	for _, m := range w.mends {
		k.Mends = append(k.Mends, m.kept())
	}
	for _, stage := range w.Stages {
		for i := range stage.Steps {
			if step := stage.Steps[i].kept(w.built.basis, bases); !reflect.ValueOf(step).IsZero() {
				k.Steps[stage.Steps[i].ID] = step
			}
		}
	}
	return k
}

func (s *Step) kept(own *basis, bases map[*basis]int) keptStep {
	k := keptStep{Done: s.Done, Note: s.Note}
	for _, m := range s.Measures {
		if m.Value != "" {
			put(&k.Measures, m.ID, m.Value)
		}
	}
	for i := range s.Ticks {
		if t := s.Ticks[i].kept(own, bases); !reflect.ValueOf(t).IsZero() {
			put(&k.Ticks, s.Ticks[i].ID, t)
		}
	}
	return k
}

func (t *Tick) kept(own *basis, bases map[*basis]int) keptTick {
	k := keptTick{Done: t.Done, New: t.New, Passed: t.Passed, Despite: t.Despite, Opened: t.Opened, Later: t.Later,
		Under: t.under, Earlier: t.seen.earlier}
	has := t.unchanged()
	if t.Done && !reflect.DeepEqual(t.told, has) {
		k.Told = &keptNumbers{t.told}
	}
	if !reflect.DeepEqual(t.seen.numbers, has) {
		k.Seen = &keptNumbers{t.seen.numbers}
	}
	if of := t.seen.of; of != own {
		if bases[of] == 0 {
			bases[of] = len(bases) + 1
		}
		k.Basis = bases[of]
	}
	for i, n := range t.Numbers {
		if n.Changed != nil {
			put(&k.Changed, i, *n.Changed)
		}
	}
	return k
}

// put makes the map where there is none.
func put[K comparable, V any](m *map[K]V, key K, value V) {
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[key] = value
}

func (m *mend) kept() keptMend {
	k := keptMend{N: m.n, Title: m.title, Before: m.before, After: m.after, Needs: m.needs, Blocks: m.blocks, Of: m.of, Strips: m.strips}
	for _, a := range m.acts {
		k.Acts = append(k.Acts, keptAct{a.verb, a.say, a.why, a.numbers, a.figures})
	}
	return k
}

// differing is what steps have that is otherwise in others.
func differing(others, steps map[string]keptStep) map[string]keptStep {
	d := map[string]keptStep{}
	for id := range both(others, steps) {
		was, is := others[id], steps[id]
		if reflect.DeepEqual(was, is) {
			continue
		}
		step := keptStep{Done: is.Done, Note: is.Note}
		for m := range both(was.Measures, is.Measures) {
			if was.Measures[m] != is.Measures[m] {
				put(&step.Measures, m, is.Measures[m])
			}
		}
		for t := range both(was.Ticks, is.Ticks) {
			if !reflect.DeepEqual(was.Ticks[t], is.Ticks[t]) {
				put(&step.Ticks, t, is.Ticks[t])
			}
		}
		d[id] = step
	}
	return d
}

// both are the keys of either.
func both[V any](a, b map[string]V) map[string]bool {
	keys := map[string]bool{}
	for k := range a {
		keys[k] = true
	}
	for k := range b {
		keys[k] = true
	}
	return keys
}
