//go:build linux

package main

import (
	"context"
	"io"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/local"
)

// systemctl does for a user what the real one does with units on the disk, notes what it was
// asked, and starts what a unit says.
const systemctl = `#!/bin/sh
echo "$@" >>"$HOME/asked"
units="$HOME/.config/systemd/user"
case "$1" in
enable) mkdir -p "$units/default.target.wants"; ln -sf "../$3" "$units/default.target.wants/$3" ;;
disable) rm -f "$units/default.target.wants/$3" ;;
start) sh -c "$(sed -n -e 's/%%/%/g; s/[$][$]/\\$/g; s/^ExecStart=//p' "$units/$3")" >/dev/null 2>&1 & ;;
esac
`

// A home is a user with a systemd of their own.
type home struct {
	t    *testing.T
	at   string
	unit string
	env  []string
}

func newHome(t *testing.T) home {
	t.Helper()
	at := t.TempDir()
	for path, text := range map[string]string{"bin/systemctl": systemctl, "run/systemd/private": ""} {
		file := filepath.Join(at, path)
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	return home{t, at, filepath.Join(at, ".config", "systemd", "user", "cornerwise.service"),
		[]string{"HOME=" + at, "XDG_CONFIG_HOME=", "XDG_DATA_HOME=", "XDG_RUNTIME_DIR=" + filepath.Join(at, "run"),
			"PATH=" + filepath.Join(at, "bin") + ":" + os.Getenv("PATH"),
			"TMPDIR=/nosuch"}} // the built program lies in the real one
}

// service is a deed of the command, which must be done.
func (h home) service(args ...string) string {
	h.t.Helper()
	code, stdout, stderr := once(h.env, append([]string{"service"}, args...)...)
	if code != 0 {
		h.t.Fatalf("cornerwise service %s: exit %d, %s", args, code, stderr)
	}
	return stdout
}

// verify has systemd read the unit, where there is one.
func (h home) verify() {
	h.t.Helper()
	if _, err := exec.LookPath("systemd-analyze"); err != nil {
		return
	}
	verify := exec.Command("systemd-analyze", "verify", "--user", h.unit)
	verify.Env = append(os.Environ(), h.env...)
	out, err := verify.CombinedOutput()
	if err != nil || strings.Contains(string(out), "cornerwise") {
		h.t.Errorf("systemd-analyze verify: %v\n%s", err, out)
	}
}

// The computer starts it, with the options that it was given and a folder with blanks and signs
// in it; and it does not any more.
func TestTheComputerStartsIt(t *testing.T) {
	h := newHome(t)
	data := filepath.Join(h.at, "my 100% $quilts")
	if said := h.service("status", "--data", data); said != "It starts when you open it.\n" {
		t.Errorf("at first: %q", said)
	}
	t.Cleanup(func() { // what the computer started is none of the test's processes
		page, err := local.Page(context.Background(), data)
		if err != nil {
			return
		}
		if res, err := http.PostForm(page+"/devices/stop", nil); err == nil {
			res.Body.Close()
		}
	})
	said := h.service("install", "--data", data, "--listen", "127.0.0.1:0", "--tls")
	page, err := local.Page(t.Context(), data)
	if err != nil || !strings.Contains(said, "It starts when you log in") || !strings.Contains(said, "It runs now: "+page) {
		t.Fatalf("install: said %q, and it runs at %q, %v", said, page, err)
	}
	unit, err := os.ReadFile(h.unit)
	if err != nil {
		t.Fatal(err)
	}
	want := `ExecStart="` + command + `" "--no-browser" "--no-window" "--data" "` +
		strings.NewReplacer("%", "%%", "$", "$$").Replace(data) + `" "--listen" "127.0.0.1:0" "--tls"` + "\n"
	if !strings.Contains(string(unit), want) || !strings.Contains(string(unit), "WantedBy=default.target\n") {
		t.Errorf("the unit is\n%s\nwant in it\n%s", unit, want)
	}
	h.verify()
	if said := h.service("status", "--data", data); !strings.Contains(said, "It starts when you log in") || !strings.Contains(said, page) {
		t.Errorf("status: %q", said)
	}
	h.service("install", "--data", data) // once more, with other options, beside the one that runs
	if unit, _ := os.ReadFile(h.unit); strings.Contains(string(unit), "--tls") {
		t.Errorf("installed anew without --tls: the unit is\n%s", unit)
	}
	if said := h.service("remove", "--data", data); !strings.Contains(said, "does not start by itself any more") {
		t.Errorf("remove: %q", said)
	}
	if _, err := os.Stat(h.unit); !os.IsNotExist(err) {
		t.Errorf("after remove: the unit: %v, want it gone", err)
	}
	h.service("remove", "--data", data) // as often as one likes
	if said := h.service("status", "--data", data); !strings.HasPrefix(said, "It starts when you open it.\nIt runs now") {
		t.Errorf("after remove: %q", said)
	}
	res, err := http.PostForm(page+"/devices/stop", nil)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	if said, _ := io.ReadAll(res.Body); res.StatusCode != http.StatusOK || !strings.Contains(string(said), "Cornerwise is stopped") {
		t.Errorf("stop it by its page: %d %s", res.StatusCode, said)
	}
	for end := time.Now().Add(patience); ; time.Sleep(10 * time.Millisecond) {
		if _, err := local.Page(t.Context(), data); err != nil {
			break
		} else if time.Now().After(end) {
			t.Fatal("it goes on after it said that it is stopped")
		}
	}
}

// The usual folder may be named by an environment that is not there when one logs in.
func TestTheComputerStartsItOnTheSameFolder(t *testing.T) {
	h := newHome(t)
	above := t.TempDir()
	data := filepath.Join(above, "cornerwise")
	start(t, data)
	code, _, stderr := once(append(h.env, "XDG_DATA_HOME="+above), "service", "install")
	unit, err := os.ReadFile(h.unit)
	if want := `"--data" "` + data + `"`; code != 0 || err != nil || !strings.Contains(string(unit), want) {
		t.Errorf("exit %d, %s%v; the unit is\n%s\nwant in it %s", code, stderr, err, unit, want)
	}
}

// A double click is two requests at once, and does what one does.
func TestTheSwitchIsTouchedTwiceAtOnce(t *testing.T) {
	h := newHome(t)
	cmd := exec.Command(command, "--listen", "127.0.0.1:0", "--data", t.TempDir())
	cmd.Env = append(os.Environ(), h.env...)
	s := await(t, "", cmd)
	for _, c := range []struct{ on, want string }{{"true", "on"}, {"true", "on"}, {"false", "off"}} {
		var both sync.WaitGroup
		for range 8 {
			both.Go(func() {
				res, err := http.PostForm(s.url+"/devices/at-login", url.Values{"on": {c.on}})
				if err != nil {
					t.Error(err)
					return
				}
				if res.Body.Close(); res.StatusCode != http.StatusOK {
					t.Errorf("switched to %s: %s", c.on, res.Status)
				}
			})
		}
		both.Wait()
		if page := s.page("/devices"); !strings.Contains(page, "Start with this computer: "+c.want) {
			t.Errorf("switched to %s at once: the page does not say that it is %s", c.on, c.want)
		}
	}
}

// Wherever the program and the quilts lie, the unit names them, and holds nothing else; or it is
// said that it can't be.
func TestTheUnitNamesAProgramInAnyFolder(t *testing.T) {
	for folder, says := range map[string]string{
		"my 100% $HOME; ü":        "It starts when you log in",
		`it's "mine" \x41`:        "systemd starts no program",
		"two\nExecStartPre=lines": "systemd starts no program",
	} {
		h := newHome(t)
		program := filepath.Join(h.at, folder, "cornerwise")
		if err := os.Mkdir(filepath.Dir(program), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Link(command, program); err != nil {
			t.Skip(err)
		}
		data := filepath.Join(h.at, "data of "+folder)
		start(t, data)
		cmd := exec.Command(program, "service", "install", "--data", data)
		cmd.Env = append(os.Environ(), h.env...)
		if out, _ := cmd.CombinedOutput(); !strings.Contains(string(out), says) {
			t.Errorf("the program in %q: said %q, want %q", folder, out, says)
		}
		if _, err := os.Stat(h.unit); err == nil {
			h.verify()
		}
		h.service("install", "--data", data)
		h.verify()
		unit, err := os.ReadFile(h.unit)
		if n := strings.Count(string(unit), "\n"); err != nil || n != 10 {
			t.Errorf("the quilts in %q: the unit has %d lines, %v; want 10:\n%s", data, n, err, unit)
		}
	}
}

// What this computer does not take leaves what it had.
func TestAStartThatIsNotTakenLeavesTheOneBefore(t *testing.T) {
	h := newHome(t)
	data := t.TempDir()
	start(t, data)
	h.service("install", "--data", data)
	before, err := os.ReadFile(h.unit)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(h.at, "bin", "systemctl"), []byte("#!/bin/sh\nexit 1\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	code, _, stderr := once(h.env, "service", "install", "--data", data, "--tls")
	if code != 1 || !strings.Contains(stderr, "Nothing was changed") {
		t.Errorf("exit %d, %q; want 1, and that nothing was changed", code, stderr)
	}
	if after, err := os.ReadFile(h.unit); err != nil || string(after) != string(before) {
		t.Errorf("the unit is %q, %v; want it as before: %q", after, err, before)
	}
}

// The page of devices has the switch, and says so where there is none to be had.
func TestTheSwitchOnThePageOfDevices(t *testing.T) {
	h := newHome(t)
	cmd := exec.Command(command, "--listen", "127.0.0.1:0", "--data", t.TempDir())
	cmd.Env = append(os.Environ(), h.env...)
	s := await(t, "", cmd)
	says := func(want string) {
		t.Helper()
		if page := strings.Join(strings.Fields(s.page("/devices")), " "); !strings.Contains(page, want) {
			t.Errorf("the page of devices has no %q", want)
		}
	}
	turn := func(on string) (status int) {
		t.Helper()
		res, err := http.PostForm(s.url+"/devices/at-login", url.Values{"on": {on}})
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		return res.StatusCode
	}
	says("Start with this computer: off")
	if status := turn("true"); status != http.StatusOK {
		t.Errorf("switched on: %d", status)
	}
	says("Start with this computer: on")
	if _, err := os.Stat(h.unit); err != nil {
		t.Errorf("switched on: %v", err)
	}
	unit, err := os.ReadFile(h.unit)
	if err != nil {
		t.Fatal(err)
	}
	moved := strings.Replace(string(unit), command, "/elsewhere/cornerwise", 1)
	if err := os.WriteFile(h.unit, []byte(moved), 0o600); err != nil {
		t.Fatal(err)
	}
	says("a Cornerwise at another place starts. Switch it off and on again to start this one.")
	turn("false")
	says("Start with this computer: off")
	if _, err := os.Stat(h.unit); !os.IsNotExist(err) {
		t.Errorf("switched off: %v, want no unit", err)
	}

	if err := os.RemoveAll(filepath.Join(h.at, "run")); err != nil { // the user's systemd ends
		t.Fatal(err)
	}
	says("This user has no systemd that runs here")
	for _, on := range []string{"true", "false"} {
		if status := turn(on); status != http.StatusConflict {
			t.Errorf("switched to %s where that can't be had: %d, want 409", on, status)
		}
	}
	for _, deed := range []string{"install", "remove"} {
		code, _, stderr := once(h.env, "service", deed)
		if code != 1 || !strings.Contains(stderr, "no systemd that runs here") || strings.Contains(stderr, "..") {
			t.Errorf("cornerwise service %s: exit %d, %q", deed, code, stderr)
		}
	}
}

// A unit that somebody wrote by hand is left alone.
func TestAUnitByHandIsLeftAlone(t *testing.T) {
	h := newHome(t)
	if err := os.MkdirAll(filepath.Dir(h.unit), 0o700); err != nil {
		t.Fatal(err)
	}
	const own = "[Service]\nExecStart=/opt/cornerwise --listen :9000\nNice=5\n"
	if err := os.WriteFile(h.unit, []byte(own), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, deed := range []string{"install", "remove"} {
		code, _, stderr := once(h.env, "service", deed, "--data", t.TempDir())
		if code != 1 || !strings.Contains(stderr, "was not written by Cornerwise") {
			t.Errorf("cornerwise service %s: exit %d, %q", deed, code, stderr)
		}
		if unit, err := os.ReadFile(h.unit); err != nil || string(unit) != own {
			t.Errorf("after %s: the unit is %q, %v; want it as it was", deed, unit, err)
		}
	}
}

// What does not stay is not started later; and what is asked for is named.
func TestWhatTheComputerIsNotAskedToStart(t *testing.T) {
	h := newHome(t)
	for _, c := range []struct {
		args []string
		env  string
		code int
		says string
	}{
		{[]string{"install"}, "TMPDIR=" + filepath.Dir(filepath.Dir(command)), 1, "Put it where it stays"},
		{nil, "", 2, "say install, remove or status"},
		{[]string{"begin"}, "", 2, `"begin" is not understood`},
		{[]string{"install", "--colour"}, "", 2, "no option --colour"},
	} {
		code, _, stderr := once(append(h.env, c.env), append([]string{"service"}, c.args...)...)
		if code != c.code || !strings.Contains(stderr, c.says) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("cornerwise service %s: exit %d, %q; want %d and %q", c.args, code, stderr, c.code, c.says)
		}
	}
	if _, err := os.Stat(h.unit); !os.IsNotExist(err) {
		t.Errorf("the unit: %v, want none", err)
	}
}
