//go:build unix

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// A firefox is a window of the third engine, worked by the W3C's WebDriver BiDi (Debian's
// firefox-esr needs no other driver).
type firefox struct {
	t      *testing.T
	conn   *websocket.Conn
	window string
	last   int // number of the last command
}

// fewCalls keeps it from calling home.
const fewCalls = `user_pref("app.update.enabled", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("toolkit.telemetry.enabled", false);
user_pref("browser.safebrowsing.downloads.enabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("services.settings.server", "http://127.0.0.1:1");
`

// newFirefox opens a window. Where there is none the test fails under CI and is left out
// elsewhere.
func newFirefox(t *testing.T) *firefox {
	t.Helper()
	long(t)
	path, err := exec.LookPath("firefox-esr")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no Firefox found; .ci/test installs one")
		}
		t.Skip("no Firefox found; install firefox-esr, or run .ci/test")
	}
	profile, err := os.MkdirTemp("", "firefox")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(profile) }) // it may still write there as it ends
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(fewCalls), 0o600); err != nil {
		t.Fatal(err)
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	port := free.Addr().(*net.TCPAddr).Port
	free.Close()
	cmd := exec.Command(path, "--headless", "--no-remote", "--profile", profile, fmt.Sprintf("--remote-debugging-port=%d", port), "about:blank")
	cmd.Env = append(os.Environ(), "HOME="+profile)
	told, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	listens := make(chan bool, 1)
	go func() { // until its end, or it would wait for who reads
		for lines := bufio.NewScanner(told); lines.Scan(); {
			if strings.Contains(lines.Text(), "WebDriver BiDi listening") {
				listens <- true
			}
		}
	}()
	select {
	case <-listens:
	case <-time.After(answersIn):
		t.Fatal("Firefox did not start")
	}
	conn, _, err := websocket.DefaultDialer.Dial(fmt.Sprintf("ws://127.0.0.1:%d/session", port), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	f := &firefox{t: t, conn: conn}
	f.call("session.new", map[string]any{"capabilities": map[string]any{}}, nil)
	var tree struct{ Contexts []struct{ Context string } }
	f.call("browsingContext.getTree", map[string]any{}, &tree)
	f.window = tree.Contexts[0].Context
	return f
}

func (f *firefox) call(method string, params, into any) {
	f.t.Helper()
	f.last++
	if err := f.conn.WriteJSON(map[string]any{"id": f.last, "method": method, "params": params}); err != nil {
		f.t.Fatal(err)
	}
	f.conn.SetReadDeadline(time.Now().Add(answersIn))
	for {
		var said struct {
			ID             int
			Result         json.RawMessage
			Error, Message string
		}
		if err := f.conn.ReadJSON(&said); err != nil {
			f.t.Fatalf("%s: %v", method, err)
		}
		if said.ID != f.last {
			continue // what it tells by itself
		}
		if said.Error != "" {
			f.t.Fatalf("%s: %s: %s", method, said.Error, said.Message)
		}
		if into != nil {
			if err := json.Unmarshal(said.Result, into); err != nil {
				f.t.Fatalf("%s: %v", method, err)
			}
		}
		return
	}
}

func (f *firefox) open(url string) {
	f.t.Helper()
	f.call("browsingContext.navigate", map[string]any{"context": f.window, "url": url, "wait": "complete"}, nil)
}

func (f *firefox) resize(width, height int) {
	f.t.Helper()
	f.call("browsingContext.setViewport", map[string]any{"context": f.window, "viewport": map[string]int{"width": width, "height": height}}, nil)
}

// run evaluates an expression in the page.
func (f *firefox) run(into any, format string, args ...any) {
	f.t.Helper()
	expression := "Promise.resolve(" + fmt.Sprintf(format, args...) + ").then(v => JSON.stringify(v === undefined ? null : v))"
	var said struct {
		Type             string
		Result           struct{ Value string }
		ExceptionDetails struct{ Text string }
	}
	f.call("script.evaluate", map[string]any{"expression": expression, "target": map[string]any{"context": f.window}, "awaitPromise": true}, &said)
	if said.Type != "success" {
		f.t.Fatalf("%s: %s", expression, said.ExceptionDetails.Text)
	}
	if into != nil {
		if err := json.Unmarshal([]byte(said.Result.Value), into); err != nil {
			f.t.Fatalf("%s: %v", expression, err)
		}
	}
}

func (f *firefox) until(what, format string, args ...any) {
	f.t.Helper()
	for end := time.Now().Add(answersIn); ; time.Sleep(15 * time.Millisecond) {
		var is bool
		f.run(&is, "(() => { try { return !!(%s); } catch (e) { return false; } })()", fmt.Sprintf(format, args...))
		if is {
			return
		}
		if time.Now().After(end) {
			f.t.Fatalf("waited for: %s", what)
		}
	}
}

// hold keeps a finger on the middle of an element.
func (f *firefox) hold(selector string, long time.Duration) {
	f.t.Helper()
	var at [2]int
	f.run(&at, `(r => [Math.round(r.left + r.width / 2), Math.round(r.top + r.height / 2)])(document.querySelector(%q).getBoundingClientRect())`, selector)
	f.holdAt(at[0], at[1], long)
}

func (f *firefox) holdAt(x, y int, long time.Duration) {
	f.t.Helper()
	finger := map[string]any{"type": "pointer", "id": "finger", "parameters": map[string]any{"pointerType": "touch"}, "actions": []any{
		map[string]any{"type": "pointerMove", "x": x, "y": y},
		map[string]any{"type": "pointerDown", "button": 0},
		map[string]any{"type": "pause", "duration": long.Milliseconds()},
		map[string]any{"type": "pointerUp", "button": 0}}}
	f.call("input.performActions", map[string]any{"context": f.window, "actions": []any{finger}}, nil)
}

// choose gives a field of files one.
func (f *firefox) choose(selector, file string) {
	f.t.Helper()
	var found struct {
		Nodes []struct {
			SharedID string `json:"sharedId"`
		}
	}
	f.call("browsingContext.locateNodes", map[string]any{"context": f.window, "locator": map[string]string{"type": "css", "value": selector}}, &found)
	f.call("input.setFiles", map[string]any{"context": f.window, "element": found.Nodes[0], "files": []string{file}}, nil)
}

// The third engine walks a plan to its end by touch, at the practiced pace: each screen stands
// whole, each cut is held, and a reload in the middle comes back to the same step.
func TestTheThirdEngine(t *testing.T) {
	t.Parallel()
	f := newFirefox(t)
	s := start(t, t.TempDir())
	id := s.planned(plainLengthwise)
	page := s.url + "/s/" + id
	f.resize(1080, 810)
	f.open(page)
	f.run(nil, `localStorage.setItem("pace", "practiced")`)
	f.open(page)
	shows := func() (now string) {
		f.run(&now, `view.kind === "end" ? "" : view.group ? view.group.id : view.tick.id`)
		return now
	}
	faults := map[string]bool{}
	for n := 0; shows() != ""; n++ {
		if n > 100 {
			t.Fatal("more than a hundred screens")
		}
		now := shows()
		f.until("its button and its picture", `!document.getElementById("tick").hidden && (view.group || view.tick).box.querySelector(".pic svg") && `+rested)
		if n%20 == 10 {
			f.open(page)
			f.until("the same after a reload", `document.readyState === "complete" && (view.group ? view.group.id : view.tick.id) === %q && `+rested, now)
		}
		var all []string
		f.run(&all, "%s", fitsScript)
		for _, fault := range all {
			if !faults[fault] {
				t.Errorf("%s: %s", now, fault)
			}
			faults[fault] = true
		}
		var cuts bool
		switch f.run(&cuts, "view.tick.cuts"); {
		case cuts && n < 30:
			f.hold("#do", 3*time.Second)
		case n < 30:
			f.hold("#do", 40*time.Millisecond)
		default: // as the touch does, faster
			f.run(nil, "(() => { doTick(); return true })()")
		}
		f.until("what comes after "+now, `view.kind === "end" || (view.group ? view.group.id : view.tick.id) !== %q`, now)
	}
	f.until("all on disk", `document.getElementById("sync").dataset.sync === "in"`)
	s.allDone(id)
}
