//go:build unix

package main

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A webkit is a window of the engine that other tablets have, worked by the W3C's
// WebDriver protocol (Debian's webkit2gtk-driver, on the screen of xvfb).
type webkit struct {
	t       *testing.T
	session string // its address at the driver
}

// newWebKit opens a window, with more in its environment. Where there is none the test fails under CI and is left
// out elsewhere.
func newWebKit(t *testing.T, environment ...string) *webkit {
	t.Helper()
	long(t)
	clearShots()
	browsers, _ := filepath.Glob("/usr/lib/*/webkit2gtk-4.1/MiniBrowser")
	driver, driverErr := exec.LookPath("WebKitWebDriver")
	screen, screenErr := exec.LookPath("xvfb-run")
	if len(browsers) == 0 || driverErr != nil || screenErr != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no WebKit found; .ci/test installs one")
		}
		t.Skip("no WebKit found; install webkit2gtk-driver and xvfb, or run .ci/test")
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	port := free.Addr().(*net.TCPAddr).Port
	free.Close()
	cmd := exec.Command(screen, "-a", "-s", "-screen 0 1400x1300x24", driver, fmt.Sprintf("--port=%d", port), "--host=127.0.0.1")
	cmd.Env = append(os.Environ(), environment...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		syscall.Kill(-cmd.Process.Pid, syscall.SIGTERM) // xvfb-run ends its screen by this
		cmd.Wait()
	})
	w := &webkit{t: t, session: fmt.Sprintf("http://127.0.0.1:%d/session", port)}
	var opened struct {
		SessionID string `json:"sessionId"`
	}
	wanted := fmt.Sprintf(`{"capabilities": {"alwaysMatch": {"browserName": "MiniBrowser", "webkitgtk:browserOptions": {"binary": %q, "args": ["--automation"]}}}}`, browsers[0])
	for end := time.Now().Add(patience); ; time.Sleep(100 * time.Millisecond) {
		err := w.try("POST", "", wanted, &opened)
		if err == nil {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("open a window of WebKit: %v", err)
		}
	}
	w.session += "/" + opened.SessionID
	t.Cleanup(func() { w.try("DELETE", "", "", nil) })
	return w
}

// try asks the driver.
func (w *webkit) try(method, path, body string, into any) error {
	req, err := http.NewRequest(method, w.session+path, strings.NewReader(body))
	if err != nil {
		return err
	}
	client := http.Client{Timeout: 30 * time.Second}
	res, err := client.Do(req)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	var said struct{ Value json.RawMessage }
	if err := json.NewDecoder(res.Body).Decode(&said); err != nil {
		return err
	}
	if res.StatusCode != http.StatusOK {
		return fmt.Errorf("%s %s: %s", method, path, said.Value)
	}
	if into == nil {
		return nil
	}
	return json.Unmarshal(said.Value, into)
}

func (w *webkit) call(path string, body, into any) {
	w.t.Helper()
	data, err := json.Marshal(body)
	if err == nil {
		err = w.try("POST", path, string(data), into)
	}
	if err != nil {
		w.t.Fatal(err)
	}
}

// run evaluates an expression in the page.
func (w *webkit) run(into any, format string, args ...any) {
	w.t.Helper()
	w.call("/execute/sync", map[string]any{"script": "return (" + fmt.Sprintf(format, args...) + ")", "args": []any{}}, into)
}

func (w *webkit) until(what, format string, args ...any) {
	w.t.Helper()
	for end := time.Now().Add(answersIn); ; time.Sleep(15 * time.Millisecond) {
		var is bool
		w.run(&is, "(() => { try { return !!(%s); } catch (e) { return false; } })()", fmt.Sprintf(format, args...))
		if is {
			return
		}
		if time.Now().After(end) {
			w.shot("failed")
			w.t.Fatalf("waited for: %s", what)
		}
	}
}

func (w *webkit) open(url string) {
	w.t.Helper()
	w.call("/url", map[string]string{"url": url}, nil)
}

// resize makes the page itself so large, without the window around it.
func (w *webkit) resize(width, height int) {
	w.t.Helper()
	for range 3 {
		w.call("/window/rect", map[string]int{"width": width, "height": height}, nil)
		time.Sleep(300 * time.Millisecond)
		var inner [2]int
		w.run(&inner, "[innerWidth, innerHeight]")
		if inner == [2]int{width, height} {
			return
		}
		w.call("/window/rect", map[string]int{"width": 2*width - inner[0], "height": 2*height - inner[1]}, nil)
		time.Sleep(300 * time.Millisecond)
		if w.run(&inner, "[innerWidth, innerHeight]"); inner == [2]int{width, height} {
			return
		}
	}
	w.t.Fatalf("no page of %d by %d", width, height)
}

// hold keeps a finger on the first visible element of a selector.
func (w *webkit) hold(selector string, long time.Duration) {
	w.t.Helper()
	var at [2]float64
	w.run(&at, `(() => { const r = [...document.querySelectorAll(%q)].find(e => e.getClientRects().length).getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2] })()`, selector)
	w.holdAt(int(at[0]), int(at[1]), long)
}

func (w *webkit) holdAt(x, y int, long time.Duration) {
	w.t.Helper()
	w.call("/actions", map[string]any{"actions": []any{map[string]any{
		"type": "pointer", "id": "finger", "parameters": map[string]string{"pointerType": "touch"},
		"actions": []any{
			map[string]any{"type": "pointerMove", "duration": 0, "x": x, "y": y, "origin": "viewport"},
			map[string]any{"type": "pointerDown", "button": 0},
			map[string]any{"type": "pause", "duration": long.Milliseconds()},
			map[string]any{"type": "pointerUp", "button": 0},
		}}}}, nil)
}

// choose gives a field of files one.
func (w *webkit) choose(selector, file string) {
	w.t.Helper()
	var field map[string]string
	w.call("/element", map[string]string{"using": "css selector", "value": selector}, &field)
	for _, id := range field {
		w.call("/element/"+id+"/value", map[string]string{"text": file}, nil)
	}
}

func (w *webkit) shot(name string) {
	w.t.Helper()
	var picture string
	if err := w.try("GET", "/screenshot", "", &picture); err != nil {
		w.t.Fatal(err)
	}
	data, err := base64.StdEncoding.DecodeString(picture)
	folder := filepath.Join(shots, "webkit")
	if err == nil {
		err = os.MkdirAll(folder, 0o755)
	}
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), data, 0o644)
	}
	if err != nil {
		w.t.Fatal(err)
	}
}

// mapScript names what is wrong with the map of corners: its quarters lie side by side.
const mapScript = `(() => {
	const [one, two, three, four] = [...document.querySelectorAll("#map .quarter")].filter(q => q.getClientRects().length).map(q => q.getBoundingClientRect());
	if (!four) return [];
	const gaps = [two.left - one.right, three.left - four.right, four.top - one.bottom, three.top - two.bottom];
	return gaps.filter(gap => Math.abs(gap) > 1.5).map(gap => "the map gapes by " + gap);
})()`

// The whole work in the other engine, lying and upright: every step stands whole on
// the screen, no script fails, a touch ticks, a held one cuts; and what was done
// without the server arrives. Both screens take turns to go on, so each sees the
// other's work.
func TestTheOtherEngine(t *testing.T) {
	t.Parallel()
	w := newWebKit(t)
	s := start(t, t.TempDir())
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	page := s.url + "/s/" + id
	const inStep = `document.getElementById("sync").dataset.sync === "in"`
	begin := func() {
		t.Helper()
		w.open(page)
		w.until("in step", inStep)
		w.run(nil, `(() => { window.faults = []; addEventListener("error", e => faults.push(e.message)); addEventListener("unhandledrejection", e => faults.push(String(e.reason))); return document.fonts.ready.then(() => true) })()`)
	}
	check := func(name string) {
		t.Helper()
		for _, script := range []string{fitsScript, mapScript, "faults"} {
			var faults []string
			if w.run(&faults, "%s", script); len(faults) > 0 {
				t.Errorf("%s: %s", name, strings.Join(faults, "; "))
			}
		}
	}
	sizes := [][2]int{{1080, 810}, {810, 1080}}
	w.open(page)
	for n, tick := range ticks[:len(ticks)-1] {
		size := sizes[n*len(sizes)/len(ticks)]
		if n == 0 || size != sizes[(n-1)*len(sizes)/len(ticks)] {
			w.resize(size[0], size[1])
			begin()
		}
		w.until(tick.ID+" to be done", `view.tick.id === %q && !document.getElementById("tick").hidden && `+rested, tick.ID)
		check(fmt.Sprintf("%s at %dx%d", tick.ID, size[0], size[1]))
		if looked {
			w.shot(fmt.Sprintf("%03d-%s", n, tick.ID))
		}
		var cuts bool
		switch w.run(&cuts, "view.tick.cuts"); {
		case cuts && n < 30:
			w.hold("#do", 3000*time.Millisecond)
		case n < 30:
			w.hold("#do", 0)
		default: // as the touch does, faster
			w.run(nil, "(() => { doTick(); return true })()")
		}
		w.until(tick.ID+" done", `document.getElementById("t-%s").dataset.state === "done"`, tick.ID)
	}
	w.until("all but the last on disk", inStep)
	last := ticks[len(ticks)-1].ID
	s.kill()
	w.until("away", `document.getElementById("sync").dataset.sync === "away" && `+rested)
	w.hold("#do", 0)
	w.until("done here", `shown.done[%q] && waiting.length === 1`, last)
	w.open("about:blank")
	s.back()
	begin()
	w.until("the end", `work.done[%q] && !document.getElementById("end").hidden`, last)
	check("the end")
	w.shot("900-end")
}
