package main

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	cdpnetwork "github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// While the server is away the page knocks ever more seldom, and not at the same
// moments as its neighbor. (RFC 6455, 7.2.3: delays "increasing" by "truncated
// binary exponential backoff", the first one random.)
func TestThePageKnocksEverMoreSeldom(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	s.kill()
	// From here on someone opens to every knock, and shuts it at once.
	listener, err := net.Listen("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	var knocks []time.Time
	refuser := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Upgrade") != "" {
			mu.Lock()
			knocks = append(knocks, time.Now())
			mu.Unlock()
		}
		panic(http.ErrAbortHandler)
	})}
	go refuser.Serve(listener)
	defer refuser.Close()
	time.Sleep(12 * time.Second)

	// 0.3, 0.6, 1.2, 2.4, 4.8, 9.6 s, each from half of it to one and a half: in 12 s
	// between 4 and 7 knocks, counted with one that may have gone before.
	mu.Lock()
	defer mu.Unlock()
	if n := len(knocks); n < 3 || n > 8 {
		t.Fatalf("in 12 s: %d knocks, want 3 to 8", n)
	}
	if last, first := knocks[len(knocks)-1].Sub(knocks[len(knocks)-2]), knocks[1].Sub(knocks[0]); last < first {
		t.Errorf("the first pause is %v, the last %v; want it longer", first, last)
	}
	for inVain, middle := range []float64{300, 600, 1200, 2400, 4800, 9600, 10000, 10000} {
		got := js[[]float64](d, `Array.from({length: 200}, () => pause(%d)).sort((a, b) => a - b)`, inVain)
		low, high := got[0], got[len(got)-1]
		if low < middle/2 || high > middle*3/2 {
			t.Errorf("after %d knocks in vain: %.0f to %.0f ms, want within half of %.0f to one and a half", inVain, low, high, middle)
		}
		// 200 draws that all fall in the middle half: one in 2^200.
		if low > middle*3/4 || high < middle*5/4 {
			t.Errorf("after %d knocks in vain: %.0f to %.0f ms, want it spread by chance", inVain, low, high)
		}
	}
}

// Waking, coming back to the network and coming back to the page don't wait for the
// next knock.
func TestWakingReconnectsAtOnce(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	js[bool](d, `(() => { pause = () => 600000; return true })()`) // it knocks by itself in ten minutes
	for _, c := range []struct {
		name string
		wake func()
	}{
		{"the network is back", func() {
			d.online(false)
			d.online(true) // the browser itself tells the page
		}},
		{"the page is seen again", func() { js[bool](d, `document.dispatchEvent(new Event("visibilitychange"))`) }},
		{"the page comes out of the browser's memory", func() {
			js[bool](d, `window.dispatchEvent(new PageTransitionEvent("pageshow", {persisted: true}))`)
		}},
	} {
		s.kill()
		d.away()
		s = s.back()
		if js[bool](d, `sync.live`) {
			t.Fatalf("%s: it knocked by itself; this proves nothing", c.name)
		}
		c.wake()
		d.inStep()
	}
}

// On a tablet that slept the line looks open and is dead.
func TestALineThatOnlyLooksOpenIsMadeAnew(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	n := newNetwork(t, s)
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	d := b.tablet(1080, 810)
	d.open(n.url + "/s/" + id)
	d.inStep()

	n.die()
	s.op(id, "%s", tickText("elsewhere", ticks[0].ID, true))
	time.Sleep(time.Second)
	if js[bool](d, `document.getElementById("t-%s").dataset.state === "done" || line.readyState !== 1`, ticks[0].ID) {
		t.Fatal("the line is not dead as it should be; this proves nothing")
	}
	js[bool](d, `document.dispatchEvent(new Event("visibilitychange"))`)
	d.isDone(ticks[0].ID)
	d.inStep()
}

// A network goes dead without a word, and nothing wakes the page. What is sent into
// it is given up and sent anew; a line that is silent for longer than the server's
// heartbeat allows is made anew. The page's clock runs at double speed: 17.5 s of
// silence, where the heartbeat comes every 15 s, and 5 s for a call.
func TestADeadNetworkIsLeftBehind(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	n := newNetwork(t, s)
	id := s.planned(awayPlan)
	ticks := allTicks(t, s, id)
	d := b.tablet(1080, 810)
	d.before(`{ const real = window.setTimeout; window.setTimeout = (f, ms, ...more) => real(f, ms / 2, ...more); }`)
	d.open(n.url + "/s/" + id)
	d.inStep()
	js[bool](d, `(() => { window.first = line; return true })()`)

	n.die()
	d.press(ticks[0])
	d.until("it waits, the line looks open", `waiting.length === 1 && line === first && line.readyState === 1`)
	for begun := time.Now(); s.inHistory(id, func(kind, tick, _ string) bool { return tick == ticks[0].ID }) == 0; time.Sleep(100 * time.Millisecond) {
		if time.Since(begun) > 30*time.Second {
			t.Fatal("what was sent into the dead network never arrived")
		}
	}
	s.op(id, "%s", tickText("elsewhere", ticks[1].ID, true))
	for begun := time.Now(); !js[bool](d, `document.getElementById("t-%s").dataset.state === "done"`, ticks[1].ID); time.Sleep(100 * time.Millisecond) {
		if time.Since(begun) > 40*time.Second {
			t.Fatal("the silent line was never made anew")
		}
	}
	if js[bool](d, `line === first`) {
		t.Error("the tick came over the line that is dead")
	}
}

// A session that goes into the bin, and a device that is put out, are told why; they
// stop knocking until they are woken.
func TestAPageThatMayNotComeInStopsKnocking(t *testing.T) {
	t.Parallel()
	s, id, ticks, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	if status, err := s.call("DELETE", "/api/v1/sessions/"+id, "", nil); status != 200 {
		t.Fatalf("DELETE: got %d %v", status, err)
	}
	d.until("that it is in the bin", `shut && document.getElementById("warned").textContent.includes("in the bin")`)
	d.press(ticks[0])
	d.until("the tick waiting", `waiting.length === 1`)
	if status, err := s.call("POST", "/api/v1/sessions/"+id+"/restore", "", nil); status != 200 {
		t.Fatalf("restore: got %d %v", status, err)
	}
	js[bool](d, `document.dispatchEvent(new Event("visibilitychange"))`)
	d.inStep()
	if n := s.inHistory(id, func(kind, tick, _ string) bool { return kind == "tick" && tick == ticks[0].ID }); n != 1 {
		t.Errorf("the tick stands %d times in the history, want once", n)
	}
}

// online tells the browser that its network is gone, or back; it tells the page.
func (d *tablet) online(on bool) {
	d.t.Helper()
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, cdpnetwork.OverrideNetworkState, cdpnetwork.OverrideNetworkStateParams{
			Offline: !on, DownloadThroughput: -1, UploadThroughput: -1})
		if err != nil {
			return fmt.Errorf("tell of the network: %w", err)
		}
		return nil
	}))
}
