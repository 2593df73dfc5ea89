//go:build linux

package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"

	"cornerwise/cmd/cornerwise/internal/powerloss"
)

var (
	powerStates = flag.Int("states", 0, "when the power goes: how many states of the disk of each scenario; 0 is a few")
	powerSeed   = flag.Uint64("seed", 1, "when the power goes: which states")
	powerKeep   = flag.String("keep", "", "when the power goes: the folder that states with a fault are laid out in")
)

// most is how many states of a scenario are looked at: in the usual run a few, and of a first
// start, which makes the most that is new, about all that there are.
func (s scenario) most() int {
	few := 20
	if strings.HasPrefix(s.name, "first start") {
		few = 60
	}
	return cmp.Or(*powerStates, few)
}

// looks are as many states as are looked at, at once.
var looks = make(chan struct{}, runtime.GOMAXPROCS(0))

// The power goes at any moment of what the program does. Whatever the disk then holds, the
// program starts on it and gives out all that it had answered (internal/powerloss has the model).
func TestNothingAnsweredIsLostWhenThePowerGoes(t *testing.T) {
	long(t)
	needStrace(t)
	for _, s := range scenarios {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			for _, finding := range s.lose(t, command) {
				t.Error(finding)
			}
		})
	}
}

// A sloppiness is a change of the program by which it does not wait for the disk.
type sloppiness struct {
	name, file string
	changes    []string // a text, and what stands there instead, again and again
	scenario   string
	seldom     bool // tried only where more states are asked for
}

var sloppy = []sloppiness{
	{name: "commits are not synced", file: "session/file.go", scenario: "ticks",
		changes: []string{"NoFreelistSync: true,", "NoFreelistSync: true, NoSync: true,"}},
	{name: "folders are not synced", file: "session/disk/sync.go", scenario: "backup while serving",
		changes: []string{`runtime.GOOS == "windows"`, `runtime.GOOS != ""`}},
	{name: "a file is not synced before it has its name", file: "session/disk/file.go", scenario: "backup while serving", seldom: true,
		changes: []string{"SyncFile(half)", "error(nil)"}},
	{name: "answered before the commit", file: "session/commit.go", scenario: "creation", seldom: true,
		changes: []string{
			"\treturn b, s.db.commit(tx)", "\tfor _, r := range requests {\n\t\tclose(r.done)\n\t}\n\treturn b, s.db.commit(tx)",
			"\t\tclose(r.done)\n\t}\n}\n\nfunc", "\t\tif b == nil || !b.wrote {\n\t\t\tclose(r.done)\n\t\t}\n\t}\n}\n\nfunc"}},
}

func TestWhoDoesNotWaitForTheDiskIsFoundOutWhenThePowerGoes(t *testing.T) {
	long(t)
	needStrace(t)
	for _, c := range sloppy {
		t.Run(c.name, func(t *testing.T) {
			if t.Parallel(); c.seldom && *powerStates == 0 {
				t.Skip("tried only where more is asked for (-states)")
			}
			s := scenarios[slices.IndexFunc(scenarios, func(s scenario) bool { return s.name == c.scenario })]
			found := s.lose(t, changed(t, filepath.Join("..", "..", c.file), c.changes))
			if len(found) == 0 {
				t.Errorf("%s: nothing was found, want that what was answered is gone", c.scenario)
			} else {
				t.Log(found[0])
			}
		})
	}
}

// changed is the program built with other texts in one of its files.
func changed(t *testing.T, file string, texts []string) (program string) {
	t.Helper()
	folder := t.TempDir()
	source, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(texts); i += 2 {
		if strings.Count(string(source), texts[i]) != 1 {
			t.Fatalf("%s has not the one %q to change any more", file, texts[i])
		}
		source = []byte(strings.Replace(string(source), texts[i], texts[i+1], 1))
	}
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	overlay, other := filepath.Join(folder, "overlay.json"), filepath.Join(folder, filepath.Base(file))
	list, _ := json.Marshal(map[string]map[string]string{"Replace": {path: other}})
	os.WriteFile(other, source, 0o600)
	os.WriteFile(overlay, list, 0o600)
	program = filepath.Join(folder, "changed")
	if out, err := exec.Command("go", "build", "-overlay", overlay, "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	return program
}

// lose records a scenario, and is what is wrong with the states in which the disk may be, each kind of fault once.
func (s scenario) lose(t *testing.T, program string) []string {
	r := &outage{t: t, scenario: s, program: program, root: t.TempDir()}
	r.data = filepath.Join(r.root, "data")
	for _, folder := range []string{r.data, filepath.Join(r.root, "elsewhere")} {
		if err := os.Mkdir(folder, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if s.before != nil {
		s.before(r)
	}
	var err error
	if r.first, err = powerloss.ReadFiles(r.root); err != nil {
		t.Fatal(err)
	}
	traces := t.TempDir()
	if r.program, err = powerloss.Traced(traces, program); err != nil {
		t.Fatal(err)
	}
	r.promises = nil
	s.record(r)
	if r.began != nil {
		r.began.stop(syscall.SIGTERM) // killed, it might leave a call half recorded
	}
	recording, err := powerloss.Read(traces, r.root, r.first)
	if err != nil {
		t.Fatal(err)
	}
	r.program = program
	j := newJudge(r)
	found := map[string]string{}
	var mu sync.Mutex
	var looking sync.WaitGroup
	var answers []int64
	for _, p := range r.promises {
		if p.answered != 0 {
			answers = append(answers, p.answered+1)
		}
	}
	states := recording.States(*powerSeed, s.most(), answers...)
	for _, state := range states {
		looks <- struct{}{}
		looking.Go(func() {
			defer func() { <-looks }()
			root := scratch(t)
			defer os.RemoveAll(root)
			read := j.look(state.Files(), root)
			mu.Lock()
			defer mu.Unlock()
			for _, m := range state.Moments {
				for _, finding := range j.findings(m, read) {
					kind := changing.ReplaceAllString(finding, "")
					if found[kind] == "" {
						found[kind] = fmt.Sprintf("%s, -seed %d: %s\nthe power went: %s%s", s.name, *powerSeed, finding, m, keep(t, state))
					}
				}
			}
		})
	}
	looking.Wait()
	if t.Logf("%d promises, %d states", len(r.promises), len(states)); len(r.promises) < 3 || len(states) < 15 {
		t.Errorf("%d promises and %d states prove nothing", len(r.promises), len(states))
	}
	return slices.Sorted(maps.Values(found))
}

// changing is what differs in findings that are alike.
var changing = regexp.MustCompile(`/\S+|\S*\d\S*|[a-z]{26}`)

// scratch is a folder in memory where there is such: nothing in it need outlast anything.
func scratch(t *testing.T) string {
	for _, in := range []string{"/dev/shm", ""} {
		if folder, err := os.MkdirTemp(in, "cornerwise"); err == nil {
			return folder
		}
	}
	t.Error("no folder can be made")
	return ""
}

// keep lays a state out where -keep says, and tells where.
func keep(t *testing.T, s *powerloss.State) string {
	if *powerKeep == "" {
		return "\n  -keep FOLDER lays it out"
	}
	err := os.MkdirAll(*powerKeep, 0o700)
	folder, err2 := os.MkdirTemp(*powerKeep, "state-")
	if err := errors.Join(err, err2, s.Files().Write(folder)); err != nil {
		t.Error(err)
	}
	return "\n  laid out in " + folder
}
