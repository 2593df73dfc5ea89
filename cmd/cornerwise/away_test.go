package main

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// These hold the pages to what they promise without a network. The server is taken
// away by killing it: what a browser offers as "offline" leaves an open websocket
// as it is.

const awayPlan = `{"title": "Harbour lanterns", "center": {"width": "36 1/2", "length": "48 1/2"}, "borders": [{"name": "ticking", "cut": "5 1/2"}]}`

// alone is a server with one session, its first ticks done, and a browser for it.
func alone(t *testing.T, done int) (s *server, id string, ticks []walkTick, b *browser) {
	t.Helper()
	b = newBrowser(t)
	s = start(t, t.TempDir())
	id = s.planned(awayPlan)
	ticks = allTicks(t, s, id)
	for _, tick := range ticks[:done] {
		s.op(id, "%s", tickText("done "+tick.ID, tick.ID, true))
	}
	return s, id, ticks, b
}

// work is a tablet on a session, in step.
func (b *browser) work(width, height int64, s *server, id string) *tablet {
	b.t.Helper()
	d := b.tablet(width, height)
	d.open(s.url + "/s/" + id)
	d.inStep()
	return d
}

func (s *server) planned(plan string) (id string) {
	s.t.Helper()
	var made struct{ ID string }
	if status, err := s.call("POST", "/api/v1/sessions", plan, &made); status != 201 || err != nil {
		s.t.Fatalf("POST a plan: got %d %v, want 201", status, err)
	}
	return made.ID
}

// op sends one op as another device would.
func (s *server) op(id, format string, args ...any) {
	s.t.Helper()
	text := fmt.Sprintf(format, args...)
	if status, err := s.call("POST", "/api/v1/sessions/"+id+"/ops", text, nil); status != 200 || err != nil {
		s.t.Fatalf("POST %s: got %d %v, want 200", text, status, err)
	}
}

func tickText(op, tick string, done bool) string {
	return fmt.Sprintf(`{"op": %q, "kind": "tick", "tick": %q, "done": %t}`, op, tick, done)
}

func (s *server) kill() {
	s.cmd.Process.Signal(syscall.SIGKILL)
	s.cmd.Wait()
}

// back starts the server again where it was.
func (s *server) back() *server {
	s.t.Helper()
	return start(s.t, s.data, "--listen", strings.TrimPrefix(s.url, "http://"))
}

// elsewhere lets others work on the data while a page at the old address is away.
func (s *server) elsewhere(work func(other *server)) {
	s.t.Helper()
	other := start(s.t, s.data)
	work(other)
	other.stop(syscall.SIGTERM)
}

// inHistory counts how often an op of a kind stands in the history.
func (s *server) inHistory(id string, is func(kind, tick, text string) bool) (n int) {
	s.t.Helper()
	var kept struct {
		History []struct{ Kind, Tick, Text string }
	}
	if status, err := s.call("GET", "/api/v1/sessions/"+id+"/history", "", &kept); status != 200 || err != nil {
		s.t.Fatalf("history: got %d %v, want 200", status, err)
	}
	for _, e := range kept.History {
		if is(e.Kind, e.Tick, e.Text) {
			n++
		}
	}
	return n
}

func (d *tablet) away() {
	d.t.Helper()
	d.until("a word that the server is away", `document.getElementById("sync").dataset.sync === "away"`)
}

func (d *tablet) inStep() {
	d.t.Helper()
	d.until("in step, nothing waiting", `document.getElementById("sync").dataset.sync === "in" && !waiting.length`)
}

func (d *tablet) isDone(tick string) {
	d.t.Helper()
	d.until(tick+" shown as done", `document.getElementById("t-%s").dataset.state === "done"`, tick)
}

// before runs a script in every page before its own.
func (d *tablet) before(script string) {
	d.t.Helper()
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	}))
}

// A tablet loses the server, goes on, loses its battery, and is opened again when
// the server is back: all that was done arrives, once.
func TestWhatWasDoneAwaySurvivesTheEndOfThePage(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 0)
	d := b.work(1080, 810, s, id)

	s.kill()
	d.away()
	d.press(ticks[0])
	d.isDone(ticks[0].ID)
	step := js[string](d, `shown.here`)
	js[bool](d, `(() => { const n = document.getElementById("n-%s"); n.closest("details").open = true; n.value = "the lamp went out"; n.dispatchEvent(new Event("change", {bubbles: true})); return true })()`, step)
	d.until("both waiting", `document.getElementById("sync").textContent.includes("2 to send")`)
	d.do(chromedp.Navigate("about:blank"))

	s = s.back()
	d.open(s.url + "/s/" + id)
	d.inStep()
	d.isDone(ticks[0].ID)
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}
	if n := s.inHistory(id, func(_, _, text string) bool { return text == "the lamp went out" }); n != 1 {
		t.Errorf("the note stands %d times in the history, want once", n)
	}
	if left := js[int](d, `Object.keys(localStorage).filter(k => k.startsWith("op:")).length`); left != 0 {
		t.Errorf("%d ops are still kept on the tablet, want none", left)
	}
}

// What two people did at cross purposes is shown to the one who was away, with the
// reason, and stays until they have chosen.
func TestWhatClashedIsShownWithAChoice(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 1)
	d := b.work(1080, 810, s, id)

	// The second and the third need the first.
	s.kill()
	d.away()
	d.press(ticks[1])
	d.isDone(ticks[1].ID)
	d.press(ticks[2])
	d.isDone(ticks[2].ID)
	s.elsewhere(func(other *server) { other.op(id, "%s", tickText("not yet", ticks[0].ID, false)) })
	s = s.back()

	const shown = `!document.getElementById("refused").hidden && document.querySelectorAll("#refused li").length`
	d.until("both shown as not taken", shown+` === 2`)
	d.until("the list open", `document.getElementById("refused").open`)
	d.everySize("810-not-taken", nil)
	for i := range 2 {
		if got := js[string](d, `document.querySelectorAll("#refused li p")[%d].textContent`, i); !strings.HasSuffix(got, ".") || len(got) < 20 {
			t.Errorf("the reason of item %d: got %q, want a sentence", i, got)
		}
	}
	if state := js[string](d, `document.getElementById("t-%s").dataset.state`, ticks[1].ID); state == "done" {
		t.Errorf("%s was not taken and is still shown as done", ticks[1].ID)
	}

	d.do(chromedp.Navigate("about:blank"))
	d.open(s.url + "/s/" + id)
	d.until("both there after a reload", shown+` === 2`)

	choice := func(words string) {
		t.Helper()
		js[bool](d, `(() => { document.getElementById("refused").open = true; return true })()`)
		time.Sleep(400 * time.Millisecond) // as a person would: a double tap chooses once
		js[bool](d, `(() => { const all = [...document.querySelectorAll("#refused li button")]; all.forEach(b => b.id = ""); all.find(b => b.textContent === %q).id = "chosen"; return true })()`, words)
		d.tap("#chosen")
	}
	choice("Look")
	d.until("the tick in sight", `!document.getElementById("t-%s").hidden && !document.getElementById("refused").open`, ticks[1].ID)

	// Too soon, it is refused anew, not lost; once the first is done it is taken.
	choice("Send again")
	d.until("refused again, at the end of the list", shown+` === 2 && document.querySelectorAll("#refused li b")[1].textContent.startsWith(%q)`,
		js[string](d, `byTick[%q].label`, ticks[1].ID))
	choice("Leave out")
	d.until("one left", shown+` === 1`)
	s.op(id, "%s", tickText("done after all", ticks[0].ID, true))
	d.isDone(ticks[0].ID)
	choice("Send again")
	d.isDone(ticks[1].ID)
	d.until("nothing refused", `document.getElementById("refused").hidden`)
	d.inStep()
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[1].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}
	if left := js[int](d, `Object.keys(localStorage).filter(k => k.startsWith("no:")).length`); left != 0 {
		t.Errorf("%d refused ops are still kept on the tablet, want none", left)
	}
}

// A network with a login page of its own answers everything with a page of its own. Its
// 200 is no acknowledgement.
func TestAnAnswerFromAStrangerIsNoAck(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	s.kill()
	d.away()

	listener, err := net.Listen("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	var asked atomic.Int32
	stranger := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == "POST" {
			// First as if all were well, then as if nothing were there.
			if asked.Add(1) > 1 {
				w.WriteHeader(http.StatusNotFound)
			}
		}
		io.WriteString(w, "<p>Welcome to our network.")
	})}
	go stranger.Serve(listener)
	d.press(ticks[0])
	for end := time.Now().Add(15 * time.Second); asked.Load() < 3; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("the stranger was asked %d times in 15 s, want 3", asked.Load())
		}
	}
	stranger.Close()
	if waiting := js[int](d, `waiting.length`); waiting != 1 {
		t.Errorf("after a stranger's answers %d ops wait, want the one", waiting)
	}
	s = s.back()
	d.inStep()
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}
}

// A private window keeps nothing. The page says so when something has to wait, and
// goes on in memory.
func TestABrowserThatKeepsNothingIsToldOf(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	for _, c := range []struct{ name, script string }{
		{"full", `Storage.prototype.setItem = function () { throw new DOMException("full", "QuotaExceededError") };`},
		{"closed", `Object.defineProperty(window, "localStorage", { get: function () { throw new DOMException("closed", "SecurityError") } });`},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := t.TempDir()
			s := start(t, data)
			id := s.planned(awayPlan)
			ticks := allTicks(t, s, id)
			d := b.tablet(1080, 810)
			d.before(c.script)
			d.open(s.url + "/s/" + id)
			d.inStep()
			if !js[bool](d, `document.getElementById("warned").hidden`) {
				t.Error("a warning before anything has to wait")
			}
			s.kill()
			d.away()
			d.press(ticks[0])
			d.isDone(ticks[0].ID)
			d.until("a word that nothing is kept", `!document.getElementById("warned").hidden && document.getElementById("warned").textContent.includes("Leave this page open")`)
			s = s.back()
			d.inStep()
			if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
				t.Errorf("the tick stands %d times in the history, want once", n)
			}
		})
	}
}
