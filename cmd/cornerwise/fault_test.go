//go:build linux

package main

import (
	"crypto/sha256"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
)

// A fault is what the system does to every call of a kind, or the little that it lets a
// process have.
type fault struct {
	name   string
	inject string // for strace
	limit  string // for ulimit
	passes bool   // the deed can be done nevertheless
}

var faults = []fault{
	{name: "no space for a file", limit: "-f 1"},
	{name: "space for half a file", limit: "-f 40"},
	{name: "the disk fails when it is synced", inject: "fsync,fdatasync:error=EIO"},
	{name: "the disk turns out full when it is synced", inject: "fsync,fdatasync:error=ENOSPC"},
	{name: "no name can be made", inject: "linkat,renameat,renameat2:error=EROFS"},
	{name: "no space for a name", inject: "linkat,renameat,renameat2:error=ENOSPC"},
	{name: "no second name can be made", inject: "linkat:error=EPERM", passes: true},
	{name: "no lock can be had", inject: "flock:error=ENOLCK"},
	{name: "seven files can be open", limit: "-n 7"},
	{name: "eight files can be open", limit: "-n 8"},
}

// An edge is a deed by which names change on the disk.
type edge struct {
	name    string
	prepare func(t *testing.T, data, away string) // from a store with a session, and a backup of it
	args    func(data, away string) []string
}

func serving(more ...string) func(data, away string) []string {
	return func(data, _ string) []string {
		return append([]string{"--listen", "127.0.0.1:0", "--data", data}, more...)
	}
}

func withFile(command string) func(data, away string) []string {
	return func(data, away string) []string { return []string{command, "--data", data, away} }
}

var edges = []edge{
	{"the first start", func(_ *testing.T, data, _ string) { os.RemoveAll(data) }, serving()},
	{"the first start with --tls", func(_ *testing.T, data, _ string) { os.RemoveAll(data) }, serving("--tls")},
	{"the start on an older store", olderStore, serving()},
	{"a backup", func(_ *testing.T, _, away string) { os.Remove(away) }, withFile("backup")},
	{"a restore", func(*testing.T, string, string) {}, withFile("restore")},
	{"a restore where there is nothing", func(_ *testing.T, data, _ string) { os.RemoveAll(data) }, withFile("restore")},
}

func olderStore(t *testing.T, data, _ string) {
	old, err := os.ReadFile(filepath.Join("..", "..", "testdata", "stores", "1.db"))
	if err == nil {
		err = os.WriteFile(datafolder.Store(data), old, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Where a deed can't be done, that is said in a sentence, the store is as it was, nothing half
// made is left, and afterwards the deed can be done.
func TestAFaultAtEveryEdgeIsSaidAndLeavesNothingHalfMade(t *testing.T) {
	long(t)
	needStrace(t)
	for _, e := range edges {
		for _, f := range faults {
			t.Run(e.name+", "+f.name, func(t *testing.T) {
				t.Parallel()
				folder := t.TempDir()
				data, away := filepath.Join(folder, "share", "quilts"), filepath.Join(folder, "away.db")
				s := start(t, data)
				s.begin()
				s.works("backup", away)
				s.stop(syscall.SIGTERM)
				e.prepare(t, data, away)
				before := sum(datafolder.Store(data))
				done, said := f.run(t, e.args(data, away))
				switch last := strings.TrimSpace(said); {
				case strings.Contains(said, "panic") || strings.Contains(said, "goroutine ") || strings.Contains(said, "fatal error"):
					t.Errorf("it ended by itself: %s", said)
				case strings.Contains(said, "can't be used") || strings.Contains(said, "choose another backup"):
					t.Errorf("it blames the sessions or the backup: %s", said)
				case f.passes && !done:
					t.Errorf("it was not done: %s", said)
				case !done && !strings.HasSuffix(last, "."):
					t.Errorf("it said %q, want a sentence", last)
				case !done && before != "" && sum(datafolder.Store(data)) != before:
					t.Errorf("the store is another than it was, after %q", last)
				}
				filepath.WalkDir(folder, func(path string, _ os.DirEntry, err error) error {
					if strings.HasSuffix(path, ".half-made") || strings.HasSuffix(path, ".new") || strings.Contains(path, ".taken-back") {
						t.Errorf("it left %s", path)
					}
					return err
				})
				if e.name == "a backup" {
					os.Remove(away)
				}
				if again, said := (fault{}).run(t, e.args(data, away)); !again {
					t.Errorf("without the fault it was not done: %s", said)
				}
				sound(t, data)
			})
		}
	}
}

// Where no more connections can be opened the server waits until there are fewer.
func TestNoMoreOpenFilesEndNothing(t *testing.T) {
	long(t)
	few := filepath.Join(t.TempDir(), "few")
	if err := os.WriteFile(few, []byte("#!/bin/sh\nulimit -n 24\nexec '"+command+"' \"$@\"\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, flags := range [][]string{nil, {"--tls"}} {
		s := startProgram(t, few, t.TempDir(), flags...)
		id, step := s.begin()
		var open []net.Conn
		for range 60 {
			if conn, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://")); err == nil {
				open = append(open, conn)
			}
		}
		time.Sleep(300 * time.Millisecond) // in which it fails to take them
		for _, conn := range open {
			conn.Close()
		}
		for end := time.Now().Add(patience); ; time.Sleep(20 * time.Millisecond) {
			if _, status, err := s.note(id, step, "afterwards"); status == 200 {
				break
			} else if time.Now().After(end) {
				t.Fatalf("%v: an op afterwards: got %d, %v; stderr %s", flags, status, err, s.stderr)
			}
		}
		s.stop(syscall.SIGTERM)
	}
}

// sum tells whether a file is as it was; "" where there is none.
func sum(path string) string {
	data, err := os.ReadFile(path)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%x", sha256.Sum256(data))
}

// run has the command do something under the fault, and tells whether it was done, or a
// server began, and what was said otherwise.
func (f fault) run(t *testing.T, args []string) (done bool, said string) {
	t.Helper()
	line := append([]string{command}, args...)
	if f.inject != "" {
		calls, _, _ := strings.Cut(f.inject, ":")
		line = append([]string{"strace", "-D", "-f", "-qq", "--seccomp-bpf", "-e", "signal=none", "-o", os.DevNull,
			"-e", "trace=" + calls, "-e", "inject=" + f.inject}, line...)
	}
	if f.limit != "" {
		line = append([]string{"sh", "-c", "ulimit " + f.limit + `; exec "$@"`, "sh"}, line...)
	}
	cmd := exec.Command(line[0], line[1:]...)
	// Where processors are rationed, Go keeps up to two files open to know how many it has: not
	// here, so that the limits leave the same number of files on every machine.
	cmd.Env = append(os.Environ(), "GODEBUG=containermaxprocs=0")
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	var words strings.Builder
	for block := make([]byte, 4096); ; {
		n, err := out.Read(block)
		words.Write(block[:n])
		if strings.Contains(words.String(), "Ctrl-C stops it") {
			done = true
			cmd.Process.Signal(syscall.SIGTERM)
			io.Copy(io.Discard, out)
			break
		}
		if err != nil {
			break
		}
	}
	return cmd.Wait() == nil || done, errs.String()
}

// needStrace fails under CI where nothing can be traced, and elsewhere leaves the test out.
func needStrace(t *testing.T) {
	t.Helper()
	if out, err := exec.Command("strace", "-D", "-f", "--seccomp-bpf", "-o", os.DevNull, "true").CombinedOutput(); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("strace: %v: %s; .ci/test installs it", err, out)
		}
		t.Skipf("strace: %v: %s", err, out)
	}
}

// inject has strace do something to calls of a server that runs, until end is called.
func (s *server) inject(what string) (trace string, end func()) {
	s.t.Helper()
	trace = filepath.Join(s.t.TempDir(), "trace")
	calls, _, _ := strings.Cut(what, ":")
	cmd := exec.Command("strace", "-f", "-ttt", "-T", "-e", "signal=none", "-o", trace, "-p", strconv.Itoa(s.cmd.Process.Pid),
		"-e", "trace=exit_group,"+calls, "-e", "inject="+what)
	said, err := cmd.StderrPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		s.t.Fatal(err)
	}
	said.Read(make([]byte, 1000)) // that it is attached
	end = sync.OnceFunc(func() {
		cmd.Process.Signal(os.Interrupt)
		cmd.Wait()
	})
	s.t.Cleanup(end)
	return trace, end
}

// A commit syncs what it wrote, then which pages count. Where the second sync fails nobody
// knows whether the disk has the op: it is neither answered nor shown.
func TestADiskThatFailsIsSaidAndNothingUnansweredIsShown(t *testing.T) {
	long(t)
	needStrace(t)
	for _, which := range []string{"first", "second"} {
		data := t.TempDir()
		s := start(t, data)
		id, step := s.begin()
		when := map[string]string{"first": "1", "second": "2"}[which]
		_, end := s.inject("fdatasync:error=EIO:when=" + when)
		var acked sync.Map
		var refused reply
		for n := 0; refused.Error.Code == "" && n < 50; n++ { // each thread counts its syncs by itself
			op := fmt.Sprint("op-", n)
			a, status, err := s.note(id, step, op)
			switch {
			case err != nil:
				t.Fatal(err)
			case status == 200:
				acked.Store(op, a.Rev)
			default:
				refused = a
			}
		}
		end()
		if refused.Error.Code != "disk-failed" {
			t.Fatalf("the %s sync fails: got %+v, want disk-failed", which, refused.Error)
		}
		var kept struct{ History []struct{ Op string } }
		if status, err := s.call("GET", "/api/v1/sessions/"+id+"/history", "", &kept); err != nil || status != 200 && status != 503 {
			t.Errorf("the %s sync failed: the history is answered %d, %v, want 200 or 503", which, status, err)
		}
		for _, e := range kept.History {
			if _, answered := acked.Load(e.Op); !answered && strings.HasPrefix(e.Op, "op-") {
				t.Errorf("the %s sync failed: the history has %s, which was not answered", which, e.Op)
			}
		}
		s.stop(syscall.SIGTERM)
		sound(t, data)
		s = start(t, data)
		s.hold(id, &acked)
		if _, status, err := s.note(id, step, "after"); status != 200 {
			t.Errorf("an op after a start: got %d, %v", status, err)
		}
		s.stop(syscall.SIGTERM)
	}
}

// A stop does not wait for a disk that takes longer than a stop may.
func TestAStopOnASlowDiskIsAStop(t *testing.T) {
	long(t)
	needStrace(t)
	data := t.TempDir()
	s := start(t, data)
	id, step := s.begin()
	var acked sync.Map
	a, _, _ := s.note(id, step, "before")
	acked.Store("before", a.Rev)
	trace, _ := s.inject("fdatasync:delay_enter=3000000")
	asked := make(chan struct{})
	go func() {
		defer close(asked)
		if a, status, _ := s.note(id, step, "meanwhile"); status == 200 {
			acked.Store("meanwhile", a.Rev)
		}
	}()
	time.Sleep(300 * time.Millisecond) // in which the op comes to the disk
	signaled := time.Now()
	s.stop(syscall.SIGTERM)
	<-asked
	// The system keeps the thread that waits for the disk; the program asks for its end before.
	written, err := os.ReadFile(trace)
	if err != nil {
		t.Fatal(err)
	}
	before, _, ended := strings.Cut(string(written), " exit_group")
	at, err := strconv.ParseFloat(before[strings.LastIndexByte(before, ' ')+1:], 64)
	if took := time.UnixMicro(int64(at * 1e6)).Sub(signaled); !ended || err != nil || took > 2*time.Second {
		t.Errorf("the program ended %v after SIGTERM (%v), want 2 s at most", took, err)
	}
	sound(t, data)
	s = start(t, data)
	s.hold(id, &acked)
	s.stop(syscall.SIGTERM)
}

// bbolt shows a commit in its map before the disk has it. Here each sync takes long, and
// devices read meanwhile: what they get is on the disk.
func TestADeviceIsShownOnlyWhatIsOnTheDisk(t *testing.T) {
	long(t)
	needStrace(t)
	data := t.TempDir()
	s := start(t, data)
	id, step := s.begin()
	s.stop(syscall.SIGTERM)
	s = start(t, data) // nobody has looked at the session yet
	trace, end := s.inject("fdatasync:delay_enter=400000")
	reads := map[string]func() (rev int64){
		"the session": func() int64 {
			var state struct{ Rev int64 }
			s.call("GET", "/api/v1/sessions/"+id, "", &state)
			return state.Rev
		},
		"the history": func() int64 { return int64(len(s.revs(id))) },
		"the list": func() int64 {
			var list struct{ Sessions []struct{ Rev int64 } }
			s.call("GET", "/api/v1/sessions", "", &list)
			return list.Sessions[0].Rev
		},
	}
	type sight struct {
		of   string
		when time.Time
	}
	shown := make(chan sight, len(reads))
	for name, read := range reads {
		go func() {
			for read() < 2 {
				time.Sleep(time.Millisecond)
			}
			shown <- sight{name, time.Now()}
		}()
	}
	if _, status, err := s.note(id, step, "one"); status != 200 {
		t.Fatalf("an op: got %d, %v", status, err)
	}
	var first []sight
	for range reads {
		first = append(first, <-shown)
	}
	end()
	synced := lastSync(t, trace)
	for _, s := range first {
		if s.when.Before(synced) {
			t.Errorf("%s had the op %v before the disk had it", s.of, synced.Sub(s.when))
		}
	}
	s.stop(syscall.SIGTERM)
}

// lastSync is when the last sync of a trace was done.
func lastSync(t *testing.T, trace string) time.Time {
	t.Helper()
	written, err := os.ReadFile(trace)
	if err != nil {
		t.Fatal(err)
	}
	var done time.Time
	syncs := 0
	for line := range strings.Lines(string(written)) {
		var thread int
		var began, took float64
		_, end, _ := strings.Cut(line, " <")
		if n, _ := fmt.Sscanf(line, "%d %f fdatasync", &thread, &began); n != 2 {
			continue
		}
		if n, _ := fmt.Sscanf(end, "%f>", &took); n == 1 {
			syncs++
			done = time.UnixMicro(int64((began + took) * 1e6))
		}
	}
	if syncs < 2 {
		t.Fatalf("the trace has %d syncs, want the two of a commit: %s", syncs, written)
	}
	return done
}
