package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// settled waits, as until does, for what a promise comes to.
func (d *tablet) settled(what, format string, args ...any) {
	d.t.Helper()
	expression := fmt.Sprintf(format, args...)
	for end := time.Now().Add(15 * time.Second); !js[bool](d, "Promise.resolve(%s).then(v => !!v)", expression); time.Sleep(15 * time.Millisecond) {
		if time.Now().After(end) {
			d.shot("failed")
			d.t.Fatalf("waited 15 s for: %s (%s)", what, expression)
		}
	}
}

// keptByWorker waits until the worker keeps a session whole: page and drawings.
func (d *tablet) keptByWorker(id string) {
	d.t.Helper()
	d.settled("the worker in charge, the page and its drawings kept", `navigator.serviceWorker.controller && Promise.all(["/s/%s", "/s/%s/drawings"].map(a => caches.match(a))).then(all => all.every(r => r))`, id, id)
}

// keptAddresses is all that the worker keeps.
func (d *tablet) keptAddresses() []string {
	d.t.Helper()
	return js[[]string](d, `(async () => {
		const all = [];
		for (const name of await caches.keys())
			for (const r of await (await caches.open(name)).keys()) all.push(r.url.slice(location.origin.length));
		return all;
	})()`)
}

// A tablet is switched on where there is no network: the page starts, with the work
// as it was last seen, goes on, and sends what was done once the server is back.
// 127.0.0.1 is a secure context, as https is elsewhere.
func TestAColdStartWithoutTheServer(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 0)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id)
	d.keptByWorker(id)
	// Done after the page was kept, here and elsewhere: it must not look undone.
	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	d.inStep()
	s.op(id, "%s", tickText("elsewhere", ticks[1].ID, true))
	d.isDone(ticks[1].ID)
	time.Sleep(400 * time.Millisecond) // what came is written down within 0.2 s
	d.do(chromedp.Navigate("about:blank"))
	s.kill()

	d.open(s.url + "/s/" + id)
	d.away()
	d.isDone(ticks[0].ID)
	d.isDone(ticks[1].ID)
	d.until("every drawing there", `[...document.querySelectorAll(".tick .pic")].every(p => p.firstElementChild)`)
	d.press(ticks[2])
	d.isDone(ticks[2].ID)
	d.do(chromedp.Navigate("about:blank"))
	// Another step's address is the same page.
	for _, path := range []string{"/step/press-1", "/press-1"} { // the second as steps were addressed once
		d.open(s.url + "/s/" + id + path)
		d.until("the step that was asked for", `!document.getElementById("s-press-1").hidden`)
	}
	d.until("the tick waiting still", `waiting.length === 1 && document.getElementById("t-%s").dataset.state === "done"`, ticks[2].ID)
	d.shot("820-cold-start")

	s = s.back()
	d.inStep()
	for _, tick := range ticks[:3] {
		if n := s.inHistory(id, func(kind, of, _ string) bool { return kind == "tick" && of == tick.ID }); n != 1 {
			t.Errorf("%s stands %d times in the history, want once", tick.ID, n)
		}
	}
}

// A network that answers nothing is as bad as none: the page starts all the same,
// and pages that were visited open too.
func TestAColdStartInASilentNetwork(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	n := newNetwork(t, s)
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	d := b.tablet(1080, 810)
	d.open(n.url + "/s/" + id)
	d.keptByWorker(id)
	d.open(n.url + "/s/" + id + "/sheet")
	d.settled("the sheet kept", `caches.match("/s/%s/sheet")`, id)
	d.do(chromedp.Navigate("about:blank"))
	n.silence(true)
	d.open(n.url + "/s/" + id)
	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	d.tap(".menu summary")
	d.tap(`.menu a[href$="/sheet"]`)
	d.until("the sheet", `location.pathname.endsWith("/sheet") && document.querySelector("main")`)
	d.open(n.url + "/s/" + id)
	d.until("the tick waiting", `waiting.length === 1`)
	n.silence(false)
	js[bool](d, `document.dispatchEvent(new Event("visibilitychange"))`)
	d.until("in step, nothing waiting", `sync.live && !waiting.length`)
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}
}

// What the worker keeps is pages, drawings and assets: no answer to a program, no
// form; and of a session that is gone nothing.
func TestTheWorkerKeepsNoMoreThanItSays(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	id, gone := s.planned(awayPlan), s.planned(awayPlan)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + gone)
	d.keptByWorker(gone)
	for _, path := range []string{"/s/" + id, "/s/" + id + "/sheet", "/s/" + id + "/cutting", "/s/" + id + "/shopping", "/s/" + id + "/paper", "/new", "/", "/s/" + id + "/stage/cut",
		"/s/" + id + "/step/press-1", "/s/" + id + "/press-1"} { // the last leads on: that is no device put out
		d.open(s.url + path)
	}
	js[bool](d, `Promise.all(["/api/v1/sessions", "/api/v1/sessions/%s", "/healthz", "/pair", "/worker.js", "/s/%s/shopping.txt", "/s/nothing"].map(a => fetch(a))).then(() => true)`, id, id)
	d.settled("all pages kept", `Promise.all(["", "/drawings", "/sheet", "/cutting", "/shopping", "/paper"].map(a => caches.match("/s/%s" + a))).then(all => all.every(r => r))`, id)
	allowed := map[string]bool{"/": true}
	for _, one := range []string{id, gone} {
		for _, below := range []string{"", "/drawings", "/sheet", "/cutting", "/shopping", "/paper"} {
			allowed["/s/"+one+below] = true
		}
	}
	for _, address := range d.keptAddresses() {
		if !allowed[address] && !(strings.HasPrefix(address, "/static/") && strings.Contains(address, "?")) {
			t.Errorf("the worker keeps %s", address)
		}
	}

	// A session that a form has just made is kept as one that was opened.
	js[bool](d, `(() => { const f = document.createElement("form"); f.method = "post"; f.action = "/demo"; document.body.appendChild(f); f.submit(); return true })()`)
	d.until("the new session", `document.readyState === "complete" && document.body.dataset.id && document.body.dataset.id !== %q`, id)
	d.keptByWorker(js[string](d, `document.body.dataset.id`))

	if status, err := s.call("DELETE", "/api/v1/sessions/"+gone, "", nil); status != 200 {
		t.Fatalf("DELETE: got %d %v", status, err)
	}
	js[bool](d, `fetch("/s/%s").then(() => true)`, gone)
	d.settled("nothing of the session in the bin kept", `caches.open("cornerwise-pages").then(c => c.keys()).then(all => !all.some(r => r.url.includes(%q)))`, gone)
	s.stop(syscall.SIGTERM)
}

// A new version of the program brings new scripts. A page that was opened since has
// them; one that was kept before starts with those it was made for; nothing else of
// the old version stays.
func TestANewVersionReplacesTheOld(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	newer := buildNewer(t)
	data := t.TempDir()
	s := start(t, data)
	opened, left := s.planned(awayPlan), s.planned(awayPlan)
	d := b.tablet(1080, 810)
	for _, id := range []string{left, opened} {
		d.open(s.url + "/s/" + id)
		d.keptByWorker(id)
	}
	d.open(s.url + "/s/" + opened + "/sheet")
	old := js[[]string](d, `caches.open("cornerwise-assets").then(c => c.keys()).then(all => all.map(r => r.url).filter(u => /form\.js|session\.js/.test(u)))`)
	if len(old) != 2 {
		t.Fatalf("of the scripts %v are kept, want form.js and session.js", old)
	}
	s.stop(syscall.SIGTERM)

	s = startProgram(t, newer, data, "--listen", strings.TrimPrefix(s.url, "http://"))
	d.open(s.url + "/s/" + opened)
	d.until("the newer page", `typeof newer === "number"`)
	d.settled("the newer scripts kept, the older form's gone", `caches.open("cornerwise-assets").then(c => c.keys()).then(all => all.map(r => r.url)).then(all => all.filter(u => u.includes("/session.js?")).length === 2 && !all.includes(%q))`, pick(old, "form.js"))
	d.keptByWorker(opened)
	d.do(chromedp.Navigate("about:blank"))
	s.kill()
	d.open(s.url + "/s/" + opened)
	d.away()
	d.until("the newer page without the server", `typeof newer === "number"`)
	d.open(s.url + "/s/" + left)
	d.away()
	d.until("the older page with its own script", `typeof newer === "undefined" && ticks.length > 0`)
}

func pick(all []string, part string) string {
	for _, s := range all {
		if strings.Contains(s, part) {
			return s
		}
	}
	return ""
}

// buildNewer builds the program with scripts that differ from those here.
func buildNewer(t *testing.T) (newer string) {
	t.Helper()
	folder := t.TempDir()
	source := filepath.Join(folder, "source")
	for _, part := range []string{"calc", "steps", "session", "static", "cmd"} {
		if err := os.CopyFS(filepath.Join(source, part), os.DirFS(filepath.Join("..", "..", part))); err != nil {
			t.Fatal(err)
		}
	}
	for _, file := range []string{"go.mod", "go.sum"} {
		text, err := os.ReadFile(filepath.Join("..", "..", file))
		if err == nil {
			err = os.WriteFile(filepath.Join(source, file), text, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for file, line := range map[string]string{"start.js": "const newer = 1;\n", "form.js": "const newer = 1;\n"} {
		f, err := os.OpenFile(filepath.Join(source, "static", file), os.O_APPEND|os.O_WRONLY, 0)
		if err == nil {
			_, err = f.WriteString(line)
			f.Close()
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	newer = filepath.Join(folder, "cornerwise")
	build := exec.Command("go", "build", "-o", newer, "./cmd/cornerwise")
	build.Dir = source
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	return newer
}
