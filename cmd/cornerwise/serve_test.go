package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// command is the built program, made once for all tests.
var command string

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "cornerwise")
	if err != nil {
		panic(err)
	}
	command = filepath.Join(folder, "cornerwise")
	if out, err := exec.Command("go", "build", "-o", command, ".").CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "go build: %v\n%s", err, out)
		os.Exit(1)
	}
	os.Setenv("CORNERWISE_NO_BROWSER", "true") // for each start of it below
	code := m.Run()
	os.RemoveAll(folder)
	os.Exit(code)
}

// long leaves a test out of the quick run: one that needs a browser, a crowd, or
// seconds of waiting.
func long(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("left out of the quick run (-short)")
	}
}

// A server is the command while it serves.
type server struct {
	t      testing.TB
	cmd    *exec.Cmd
	data   string // the folder
	url    string // as it printed it
	words  string // all that it printed up to "Ctrl-C"
	stderr *bytes.Buffer
}

var printedURL = regexp.MustCompile(`open +(http://\S+)/`)

// start serves on the data folder and a free port until the test ends.
func start(t testing.TB, data string, args ...string) *server {
	t.Helper()
	return startProgram(t, command, data, args...)
}

func startProgram(t testing.TB, program, data string, args ...string) *server {
	t.Helper()
	s := launch(context.Background(), t, program, data, args...)
	if s.url == "" {
		t.Fatalf("cornerwise: printed %q, want the address to open; stderr %s", s.words, s.stderr)
	}
	return s
}

// launch is startProgram for what may not start: then it has ended, and has no url. It
// ends with ctx too.
func launch(ctx context.Context, t testing.TB, program, data string, args ...string) *server {
	t.Helper()
	args = append([]string{"--listen", "127.0.0.1:0", "--data", data}, args...)
	return await(t, data, exec.CommandContext(ctx, program, args...))
}

// await starts the command, and is back once it serves or has ended.
func await(t testing.TB, data string, cmd *exec.Cmd) *server {
	t.Helper()
	s := &server{t: t, data: data, cmd: cmd, stderr: &bytes.Buffer{}}
	s.cmd.Stderr = s.stderr
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if s.cmd.ProcessState == nil {
			s.cmd.Process.Kill()
			s.cmd.Wait()
		}
	})
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		s.words += lines.Text() + "\n"
		if strings.HasPrefix(lines.Text(), "Ctrl-C") {
			break
		}
	}
	if found := printedURL.FindStringSubmatch(s.words); found != nil {
		s.url = found[1]
		return s
	}
	s.cmd.Wait()
	return s
}

// stop ends the server by a signal and says how long that took.
func (s *server) stop(by os.Signal) time.Duration {
	s.t.Helper()
	begun := time.Now()
	s.cmd.Process.Signal(by)
	if err := s.cmd.Wait(); err != nil {
		s.t.Errorf("%v: got %v, want exit 0; stderr %s", by, err, s.stderr)
	}
	return time.Since(begun)
}

func (s *server) call(method, path, body string, into any) (status int, err error) {
	req, _ := http.NewRequest(method, s.url+path, strings.NewReader(body))
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return 0, err
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err == nil && into != nil {
		err = json.Unmarshal(data, into)
	}
	return res.StatusCode, err
}

// once runs the command to its end, in an environment of its own.
func once(env []string, args ...string) (code int, stdout, stderr string) {
	cmd := exec.Command(command, args...)
	var out, errs bytes.Buffer
	cmd.Env, cmd.Stdout, cmd.Stderr = append(os.Environ(), env...), &out, &errs
	cmd.Run()
	return cmd.ProcessState.ExitCode(), out.String(), errs.String()
}

func TestServeSaysWhereAndStopsInTime(t *testing.T) {
	for _, by := range []os.Signal{syscall.SIGTERM, os.Interrupt} {
		data := filepath.Join(t.TempDir(), "new", "folder")
		s := start(t, data)
		var health struct{ OK bool }
		if status, err := s.call("GET", "/healthz", "", &health); status != 200 || !health.OK || err != nil {
			t.Errorf("GET /healthz: got %d %v %v, want 200 and ok", status, health, err)
		}
		if !strings.Contains(s.words, data) || !strings.Contains(s.words, "No other device can reach it") {
			t.Errorf("at the start: got %q, want the data folder and that it serves no one else", s.words)
		}
		// An idle connection and a silent one hold nothing up.
		silent, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer silent.Close()
		if took := s.stop(by); took > 2*time.Second {
			t.Errorf("%v: took %v, want at most 2 s", by, took)
		}
		if log := s.stderr.String(); !strings.Contains(log, "msg=start") || !strings.Contains(log, "msg=stop") {
			t.Errorf("log: got %q, want start and stop", log)
		}
	}
}

func TestTheDemoIsMadeOnce(t *testing.T) {
	data := t.TempDir()
	at := regexp.MustCompile(`demo session is at +http://[^/]+(/s/\w+)`)
	var first string
	for range 2 {
		s := start(t, data, "--demo")
		found := at.FindStringSubmatch(s.words)
		if found == nil {
			t.Fatalf("--demo: printed %q, want the session's address", s.words)
		}
		if first == "" {
			first = found[1]
		}
		var list struct {
			Sessions []struct{ ID, Title string }
		}
		s.call("GET", "/api/v1/sessions", "", &list)
		if found[1] != first || len(list.Sessions) != 1 || list.Sessions[0].Title != "Harbour lanterns" || "/s/"+list.Sessions[0].ID != first {
			t.Errorf("--demo: got %v at %s, want one session at %s", list, found[1], first)
		}
		s.stop(syscall.SIGTERM)
	}
}

func TestWhatCanNotBeServed(t *testing.T) {
	s := start(t, t.TempDir())
	busy := strings.TrimPrefix(s.url, "http://")
	file := filepath.Join(t.TempDir(), "file")
	os.WriteFile(file, nil, 0o600)
	free := []string{"--listen", "127.0.0.1:0"}
	for _, c := range []struct {
		name string
		env  []string
		args []string
		code int
		says string
	}{
		{"a port in use", nil, []string{"--listen", busy, "--data", t.TempDir()}, 1, "choose another port"},
		{"a folder that can't be made", nil, append(free, "--data", filepath.Join(file, "below")), 1, "can't be opened"},
		{"an unknown command", nil, []string{"quilt"}, 2, "no command"},
		{"an unknown option", nil, []string{"--colour"}, 2, "no option --colour"},
		{"an option without its value", nil, []string{"--data"}, 2, "needs a value"},
		{"a word too many", nil, []string{"--open", "please"}, 2, "not understood"},
		{"an address without a port", nil, []string{"--listen", "8370"}, 2, "with a port"},
		{"a port too high", nil, []string{"--listen", ":70000"}, 2, "with a port"},
		{"a name that is none", nil, []string{"--name", "sewing room"}, 2, "must be a word"},
		{"a name of the wide world", nil, []string{"--name", "cornerwise.example"}, 2, "must be a word"},
		{"a bad value in the environment", []string{"CORNERWISE_OPEN=perhaps"}, nil, 2, "CORNERWISE_OPEN"},
		{"a bad address in the environment", []string{"CORNERWISE_LISTEN=here"}, nil, 2, "with a port"},
		{"a flag before the environment", []string{"CORNERWISE_LISTEN=here"}, []string{"--listen", busy, "--data", t.TempDir()}, 1, "choose another port"},
		{"the data folder from the environment", []string{"CORNERWISE_DATA=" + filepath.Join(file, "below")}, free, 1, "can't be opened"},
		{"a bad word about the browser", []string{"CORNERWISE_NO_BROWSER=perhaps"}, nil, 2, "CORNERWISE_NO_BROWSER"},
	} {
		code, stdout, stderr := once(c.env, c.args...)
		if code != c.code || stdout != "" || !strings.Contains(stderr, c.says) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%s: cornerwise %v: got exit %d, %q, %q; want exit %d and a line with %q", c.name, c.args, code, stdout, stderr, c.code, c.says)
		}
	}
}

func TestHelp(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"-h"}, {"--help"}, {"restore", "--help"}, {"pair", "-h"}} {
		code, stdout, stderr := once(nil, args...)
		if code != 0 || !strings.Contains(stdout, "cornerwise plan FILE") || stderr != "" {
			t.Errorf("cornerwise %s: got exit %d, %q, %q; want the help", args, code, stdout, stderr)
		}
	}
	if _, stdout, _ := once(nil, "help", "plan"); stdout != planHelp {
		t.Errorf("cornerwise help plan: got %q, want that of plan", stdout)
	}
	for name := range commands {
		if !strings.Contains(help, "\n  cornerwise "+name) {
			t.Errorf("the help does not name the command %q", name)
		}
	}
}

// TestKillLosesNothing kills the server without warning while several clients
// tick, again and again on the same data: what was answered is there.
func TestKillLosesNothing(t *testing.T) {
	data := t.TempDir()
	var id, step string
	var acked sync.Map // op → rev
	rounds := 40
	if testing.Short() {
		rounds = 6
	}
	for round := range rounds {
		s := start(t, data)
		if round == 0 {
			var made struct{ ID string }
			plan := `{"center": {"width": "20", "length": "20"}, "borders": [{"cut": "3"}]}`
			if status, err := s.call("POST", "/api/v1/sessions", plan, &made); status != 201 {
				t.Fatalf("POST a plan: got %d, %v", status, err)
			}
			var state struct{ Here string }
			s.call("GET", "/api/v1/sessions/"+made.ID, "", &state)
			id, step = made.ID, state.Here
		}
		s.hold(id, &acked)
		var clients sync.WaitGroup
		for client := range 4 {
			clients.Go(func() {
				for i := 0; ; i++ {
					op := fmt.Sprintf("%d-%d-%d", round, client, i)
					var taken struct{ Rev int64 }
					status, err := s.call("POST", "/api/v1/sessions/"+id+"/ops",
						fmt.Sprintf(`{"op": %q, "kind": "note", "step": %q, "text": %q}`, op, step, op), &taken)
					if err != nil {
						return // killed
					}
					if status != 200 {
						t.Errorf("op %s: got %d, want 200", op, status)
						return
					}
					acked.Store(op, taken.Rev)
				}
			})
		}
		time.Sleep(time.Duration(20+37*round%90) * time.Millisecond)
		s.cmd.Process.Kill()
		s.cmd.Wait()
		clients.Wait()
	}
	s := start(t, data)
	if n := s.hold(id, &acked); n < 10 {
		t.Errorf("only %d ops were answered in %d rounds; this proves nothing", n, rounds)
	}
	s.stop(syscall.SIGTERM)
}

// revs are the ops of a session by their revision, every op once and in order.
func (s *server) revs(id string) map[string]int64 {
	s.t.Helper()
	var kept struct {
		History []struct {
			Rev int64
			Op  string
		}
	}
	if status, err := s.call("GET", "/api/v1/sessions/"+id+"/history", "", &kept); status != 200 {
		s.t.Fatalf("history: got %d, %v", status, err)
	}
	revs := map[string]int64{}
	for i, e := range kept.History {
		if revs[e.Op] != 0 || e.Rev != int64(i+1) {
			s.t.Errorf("history[%d]: got op %s rev %d, want every op once, in order", i, e.Op, e.Rev)
		}
		revs[e.Op] = e.Rev
	}
	return revs
}

// hold compares the history with what was answered.
func (s *server) hold(id string, acked *sync.Map) (n int) {
	s.t.Helper()
	revs := s.revs(id)
	acked.Range(func(op, rev any) bool {
		if n++; revs[op.(string)] != rev {
			s.t.Errorf("op %s was answered as rev %d: got rev %d in the history", op, rev, revs[op.(string)])
		}
		return true
	})
	return n
}
