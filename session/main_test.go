package session_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
	"cornerwise/steps"
)

// TestMain lets the test binary be a child that is killed, or runs out of disk.
func TestMain(m *testing.M) {
	if deed := children[os.Getenv("CORNERWISE_TEST_CHILD")]; deed != nil {
		if err := deed(os.Getenv("CORNERWISE_TEST_FILE")); err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

var children = map[string]func(path string) error{}

var (
	ctx  = context.Background()
	plan = json.RawMessage(`{"title": "Harbour lanterns & tide",
		"center": {"width": "36 1/2", "length": "48 1/2"},
		"borders": [{"name": "ticking", "cut": "5 1/2"}]}`)
	otherPlan = json.RawMessage(`{"title": "Harbour lanterns, wider",
		"center": {"width": "36 1/2", "length": "48 1/2"},
		"borders": [{"name": "dark line", "cut": "1 1/2"}, {"name": "ticking", "cut": "6 1/2"}]}`)
)

// A clock is the only thing faked: it goes on by a second each time it is read.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func newClock() *clock { return &clock{at: time.Date(2026, 3, 1, 9, 0, 0, 123456789, time.UTC)} }

func (c *clock) now() time.Time { return c.move(time.Second) }

func (c *clock) move(by time.Duration) time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(by)
	return c.at
}

// rounds is how often a long test does it: fewer times where tests are to be quick.
func rounds(all, short int) int {
	if testing.Short() {
		return short
	}
	return all
}

// withoutRace leaves a test out of the run with the race detector: it has no goroutines and
// goes on for minutes there. .ci/test runs it by itself.
func withoutRace(t *testing.T) {
	t.Helper()
	if raceOn {
		t.Skip("it is run without the race detector")
	}
}

// newPath is where a store may be made. What is there when the test ends must be sound.
func newPath(t testing.TB) string {
	path := filepath.Join(t.TempDir(), "cornerwise.db")
	t.Cleanup(func() { checkFile(t, path) })
	return path
}

func checkFile(t testing.TB, path string) {
	t.Helper()
	if info, err := os.Stat(path); err != nil || info.Size() == 0 {
		return // never made
	}
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second, ReadOnly: true, PreLoadFreelist: true})
	if err != nil {
		t.Errorf("open %s to check it: %v", path, err)
		return
	}
	defer db.Close()
	if _, err := session.CheckFile(path); err != nil {
		t.Errorf("CheckFile: %v", err)
	}
	db.View(func(tx *bolt.Tx) error {
		for err := range tx.Check() {
			t.Errorf("tx.Check: %v", err)
		}
		return nil
	})
}

func open(t testing.TB, path string, now func() time.Time) *session.Store {
	t.Helper()
	s, err := session.Open(path, now)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	return s
}

func newStore(t testing.TB) *session.Store { return open(t, newPath(t), newClock().now) }

func create(t testing.TB, s *session.Store) session.Head {
	t.Helper()
	head, err := s.Create(ctx, plan)
	if err != nil {
		t.Fatalf("Create: %v", err)
	}
	return head
}

func get(t testing.TB, s *session.Store, id string) session.Snapshot {
	t.Helper()
	snap, err := s.Get(id)
	if err != nil {
		t.Fatalf("Get: %v", err)
	}
	return snap
}

func do(t testing.TB, s *session.Store, id string, op steps.Op) int64 {
	t.Helper()
	rev, err := s.Do(ctx, id, op)
	if err != nil {
		t.Fatalf("Do(%+v): %v", op, err)
	}
	return rev
}

func history(t testing.TB, s *session.Store, id string) []steps.Entry {
	t.Helper()
	entries, err := s.History(id)
	if err != nil {
		t.Fatalf("History: %v", err)
	}
	return entries
}

func tick(id, tick string, done bool) steps.Op {
	return steps.Op{ID: id, Kind: steps.KindTick, Tick: tick, Done: &done}
}

func note(id string, w *steps.Work, text string) steps.Op {
	return steps.Op{ID: id, Kind: steps.KindNote, Step: w.Stages[0].Steps[0].ID, Text: text}
}

// sortTicks tells the ticks that are open and may be done, open and may not, and done.
func sortTicks(w *steps.Work) (ready, locked, done []string) {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, t := range step.Ticks {
				free := true
				for _, need := range t.Needs {
					_, n := w.Tick(need)
					free = free && n.Done
				}
				switch {
				case t.Done:
					done = append(done, t.ID)
				case free:
					ready = append(ready, t.ID)
				default:
					locked = append(locked, t.ID)
				}
			}
		}
	}
	return ready, locked, done
}

// state is all that a work shows, to compare.
func state(t testing.TB, w *steps.Work) string {
	t.Helper()
	data, err := json.Marshal(struct {
		Plan   json.RawMessage
		Sheet  any
		Stages []steps.Stage
		Here   string
		Last   *steps.Done
	}{w.Source, w.Sheet, w.Stages, w.Here, w.Last})
	if err != nil {
		t.Fatalf("state: %v", err)
	}
	return string(data)
}

// foldPlain is what the ops say, by steps alone.
func foldPlain(t testing.TB, entries []steps.Entry) *steps.Work {
	t.Helper()
	w, err := steps.Resume(entries[0])
	if err != nil {
		t.Fatalf("fold: %v", err)
	}
	for _, e := range entries[1:] {
		w, _ = w.Recall(e)
	}
	return w
}

func differ(t testing.TB, call, got, want string) {
	t.Helper()
	if got == want {
		return
	}
	at := 0
	for at < len(got) && at < len(want) && got[at] == want[at] {
		at++
	}
	part := func(s string) string { return s[max(0, at-80):min(len(s), at+80)] }
	t.Errorf("%s differs at byte %d:\n got …%s…\nwant …%s…", call, at, part(got), part(want))
}
