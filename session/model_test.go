package session_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
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
	made    int // ops, so that each has an id of its own
	sent    []steps.Op
	devices [3]*device
	then    *moment // as it was when it was backed up last
	moment
}

// A moment is what the model knows that a backup brings back.
type moment struct {
	backup  string
	work    *steps.Work
	rev     int64
	told    map[string]string // what an op id was answered, where that is kept
	history []steps.Op
}

// A device hears of every op while it is there, and keeps what it does while it is
// away until it comes back.
type device struct {
	watch *session.Watch // nil while it is away
	heard int64          // up to this revision; 0 when it knows nothing
	queue []steps.Op
}

func TestStoreIsAFoldOfItsOps(t *testing.T) {
	t.Parallel()
	if raceOn {
		flag.Set("rapid.checks", "40") // of 100
	}
	rapid.Check(t, func(rt *rapid.T) {
		folder, err := os.MkdirTemp(t.TempDir(), "")
		if err != nil {
			rt.Fatal(err)
		}
		m := &model{t: rt, path: filepath.Join(folder, "cornerwise.db"), clock: newClock()}
		m.told = map[string]string{}
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
		for i := range m.devices {
			m.devices[i] = &device{}
			m.listen(m.devices[i], 1)
		}
		rt.Repeat(map[string]func(*rapid.T){
			"do an op":          func(t *rapid.T) { m.act(t, m.draw(t)) },
			"do a tick":         func(t *rapid.T) { m.act(t, m.tick(t)) },
			"send one again":    m.repeat,
			"lose an answer":    m.loseAnswer,
			"go away":           func(t *rapid.T) { m.leave(m.device(t)) },
			"come back":         func(t *rapid.T) { m.comeBack(m.device(t)) },
			"reopen":            func(*rapid.T) { m.reopen(func() {}) },
			"set the clock":     func(t *rapid.T) { m.clock.move(rapid.Custom(hours).Draw(t, "by")) },
			"bin and unbin":     func(*rapid.T) { m.bin() },
			"watch from a gap":  m.gap,
			"back up":           func(*rapid.T) { m.backUp() },
			"restore a backup":  func(*rapid.T) { m.restore() },
			"export and import": func(*rapid.T) { m.carry() },
			"look at it all":    func(*rapid.T) { m.look() },
			"":                  func(*rapid.T) { m.check() },
		})
		for _, d := range m.devices {
			m.comeBack(d)
		}
		m.check()
		m.look()
	})
}

func (m *model) device(t *rapid.T) *device {
	return m.devices[rapid.IntRange(0, len(m.devices)-1).Draw(t, "device")]
}

func (m *model) start() {
	var err error
	if m.store, err = session.Open(m.path, m.clock.now); err != nil {
		m.t.Fatalf("Open: %v", err)
	}
	m.store.MarkAll() // it is opened at bookmarks, at most times
}

// reopen restarts the store, and does something to its file between.
func (m *model) reopen(between func()) {
	if err := m.store.Close(); err != nil {
		m.t.Fatalf("Close: %v", err)
	}
	for _, d := range m.devices {
		if d.watch != nil {
			for e := range d.watch.Events {
				m.hear(d, e)
			}
		}
	}
	between()
	m.start()
	for _, d := range m.devices {
		if d.watch != nil {
			m.listen(d, d.heard)
		}
	}
}

func (m *model) listen(d *device, since int64) {
	var err error
	if d.watch, err = m.store.Watch(m.id, since); err != nil {
		m.t.Fatalf("Watch(%d): %v", since, err)
	}
	if d.heard = since; d.watch.Start.Work != nil {
		if d.heard = d.watch.Start.Rev; d.heard != m.rev {
			m.t.Fatalf("Watch(%d) starts at revision %d, want %d", since, d.heard, m.rev)
		}
	}
	for _, e := range d.watch.Missed {
		m.hear(d, e)
	}
}

func (m *model) hear(d *device, e session.Event) {
	if d.heard++; e.Rev != d.heard || e.Op.ID != m.history[e.Rev-2].ID {
		m.t.Fatalf("heard op %q at revision %d, want %q at %d", e.Op.ID, e.Rev, m.history[d.heard-2].ID, d.heard)
	}
}

// act has some device do an op: it is sent at once, or when the device is back.
func (m *model) act(t *rapid.T, op steps.Op) {
	if d := m.device(t); d.watch == nil || len(d.queue) > 0 {
		d.queue = append(d.queue, op)
	} else {
		m.send(op)
	}
}

// loseAnswer sends what a device has waiting and lets it keep it, as when the
// network goes before the answer.
func (m *model) loseAnswer(t *rapid.T) {
	if d := m.device(t); len(d.queue) > 0 {
		m.send(d.queue[0])
	}
}

func (m *model) leave(d *device) {
	if d.watch != nil {
		d.watch.Close()
		for e := range d.watch.Events {
			m.hear(d, e)
		}
		d.watch = nil
	}
}

// comeBack is to hear what was missed and to send what waits, in order.
func (m *model) comeBack(d *device) {
	if d.watch == nil {
		m.listen(d, d.heard)
	}
	for _, op := range d.queue {
		m.send(op)
	}
	d.queue = nil
}

func (m *model) nextID() string {
	m.made++
	return fmt.Sprint("op ", m.made)
}

func (m *model) tick(t *rapid.T) steps.Op {
	ready, locked, done := sortTicks(m.work)
	// Mostly what can be done, so that the work gets on.
	all := append(append(append(append([]string{"nothing"}, ready...), ready...), locked...), done...)
	return tick(m.nextID(), rapid.SampledFrom(all).Draw(t, "tick"), rapid.IntRange(0, 3).Draw(t, "done") > 0)
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
	if len(m.history) > 0 {
		of = m.history[len(m.history)-1].ID
	}
	op := steps.Op{ID: m.nextID(), Step: rapid.SampledFrom(ids).Draw(t, "step")}
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
	for _, d := range m.devices {
		if d.watch != nil {
			for e := range d.watch.Events {
				m.hear(d, e)
			}
		}
	}
	if err := m.store.Unbin(ctx, m.id); err != nil {
		m.t.Fatalf("Unbin: %v", err)
	}
	for _, d := range m.devices {
		if d.watch != nil {
			m.listen(d, d.heard)
		}
	}
}

func (m *model) gap(t *rapid.T) {
	d := m.device(t)
	m.leave(d)
	m.listen(d, rapid.Int64Range(max(1, m.rev-200), m.rev).Draw(t, "since"))
}

func (m *model) backUp() {
	b, err := m.store.BackUp(ctx)
	if err != nil {
		m.t.Fatalf("BackUp: %v", err)
	}
	then := m.moment
	then.backup, then.told = b.Path, maps.Clone(m.told)
	m.then = &then
}

// restore goes back to the backup. What devices know is of another epoch: they
// read the session afresh.
func (m *model) restore() {
	if m.then == nil {
		return
	}
	if _, err := os.Stat(m.then.backup); err != nil {
		return // expired since
	}
	m.reopen(func() {
		if _, err := session.Restore(m.path, m.then.backup, m.clock.now(), letGo); err != nil {
			m.t.Fatalf("Restore: %v", err)
		}
		m.moment = *m.then
		m.told = maps.Clone(m.then.told)
		for _, d := range m.devices {
			d.heard = 0
		}
	})
}

// carry takes the session out and in again, as another: it has the same history.
func (m *model) carry() {
	data, err := m.store.Export(m.id)
	if err != nil {
		m.t.Fatalf("Export: %v", err)
	}
	head, err := m.store.Import(ctx, bytes.NewReader(data))
	if err != nil {
		// The clock was set back since.
		if refusal := (*steps.Refusal)(nil); errors.As(err, &refusal) && strings.Contains(refusal.Message, "Set the clock") {
			return
		}
		m.t.Fatalf("Import: %v", err)
	}
	snap, err := m.store.Get(head.ID)
	if err != nil || snap.Rev != m.rev || shown(snap.Work) != shown(m.work) {
		m.t.Fatalf("the imported session is at revision %d, %v, want %d and the same state", snap.Rev, err, m.rev)
	}
	if err := m.store.Bin(ctx, head.ID); err != nil {
		m.t.Fatalf("Bin: %v", err)
	}
}

func (m *model) check() {
	for n, d := range m.devices {
		if d.watch == nil {
			continue
		}
		for d.heard < m.rev {
			e, more := <-d.watch.Events
			if !more {
				m.t.Fatalf("the watch of device %d ended at revision %d of %d", n, d.heard, m.rev)
			}
			m.hear(d, e)
		}
		if waiting := len(d.watch.Events); waiting > 0 {
			m.t.Fatalf("device %d is told of %d events more than there were", n, waiting)
		}
	}
	snap, err := m.store.Get(m.id)
	if err != nil {
		m.t.Fatalf("Get: %v", err)
	}
	done, total := m.work.Progress()
	if snap.Rev != m.rev || snap.Done != done || snap.Total != total || snap.Work.Here != m.work.Here {
		m.t.Fatalf("Get = %+v, want revision %d, %d of %d done", snap.Head, m.rev, done, total)
	}
	if report, err := m.store.Check(ctx); err != nil {
		m.t.Fatalf("Check = %+v, %v", report, err)
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
