package main

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
)

const smallPlan = `{"title": "Harbour lanterns", "center": {"width": "20", "length": "20"}, "borders": [{"cut": "3"}]}`

// begin makes a session; step is the first of its steps.
func (s *server) begin() (id, step string) {
	s.t.Helper()
	var made struct{ ID string }
	if status, err := s.call("POST", "/api/v1/sessions", smallPlan, &made); status != 201 {
		s.t.Fatalf("POST a plan: got %d, %v", status, err)
	}
	var state struct{ Here string }
	s.call("GET", "/api/v1/sessions/"+made.ID, "", &state)
	return made.ID, state.Here
}

// here is the step that the session is at.
func (s *server) here(id string) string {
	s.t.Helper()
	var state struct{ Here string }
	s.call("GET", "/api/v1/sessions/"+id, "", &state)
	return state.Here
}

// A reply is what the server says to an op.
type reply struct {
	Rev   int64
	Error struct{ Code, Message string }
}

func (s *server) note(id, step, op string) (a reply, status int, err error) {
	status, err = s.call("POST", "/api/v1/sessions/"+id+"/ops",
		fmt.Sprintf(`{"op": %q, "kind": "note", "step": %q, "text": %q}`, op, step, op), &a)
	return a, status, err
}

// works has a command work on the server's data and a file, and is what it said.
func (s *server) works(command, file string) string {
	s.t.Helper()
	code, stdout, stderr := once(nil, command, "--data", s.data, file)
	if code != 0 {
		s.t.Fatalf("cornerwise %s: got exit %d, %q, %q; want exit 0", command, code, stdout, stderr)
	}
	return stdout
}

// sound has the command check the data, and fails when it finds a fault.
func sound(t *testing.T, data string) {
	t.Helper()
	if code, stdout, stderr := once(nil, "check", "--data", data); code != 0 || !strings.Contains(stdout, "is sound") {
		t.Errorf("cornerwise check: got exit %d, %q, %q; want it sound", code, stdout, stderr)
	}
}

func TestBackupWhileServingHoldsEveryAnsweredOp(t *testing.T) {
	data, away := t.TempDir(), t.TempDir()
	s := start(t, data)
	id, step := s.begin()
	var acked sync.Map
	var clients sync.WaitGroup
	stop := make(chan struct{})
	for client := range 4 {
		clients.Go(func() {
			for i := 0; ; i++ {
				select {
				case <-stop:
					return
				default:
				}
				op := fmt.Sprintf("%d-%d", client, i)
				a, status, err := s.note(id, step, op)
				if err != nil || status != 200 {
					t.Errorf("op %s while a backup is made: got %d, %v, want 200", op, status, err)
					return
				}
				acked.Store(op, a.Rev)
			}
		})
	}
	for n := range 3 {
		var before sync.Map
		acked.Range(func(op, rev any) bool { before.Store(op, rev); return true })
		file := filepath.Join(away, fmt.Sprint(n, ".db"))
		if code, stdout, stderr := once(nil, "backup", "--data", data, file); code != 0 || !strings.Contains(stdout, "1 session, ") {
			t.Fatalf("cornerwise backup: got exit %d, %q, %q; want exit 0 and 1 session", code, stdout, stderr)
		}
		other := t.TempDir()
		if code, _, stderr := once(nil, "restore", "--data", other, file); code != 0 {
			t.Fatalf("cornerwise restore: got exit %d, %q", code, stderr)
		}
		copied := start(t, other)
		copied.hold(id, &before)
		copied.stop(syscall.SIGTERM)
	}
	close(stop)
	clients.Wait()
	sound(t, data) // while it serves
	s.stop(syscall.SIGTERM)
	sound(t, data)
}

// someBackup is a data folder with a session of three ops and a backup of its own of
// two or three of them.
func someBackup(t *testing.T) (data, id string) {
	t.Helper()
	data = filepath.Join(t.TempDir(), "a sewing room")
	s := start(t, data)
	id, step := s.begin()
	s.note(id, step, "one")
	if code, _, stderr := once(nil, "backup", "--data", data, filepath.Join(t.TempDir(), "away.db")); code != 0 {
		t.Fatalf("cornerwise backup: got exit %d, %q", code, stderr)
	}
	s.note(id, step, "two")
	s.stop(syscall.SIGTERM)
	return data, id
}

var offered = regexp.MustCompile(`To take it: cornerwise (restore .*\.db'?)\.`)

func TestBrokenStoreIsRefusedAndTheNewestGoodBackupOffered(t *testing.T) {
	for _, c := range []struct {
		name  string
		harm  func(t *testing.T, file string)
		says  string
		aside bool
	}{
		{"cut short", func(t *testing.T, file string) { os.Truncate(file, 12000) }, "cut short at 12000 bytes", true},
		{"cut to nothing", func(t *testing.T, file string) { os.Truncate(file, 0) }, "cut short to nothing", true},
		{"bytes turned over", flipOps, "not as it was written", true},
		{"both first pages gone", func(t *testing.T, file string) { overwrite(t, file, 0, 8192) }, "not a file of this program", true},
		{"something else in its place", func(t *testing.T, file string) { os.WriteFile(file, []byte("quilts"), 0o600) }, "not a file of this program", true},
		{"gone", func(t *testing.T, file string) { os.Remove(file) }, "is gone, and its backups are there", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			data, id := someBackup(t)
			file := datafolder.Store(data)
			c.harm(t, file)
			harmed, _ := os.ReadFile(file)
			code, stdout, stderr := once(nil, "--listen", "127.0.0.1:0", "--data", data)
			if code != 1 || stdout != "" || strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, c.says) || !strings.Contains(stderr, "Nothing was changed") {
				t.Errorf("cornerwise: got exit %d, %q, %q; want exit 1 and a line with %q", code, stdout, stderr, c.says)
			}
			if now, _ := os.ReadFile(file); string(now) != string(harmed) {
				t.Error("cornerwise changed the store that it refused")
			}
			if code, _, stderr := once(nil, "check", "--data", data); code != 1 || !strings.Contains(stderr, "newest good backup") {
				t.Errorf("cornerwise check: got exit %d, %q; want exit 1 and the newest good backup", code, stderr)
			}
			found := offered.FindStringSubmatch(strings.TrimSpace(stderr))
			if found == nil {
				t.Fatalf("cornerwise: said %q, want the command that takes the backup", stderr)
			}
			out, err := exec.Command("sh", "-c", command+" "+found[1]).CombinedOutput()
			if err != nil || strings.Contains(string(out), "kept as") != c.aside {
				t.Fatalf("the command that it named: %v: %s", err, out)
			}
			if asides, _ := filepath.Glob(file + ".set-aside-*"); c.aside {
				if kept, err := os.ReadFile(asides[0]); err != nil || string(kept) != string(harmed) {
					t.Errorf("what was set aside is not what was there: %v", err)
				}
			}
			s := start(t, data)
			var acked sync.Map
			acked.Store("one", int64(2))
			s.hold(id, &acked)
			s.stop(syscall.SIGTERM)
		})
	}
}

func overwrite(t *testing.T, file string, at, n int) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	clear(data[at : at+n])
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// flipOps changes a byte wherever an op's text lies.
func flipOps(t *testing.T, file string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	turned := strings.ReplaceAll(string(data), `"text":"one"`, `"text":"ome"`)
	if turned == string(data) {
		t.Fatal("the op is not in the file")
	}
	if err := os.WriteFile(file, []byte(turned), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestBrokenStoreWithoutAGoodBackupSaysSo(t *testing.T) {
	data, _ := someBackup(t)
	file := datafolder.Store(data)
	os.Truncate(file, 12000)
	list, err := session.Backups(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range list {
		os.Truncate(b.Path, 12000)
	}
	if code, _, stderr := once(nil, "--listen", "127.0.0.1:0", "--data", data); code != 1 || !strings.Contains(stderr, "There is no good backup in the folder") {
		t.Errorf("cornerwise: got exit %d, %q; want it said that there is no good backup", code, stderr)
	}
	if now, _ := session.Backups(file); len(now) != len(list) {
		t.Errorf("%d backups are left of %d, want all", len(now), len(list))
	}
}

func TestNewestGoodBackupSkipsTheDamagedOnes(t *testing.T) {
	data, _ := someBackup(t)
	s := start(t, data)
	s.begin()
	once(nil, "backup", "--data", data, filepath.Join(t.TempDir(), "away.db"))
	s.stop(syscall.SIGTERM)
	file := datafolder.Store(data)
	list, _ := session.Backups(file)
	if len(list) < 2 {
		t.Fatalf("the backups are %v, want two and more", list)
	}
	flipOps(t, list[0].Path)
	os.Truncate(file, 12000)
	_, _, stderr := once(nil, "--listen", "127.0.0.1:0", "--data", data)
	if strings.Contains(stderr, list[0].Path) || !strings.Contains(stderr, list[1].Path) {
		t.Errorf("cornerwise: said %q, want the backup %s, not the damaged one after it", stderr, list[1].Path)
	}
}

func TestWhatCanNotBeKept(t *testing.T) {
	served, idle, away := t.TempDir(), t.TempDir(), t.TempDir()
	s := start(t, served)
	s.begin()
	good := filepath.Join(away, "good.db")
	if code, _, stderr := once(nil, "backup", "--data", served, good); code != 0 {
		t.Fatalf("cornerwise backup: got exit %d, %q", code, stderr)
	}
	bad := filepath.Join(away, "bad.db")
	copied, _ := os.ReadFile(good)
	os.WriteFile(bad, copied[:10000], 0o600)
	newer := filepath.Join(served, "..", "newer")
	makeNewer(t, newer)
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"a backup without a name", []string{"backup"}, 2, "name the FILE"},
		{"a restore without a name", []string{"restore"}, 2, "name the FILE"},
		{"two names", []string{"backup", "a", "b"}, 2, "takes one FILE"},
		{"an unknown option", []string{"check", "--colour"}, 2, "no option --colour"},
		{"a backup onto a file", []string{"backup", "--data", served, good}, 1, "is there already"},
		{"a backup of nothing", []string{"backup", "--data", idle, filepath.Join(away, "new.db")}, 1, "nothing to back up"},
		{"a backup into no folder", []string{"backup", "--data", served, filepath.Join(away, "no", "new.db")}, 1, "is not there"},
		{"a restore of a damaged backup while it serves", []string{"restore", "--data", served, bad}, 1, "choose another backup"},
		{"a restore of the store itself while it serves", []string{"restore", "--data", served, datafolder.Store(served)}, 1, "name a backup"},
		{"a restore of a damaged backup", []string{"restore", "--data", idle, bad}, 1, "choose another backup"},
		{"a restore of a backup that is not there", []string{"restore", "--data", idle, bad + ".no"}, 1, "no file"},
		{"a restore of a newer program's backup", []string{"restore", "--data", idle, datafolder.Store(newer)}, 1, "newer Cornerwise"},
		{"a check of a damaged backup", []string{"check", bad}, 1, "cut short at 10000 bytes"},
		{"a check of nothing", []string{"check", "--data", idle}, 1, "no sessions"},
		{"serving a newer program's store", []string{"--listen", "127.0.0.1:0", "--data", newer}, 1, "newer Cornerwise"},
	} {
		code, stdout, stderr := once(nil, c.args...)
		if code != c.code || stdout != "" || !strings.Contains(stderr, c.says) {
			t.Errorf("%s: cornerwise %v: got exit %d, %q, %q; want exit %d and %q", c.name, c.args, code, stdout, stderr, c.code, c.says)
		}
	}
	if left, _ := os.ReadDir(idle); len(left) > 0 {
		t.Errorf("refused restores left %v", left)
	}
	if code, stdout, stderr := once(nil, "check", good); code != 0 || !strings.Contains(stdout, "good.db is sound: 1 session, 1 op") {
		t.Errorf("cornerwise check FILE: got exit %d, %q, %q; want it sound", code, stdout, stderr)
	}
}

func TestOnlyTheOwnerMayAskTheServer(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	s.begin()
	file := filepath.Join(data, "cornerwise.serving")
	info, err := os.Stat(file)
	if err != nil || info.Mode() != 0o600 {
		t.Fatalf("%s has the mode %v, %v, want it for the owner only", "cornerwise.serving", info.Mode(), err)
	}
	written, _ := os.ReadFile(file)
	address, word, _ := strings.Cut(string(written), " ")
	// A claim is a number used once, and a proof that its sender has the word.
	claim := func(word, method, path string) string {
		mac := hmac.New(sha256.New, []byte(word))
		fmt.Fprintf(mac, "ask\nonce\n%s\n%s", method, path)
		return "once " + hex.EncodeToString(mac.Sum(nil))
	}
	for _, c := range []struct {
		name, claim string
		want        int
	}{
		{"without a claim", "", 401},
		{"with the word itself", word, 401},
		{"with a claim by another word", claim("!"+word[1:], "GET", "/check"), 401},
		{"with the claim of another address", claim(word, "GET", "/proof"), 401},
		{"with the claim of another method", claim(word, "POST", "/check"), 401},
		{"with its claim", claim(word, "GET", "/check"), 200},
	} {
		req, _ := http.NewRequest("GET", "http://"+address+"/check", nil)
		req.Header.Set("Authorization", c.claim)
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		if res.StatusCode != c.want {
			t.Errorf("asked %s: got %d, want %d", c.name, res.StatusCode, c.want)
		}
	}
	s.stop(syscall.SIGTERM)
	if strings.Contains(s.stderr.String(), word) {
		t.Error("the word is in the log")
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("the file with the word is there after the server has gone")
	}
	// What a killed one leaves is no server.
	os.WriteFile(file, written, 0o600)
	sound(t, data)
}
