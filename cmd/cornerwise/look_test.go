package main

import (
	"testing"
	"time"
)

// demo starts a server with the demo session and opens it on a tablet.
func demo(t *testing.T) (s *server, d *tablet, id string) {
	t.Helper()
	b := newBrowser(t)
	s = start(t, t.TempDir(), "--demo")
	d = b.tablet(1080, 810)
	d.open(s.url + "/")
	d.tap(`a[href^="/s/"]`)
	d.until("the demo session", `location.pathname.startsWith("/s/") && document.readyState === "complete" && document.body.dataset.id`)
	return s, d, js[string](d, "document.body.dataset.id")
}

func (s *server) rev(id string) int64 {
	s.t.Helper()
	var state struct{ Rev int64 }
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		s.t.Fatalf("GET the session: got %d %v, want 200", status, err)
	}
	return state.Rev
}

const tickShows = `document.readyState === "complete" && document.querySelector('article[id="t-%s"]:not([hidden])')`

// Looking ahead, back, reloading and coming by a saved address land where one was, and
// change nothing.
func TestLookingRoundChangesNothing(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	before := s.rev(id)
	d.until("the first tick", tickShows, "center.pressed")

	d.tap("#ahead")
	d.until("the next tick", tickShows, "center.steadied")
	d.tap(`.stage[data-stage="miter"]`)
	d.until("the miter's steps", `location.pathname.endsWith("/stage/miter")`)
	d.shot("920-stage-miter")
	d.tap(`a[data-step="corner-3"]`)
	d.until("corner 3", tickShows, "miter.3.folded")
	d.until("a word that this is only looking", `document.querySelector(".looking").getClientRects().length`)
	d.until("a lock that says why", `!document.getElementById("locked").hidden && document.getElementById("locked").textContent.includes("Not yet")`)

	d.open(js[string](d, "location.href"))
	d.until("corner 3 after a reload", tickShows, "miter.3.folded")
	js[bool](d, `(() => { history.back(); return true })()`)
	d.until("the miter's steps, by the back button", `document.readyState === "complete" && location.pathname.endsWith("/stage/miter") && document.body.dataset.view === "list"`)
	d.tap("#towork")
	d.until("the work again", tickShows, "center.pressed")
	if after := s.rev(id); after != before {
		t.Errorf("looking round: the session went from revision %d to %d, want no change", before, after)
	}
}

// A mistaken tap is taken back with one touch, and a double tap does one thing.
func TestUndoByTouch(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	d.until("the first tick", tickShows, "center.pressed")
	time.Sleep(400 * time.Millisecond)
	// A double tap, quicker than the browser's driver can send one.
	js[bool](d, `(() => { const b = document.getElementById("do"); b.click(); b.click(); return true })()`)
	d.until("the next tick", tickShows, "center.steadied")
	d.until("all sent", `document.getElementById("sync").dataset.sync === "in"`)
	if got := s.rev(id); got != 2 {
		t.Errorf("a double tap: got revision %d, want 2: the plan and one tick", got)
	}
	d.tap("#undo button")
	d.until("the first tick again", tickShows, "center.pressed")
	d.until("it open again", `document.getElementById("t-center.pressed").dataset.state === "open"`)
	for end := time.Now().Add(5 * time.Second); s.rev(id) != 3 && time.Now().Before(end); {
		time.Sleep(20 * time.Millisecond)
	}
	if got := s.rev(id); got != 3 {
		t.Errorf("undo: got revision %d, want 3", got)
	}
}

// The page is busy when the second tap of a double tap comes, and handles it long after.
func TestADoubleTapOnABusyPageDoesOneThing(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	d.until("the first tick", tickShows, "center.pressed")
	time.Sleep(400 * time.Millisecond)
	js[bool](d, `(() => {
		document.addEventListener("submit", () => setTimeout(() => {
			for (const end = Date.now() + 900; Date.now() < end;);
		}, 0), { once: true });
		return true;
	})()`)
	x, y := d.middle("#do") // the page can't be asked later
	first := time.Now()
	d.touchAt(x, y, first, 0)
	d.touchAt(x, y, first.Add(150*time.Millisecond), 0)
	d.until("the next tick", tickShows, "center.steadied")
	d.until("all sent", `document.getElementById("sync").dataset.sync === "in"`)
	if got := s.rev(id); got != 2 {
		t.Errorf("a double tap on a busy page: got revision %d, want 2: the plan and one tick", got)
	}
	d.tap("#do")
	d.until("a tap after a while counts", tickShows, "width.top")
}

// A finger that was lifted while the page was busy held nothing.
func TestAShortTouchOnABusyPageIsNoHold(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	s.goOn(id, "center.trimmed")
	d.until("the cut", tickShows, "center.trimmed")
	time.Sleep(400 * time.Millisecond)
	rev := s.rev(id)
	js[bool](d, `(() => {
		document.getElementById("do").addEventListener("touchstart", () => setTimeout(() => {
			for (const end = Date.now() + 2500; Date.now() < end;);
		}, 30), { once: true });
		return true;
	})()`)
	d.hold("#do", 200*time.Millisecond)
	time.Sleep(500 * time.Millisecond)
	if got := s.rev(id); got != rev {
		t.Errorf("a touch of 0.2 s on a busy page: got revision %d, want %d, as before", got, rev)
	}
	d.hold("#do", 1300*time.Millisecond)
	d.until("the cut done after a hold", `document.getElementById("t-center.trimmed").dataset.state === "done"`)
}
