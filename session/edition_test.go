package session_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
)

const recordings = "../testdata/sessions"

// yearsOn is a clock that is later than every recording.
func yearsOn() *clock { return &clock{at: time.Date(2076, 1, 1, 9, 0, 0, 0, time.UTC)} }

// eachRecording calls hold for each recorded session, with the edition that it is of.
func eachRecording(t *testing.T, hold func(t *testing.T, edition int, r recording)) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(recordings, "*", "*.json"))
	if err != nil || len(files) < len(stories) {
		t.Fatalf("%d recordings in %s, %v; want at least %d", len(files), recordings, err, len(stories))
	}
	for _, file := range files {
		edition, err := strconv.Atoi(filepath.Base(filepath.Dir(file)))
		if err != nil {
			t.Fatalf("the folder of %s is no edition", file)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var r recording
		if err := json.Unmarshal(data, &r); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		t.Run(fmt.Sprintf("%d/%s", edition, strings.TrimSuffix(filepath.Base(file), ".json")), func(t *testing.T) {
			hold(t, edition, r)
		})
	}
}

func TestEveryRecordedSessionIsAsItWas(t *testing.T) {
	withoutRace(t)
	t.Parallel()
	s := open(t, newPath(t), yearsOn().now)
	eachRecording(t, func(t *testing.T, edition int, r recording) {
		skipTwelve(t, testing.Short() || nextTables() || os.Getenv("CI") != "")
		head, err := s.Import(ctx, bytes.NewReader(r.Export))
		if err != nil {
			t.Fatalf("Import: %v", err)
		}
		w := get(t, s, head.ID).Work
		open := map[string]bool{}
		for _, id := range r.Open {
			open[id] = true
		}
		straight := onlyTicks(t, r)
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				for _, tick := range step.Ticks {
					number, done := r.Done[tick.ID]
					holdTick(t, edition, tick, done, open[tick.ID])
					if straight {
						holdNumber(t, tick, number)
					}
					delete(r.Done, tick.ID)
				}
			}
		}
		if edition == steps.Edition() && len(r.Done) > 0 {
			t.Errorf("%d done ticks are gone: %v", len(r.Done), slices.Sorted(maps.Keys(r.Done)))
		}
		if len(r.Open) == 0 && head.Done != head.Total {
			t.Errorf("it was whole, and is %d of %d", head.Done, head.Total)
		}
		for id, value := range r.Values {
			if now := valueOf(w, id); now != value && edition == steps.Edition() {
				t.Errorf("%s is %q, was %q", id, now, value)
			}
		}
		if notes := notesOf(w); !slices.Equal(notes, slices.Sorted(maps.Values(r.Notes))) {
			t.Errorf("the notes are %q, were %q", notes, r.Notes)
		}
		if edition == steps.Edition() && w.Here != r.Here {
			t.Errorf("work goes on at %s, was at %s", w.Here, r.Here)
		}
		if compact(t, w.Source) != compact(t, calc.Renamed(r.Source)) {
			t.Errorf("the plan is %s, was %s", w.Source, r.Source)
		}
	})
}

// onlyTicks tells whether a recording has no op but its plan and ticks.
func onlyTicks(t *testing.T, r recording) bool {
	t.Helper()
	var export struct{ History []steps.Entry }
	if err := json.Unmarshal(r.Export, &export); err != nil {
		t.Fatal(err)
	}
	return !slices.ContainsFunc(export.History[1:], func(e steps.Entry) bool { return e.Kind != steps.KindTick })
}

// holdTick holds one tick of today against how it was recorded.
func holdTick(t *testing.T, edition int, tick steps.Tick, wasDone, wasOpen bool) {
	t.Helper()
	switch {
	case wasDone && !tick.Done && tick.Opened == "":
		t.Errorf("%s was done, and is open without a reason", tick.ID)
	case wasOpen && tick.Done:
		t.Errorf("%s was open, and is done", tick.ID)
	case !wasDone && !wasOpen && edition == steps.Edition():
		t.Errorf("%s was not there", tick.ID)
	}
}

// anotherThing are the ticks whose number is of another thing since an edition: nobody is told
// that one became the other. The line of an unequal miter was its length in edition 1, and is
// the point that it runs to since.
var anotherThing = regexp.MustCompile(`^miter\.[1-4]\.lined(Side|End)$`)

// holdNumber holds what a done tick shows against the number that it was done to, where
// nothing but the program can have changed it.
func holdNumber(t *testing.T, tick steps.Tick, was string) {
	t.Helper()
	if !tick.Done || was == "" || was == tick.Number || len(tick.Numbers) == 0 {
		return // a tick that has no number any more has none to tell
	}
	if c := tick.Numbers[0].Changed; anotherThing.MatchString(tick.ID) {
		if c != nil {
			t.Errorf("%s was done at %s, which is another thing than %s, and says %+v", tick.ID, was, tick.Number, c)
		}
		return
	}
	if c := tick.Numbers[0].Changed; c == nil || c.Was != was || c.Now != tick.Number || !strings.Contains(c.Why, "otherwise now") {
		t.Errorf("%s was done at %s and is %s now, and says %+v", tick.ID, was, tick.Number, c)
	}
}

func notesOf(w *steps.Work) (notes []string) {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			if step.Note != "" {
				notes = append(notes, step.Note)
			}
		}
	}
	slices.Sort(notes)
	return notes
}

func valueOf(w *steps.Work, id string) string {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, m := range step.Measures {
				if m.ID == id {
					return m.Value
				}
			}
		}
	}
	return ""
}

func compact(t *testing.T, data json.RawMessage) string {
	t.Helper()
	var any any
	if err := json.Unmarshal(data, &any); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(any)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// The same history gives the same state: read from the file anew, and exported and
// imported by the program as it is, also after an op of today.
func TestARecordedSessionGoesOnAndIsTakenBack(t *testing.T) {
	withoutRace(t)
	t.Parallel()
	path := newPath(t)
	c := yearsOn()
	s, err := session.Open(path, c.now)
	if err != nil {
		t.Fatal(err)
	}
	states := map[string]string{}
	eachRecording(t, func(t *testing.T, _ int, r recording) {
		skipTwelve(t, testing.Short() || nextTables())
		head, err := s.Import(ctx, bytes.NewReader(r.Export))
		if err != nil {
			t.Fatalf("Import: %v", err)
		}
		w := get(t, s, head.ID).Work
		do(t, s, head.ID, note("a note of today", w, "picked up again"))
		if ready, _, _ := sortTicks(w); len(ready) > 0 {
			do(t, s, head.ID, tick("a tick of today", ready[0], true))
		}
		is := get(t, s, head.ID)
		states[head.ID] = state(t, is.Work)
		data, err := s.Export(head.ID)
		if err != nil {
			t.Fatalf("Export: %v", err)
		}
		again, err := s.Import(ctx, bytes.NewReader(data))
		if err != nil {
			t.Fatalf("Import of its own export: %v", err)
		}
		differ(t, "the state after its export and import", state(t, get(t, s, again.ID).Work), states[head.ID])
		if again.Done != is.Done || again.Total != is.Total || again.Stage != is.Stage {
			t.Errorf("the first page says %+v of what was imported, %+v of what was exported", again, is.Head)
		}
		if done, total := is.Work.Progress(); done != is.Done || total != is.Total {
			t.Errorf("the first page says %d of %d, the session %d of %d", is.Done, is.Total, done, total)
		}
	})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = open(t, path, c.now)
	for id, was := range states {
		differ(t, "the state read from the file anew", state(t, get(t, s, id).Work), was)
	}
}

// An edition is what the recordings say it is. Who changes the tables or a reckoning adds
// an edition in steps/edition.go, and records it beside the others.
func TestTheTablesChangeOnlyWithAnEdition(t *testing.T) {
	folder := filepath.Join(recordings, fmt.Sprint(steps.Edition()))
	files, _ := filepath.Glob(filepath.Join(folder, "*.txt"))
	if len(files) == 0 {
		t.Fatalf("edition %d has no recordings: go test ./session -run TestRecord -record %s", steps.Edition(), folder)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".txt")
		i := slices.IndexFunc(stories, func(s story) bool { return s.name == name })
		if i < 0 {
			t.Fatalf("there is no story %q for %s", name, file)
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		w, err := steps.Begin(json.RawMessage(stories[i].plan))
		if err != nil {
			t.Fatal(err)
		}
		if lines := differing(procedureOf(w), string(want)); lines != "" {
			t.Errorf("%s: the tables are others than edition %d was recorded with. Add edition %d in steps/edition.go, "+
				"with what was added and replaced, then record it: go test ./session -run TestRecord -record %s\n%s",
				name, steps.Edition(), steps.Edition()+1, filepath.Join(recordings, fmt.Sprint(steps.Edition()+1)), lines)
		}
	}
}

// What an edition had is there today, or edition.go says what became of it.
func TestNoTickIsGoneWithoutAWord(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(recordings, "*", "*.txt"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			id, isTick := strings.CutPrefix(line, "  ")
			id, _, _ = strings.Cut(strings.TrimSpace(id), " ")
			if !isTick || id == "needs" || id == "asks" {
				continue
			}
			if err := (steps.Op{Kind: steps.KindTick, Tick: id}).Had(); err != nil {
				t.Errorf("%s: %s is gone, and no edition says what became of it", file, id)
			}
		}
	}
}

// differing are the lines in which two texts differ, - as wanted and + as got, with what
// stands around them: at most 40.
func differing(got, want string) string {
	if got == want {
		return ""
	}
	diff := strings.TrimSpace(cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
	lines := strings.Split(diff, "\n")
	if len(lines) > 40 {
		lines = append(lines[:39], fmt.Sprintf("… and %d lines more", len(lines)-39))
	}
	return strings.Join(lines, "\n")
}

// nextTables tells whether this program has the tables of an edition to come.
func nextTables() bool { return os.Getenv("CORNERWISE_NEXT_EDITION") != "" }

// skipTwelve leaves out the recordings of twelve borders, which take longest to read, where
// they would be read for the second or third time.
func skipTwelve(t *testing.T, skip bool) {
	t.Helper()
	if skip && strings.HasPrefix(filepath.Base(t.Name()), "twelve") {
		t.Skip("it takes long")
	}
}
