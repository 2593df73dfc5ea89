package session_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cornerwise/session"
	"cornerwise/steps"
)

// A model is what a store must be: the ops that were taken, what each op id was
// told, and the work that steps alone make of them.
type model struct {
	t       *rapid.T
	path    string
	clock   *clock
	store   *session.Store
	id      string
	work    *steps.Work
	rev     int64
	sent    []steps.Op
	told    map[string]string // what an op id was answered, where that is kept
	history []steps.Op
	watch   *session.Watch
	heard   int64
}

func TestStoreIsAFoldOfItsOps(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		folder, err := os.MkdirTemp(t.TempDir(), "")
		if err != nil {
			rt.Fatal(err)
		}
		m := &model{t: rt, path: filepath.Join(folder, "cornerwise.db"), clock: newClock(), told: map[string]string{}}
		m.start()
		defer func() { m.store.Close(); checkFile(t, m.path) }()
		head, err := m.store.Create(ctx, plan)
		if err != nil {
			rt.Fatalf("Create: %v", err)
		}
		if m.work, err = steps.Begin(plan); err != nil {
			rt.Fatal(err)
		}
		m.id, m.rev = head.ID, 1
		m.listen(1)
		rt.Repeat(map[string]func(*rapid.T){
			"send an op":       func(t *rapid.T) { m.send(m.draw(t)) },
			"send a tick":      func(t *rapid.T) { m.send(m.tick(t)) },
			"send one again":   m.repeat,
			"reopen":           func(*rapid.T) { m.store.Close(); m.start(); m.listen(m.heard) },
			"set the clock":    func(t *rapid.T) { m.clock.move(rapid.Custom(hours).Draw(t, "by")) },
			"bin and restore":  func(*rapid.T) { m.bin() },
			"watch from a gap": func(t *rapid.T) { m.gap(t) },
			"look at it all":   func(*rapid.T) { m.look() },
			"":                 func(*rapid.T) { m.check() },
		})
		m.look()
	})
}

func (m *model) start() {
	var err error
	if m.store, err = session.Open(m.path, m.clock.now); err != nil {
		m.t.Fatalf("Open: %v", err)
	}
}

func (m *model) listen(since int64) {
	var err error
	if m.watch, err = m.store.Watch(m.id, since); err != nil {
		m.t.Fatalf("Watch(%d): %v", since, err)
	}
	m.heard = since
	for _, e := range m.watch.Missed {
		m.hear(e)
	}
}

func (m *model) hear(e session.Event) {
	if m.heard++; e.Rev != m.heard || e.Op.ID != m.history[e.Rev-2].ID {
		m.t.Fatalf("heard op %q at revision %d, want %q at %d", e.Op.ID, e.Rev, m.history[m.heard-2].ID, m.heard)
	}
}

func (m *model) tick(t *rapid.T) steps.Op {
	ready, locked, done := sortTicks(m.work)
	// Mostly what can be done, so that the work gets on.
	all := append(append(append(append([]string{"nothing"}, ready...), ready...), locked...), done...)
	return tick(fmt.Sprint("op ", len(m.sent)), rapid.SampledFrom(all).Draw(t, "tick"), rapid.IntRange(0, 3).Draw(t, "done") > 0)
}

func (m *model) draw(t *rapid.T) steps.Op {
	var ids, measures []string
	for _, stage := range m.work.Stages {
		for _, step := range stage.Steps {
			ids = append(ids, step.ID)
			for _, measure := range step.Measures {
				measures = append(measures, measure.ID)
			}
		}
	}
	_, _, done := sortTicks(m.work)
	of := "nothing"
	if len(m.sent) > 0 {
		of = m.sent[len(m.sent)-1].ID
	}
	op := steps.Op{ID: fmt.Sprint("op ", len(m.sent)), Step: rapid.SampledFrom(ids).Draw(t, "step")}
	op.Kind = rapid.SampledFrom([]string{steps.KindHere, steps.KindNote, steps.KindRedo, steps.KindMeasure,
		steps.KindUndo, steps.KindPlan, "dance"}).Draw(t, "kind")
	switch op.Kind {
	case steps.KindNote:
		op.Text = rapid.SampledFrom([]string{"", "thread <50> & needle 80", "“sharp”\nor not"}).Draw(t, "text")
	case steps.KindRedo:
		op.Tick = rapid.SampledFrom(append(done, "nothing")).Draw(t, "tick")
	case steps.KindMeasure:
		op.Measure = rapid.SampledFrom(append(measures, "nothing")).Draw(t, "measure")
		op.Value = rapid.SampledFrom([]string{"", "36 3/8", "48.5", "92 cm", "wide"}).Draw(t, "value")
	case steps.KindUndo:
		op.Of = of
	case steps.KindPlan:
		op.Plan = rapid.SampledFrom([]json.RawMessage{plan, otherPlan, json.RawMessage(`{}`)}).Draw(t, "plan")
	}
	return op
}

func hours(t *rapid.T) time.Duration {
	return time.Duration(rapid.IntRange(-48, 48).Draw(t, "hours")) * time.Hour
}

// send is one op to both, and compares.
func (m *model) send(op steps.Op) {
	m.sent = append(m.sent, op)
	want := m.told[op.ID]
	if want == "" {
		want = m.take(op)
	}
	rev, err := m.store.Do(ctx, m.id, op)
	if got := told(rev, err); got != want {
		m.t.Fatalf("Do(%+v) = %s, want %s", op, got, want)
	}
}

// take is the op on the model; the answer in words.
func (m *model) take(op steps.Op) string {
	next, _, err := m.work.Apply(op, m.clock.at)
	var refusal *steps.Refusal
	if errors.As(err, &refusal) {
		if refusal.Clash() {
			m.told[op.ID] = told(0, err)
		}
		return told(0, err)
	}
	m.work, m.rev, m.history = next, m.rev+1, append(m.history, op)
	m.told[op.ID] = told(m.rev, nil)
	return m.told[op.ID]
}

func told(rev int64, err error) string { return fmt.Sprintf("%d, %v", rev, err) }

func (m *model) repeat(t *rapid.T) {
	if len(m.sent) > 0 {
		m.send(rapid.SampledFrom(m.sent).Draw(t, "again"))
	}
}

func (m *model) bin() {
	if err := m.store.Bin(ctx, m.id); err != nil {
		m.t.Fatalf("Bin: %v", err)
	}
	for e := range m.watch.Events {
		m.hear(e)
	}
	if err := m.store.Restore(ctx, m.id); err != nil {
		m.t.Fatalf("Restore: %v", err)
	}
	m.listen(m.heard)
}

func (m *model) gap(t *rapid.T) {
	m.watch.Close()
	m.listen(rapid.Int64Range(max(1, m.rev-200), m.rev).Draw(t, "since"))
}

func (m *model) check() {
	for m.heard < m.rev {
		e, more := <-m.watch.Events
		if !more {
			m.t.Fatalf("the watch ended at revision %d of %d", m.heard, m.rev)
		}
		m.hear(e)
	}
	snap, err := m.store.Get(m.id)
	if err != nil {
		m.t.Fatalf("Get: %v", err)
	}
	done, total := m.work.Progress()
	if snap.Rev != m.rev || snap.Done != done || snap.Total != total || snap.Work.Here != m.work.Here {
		m.t.Fatalf("Get = %+v, want revision %d, %d of %d done", snap.Head, m.rev, done, total)
	}
}

// look compares all there is; it is dear, so not after every op.
func (m *model) look() {
	snap, err := m.store.Get(m.id)
	if err != nil {
		m.t.Fatalf("Get: %v", err)
	}
	if got, want := shown(snap.Work), shown(m.work); got != want {
		m.t.Fatalf("the state is\n%s\nwant\n%s", got, want)
	}
	entries, err := m.store.History(m.id)
	if err != nil || len(entries) != len(m.history)+1 {
		m.t.Fatalf("History has %d ops, %v, want %d", len(entries), err, len(m.history)+1)
	}
	for i, e := range entries[1:] {
		if e.ID != m.history[i].ID || e.Rev != int64(i)+2 || e.At.Before(entries[i].At) {
			m.t.Fatalf("History has op %q at revision %d and %v, want %q at %d, not before %v",
				e.ID, e.Rev, e.At, m.history[i].ID, i+2, entries[i].At)
		}
	}
}

// shown is a work without its plan's spaces and the times, which the store decides.
func shown(w *steps.Work) string {
	last := ""
	if w.Last != nil {
		last = w.Last.Op.ID + " " + w.Last.Text
	}
	data, _ := json.Marshal([]any{w.Source, w.Sheet, w.Stages, w.Here, last})
	return string(data)
}
