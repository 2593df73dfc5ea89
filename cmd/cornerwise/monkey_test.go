package main

import (
	"context"
	"flag"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

var (
	acts   = flag.Int("acts", 60, "how many acts the monkey does, on two devices in turn")
	monkey = flag.Uint64("monkey", 6, "which monkey: each number acts otherwise")
)

// slowed makes the device's processor so many times slower.
func (d *tablet) slowed(times float64) {
	d.t.Helper()
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times})
		return err
	}))
}

// keepsItsOps notes each op that the page writes down, as it does with all that it sends.
const keepsItsOps = `window.sentOps = [];
	const set = Storage.prototype.setItem;
	Storage.prototype.setItem = function (key, value) {
		if (key.indexOf("op:") === 0) window.sentOps.push(JSON.parse(value));
		return set.call(this, key, value);
	};`

// sentOp is an op as the page sent it.
type sentOp struct {
	Kind, Tick string
	Done       bool
	Cuts       bool
}

// afterAct is how the page is after an act: what it sent, and where it is.
type afterAct struct {
	Ops   []sentOp
	Path  string
	Works bool // it is a session's page
}

// holdsFrom is the least that can be a hold; the page asks for a second.
const holdsFrom = 900 * time.Millisecond

// A monkey taps, taps twice, holds for too short and long enough, undoes, and touches what it
// happens on, on two slow devices of one quilt: no act does two things, and no cut is done
// without its hold. The acts are the same for the same monkey. Every 200 acts a new quilt is begun.
func TestAMonkeyCutsNothingWithoutAHold(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	random := rand.New(rand.NewPCG(14, *monkey))
	devices := []*tablet{b.tablet(1080, 810), b.tablet(810, 1080)}
	id := ""
	begin := func() {
		id = s.planned(plainLengthwise)
		for _, d := range devices {
			d.front()
			d.open(s.url + "/s/" + id)
			d.inStep()
		}
	}
	for i, d := range devices {
		d.before(keepsItsOps)
		d.open(s.url)
		js[bool](d, `(() => { localStorage.setItem("pace", %q); return true })()`, []string{"practiced", ""}[i])
		d.slowed(6)
	}
	did := map[string]int{}
	for n := range *acts {
		if n%200 == 0 {
			begin()
		}
		d := devices[random.IntN(len(devices))]
		d.front()
		act, held := d.act(random)
		after := js[afterAct](d, `(() => {
			const ops = sentOps.map(o => ({kind: o.kind, tick: o.tick || "", done: o.done === true,
				cuts: (o.ticks || [o.tick]).some(i => byTick[i] && byTick[i].cuts)}));
			sentOps = [];
			return {ops: ops, path: location.pathname, works: typeof work === "object"};
		})()`)
		for _, op := range after.Ops {
			did[act]++
			if op.Kind == "tick" && op.Done && op.Cuts && !held {
				t.Fatalf("act %d, %s: %s is cut, and nobody held its button", n, act, op.Tick)
			}
			if did["one"]++; did["one"] > 1 {
				t.Fatalf("act %d, %s: it did two things, the second %s %s", n, act, op.Kind, op.Tick)
			}
		}
		delete(did, "one")
		// What a touch led to may be another page: back to the quilt.
		if !after.Works || !strings.HasPrefix(after.Path, "/s/"+id) {
			d.open(s.url + "/s/" + id)
		}
	}
	t.Logf("%d acts; those that did something: %v", *acts, did)
	if len(did) < 3 {
		t.Errorf("only %v did something: this proves nothing", did)
	}
}

// act does something by touch, and tells what, and whether a finger may have been down for as long
// as a hold takes.
func (d *tablet) act(random *rand.Rand) (what string, held bool) {
	d.t.Helper()
	pause := func(from, to int) { time.Sleep(time.Duration(from+random.IntN(to-from)) * time.Millisecond) }
	wide := func() (x, y float64) { return d.spot("#do, #hereon button, #reopen", random) }
	x, y := wide()
	touch := func(at time.Time, long time.Duration) {
		held = d.touchAt(x, y, at, long) >= holdsFrom || held
	}
	switch n := random.IntN(100); {
	case n < 30:
		what = "a tap"
		touch(time.Now(), 40*time.Millisecond)
	case n < 55:
		what = "a double tap"
		first := time.Now()
		touch(first, 40*time.Millisecond)
		touch(first.Add(time.Duration(100+random.IntN(200))*time.Millisecond), 40*time.Millisecond)
	case n < 65:
		what = "a hold that is too short"
		touch(time.Now(), time.Duration(200+random.IntN(600))*time.Millisecond)
	case n < 75:
		what = "a hold"
		touch(time.Now(), 2500*time.Millisecond)
	case n < 80:
		what = "a double tap on Undo"
		x, y = d.spot("#undo button", random)
		first := time.Now()
		touch(first, 40*time.Millisecond)
		touch(first.Add(150*time.Millisecond), 40*time.Millisecond)
	default:
		what = "a touch anywhere"
		x, y = d.spot("button:not(#refused-all button), a:not([href$='/keep']), summary", random)
		touch(time.Now(), 40*time.Millisecond)
	}
	pause(30, 400)
	js[bool](d, drawn)
	return what, held
}

// spot is the middle of one of the elements of a selector that can be seen; where there is
// none, somewhere on the screen.
func (d *tablet) spot(selector string, random *rand.Rand) (x, y float64) {
	d.t.Helper()
	all := js[[][]float64](d, `[...document.querySelectorAll(%q)].map(e => e.getBoundingClientRect())
		.filter(r => r.width && r.left >= 0 && r.top >= 0 && r.right <= innerWidth && r.bottom <= innerHeight)
		.map(r => [r.left + r.width / 2, r.top + r.height / 2])`, selector)
	if len(all) == 0 {
		return random.Float64() * float64(d.width), random.Float64() * float64(d.height)
	}
	at := all[random.IntN(len(all))]
	return at[0], at[1]
}
