package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// looked: people look at pictures of every step at every size. Under CI nobody does, and they
// take longer than the walk.
var looked = os.Getenv("CI") == ""

// answersIn is how long a page may take to answer: longer than any does on a machine that is
// busy with other tests.
const answersIn = time.Minute

// drawn is true once what the page is now has been drawn.
const drawn = "new Promise(ok => requestAnimationFrame(() => requestAnimationFrame(() => ok(true))))"

// shots is where pictures of the screens go, for people to look at.
var shots = filepath.Join("..", "..", ".ci", "out", "shots")

// A browser is one real browser; each device in it has storage of its own.
type browser struct {
	t    testing.TB
	root context.Context
}

// clearShots keeps pictures of an earlier run from being taken for today's.
var clearShots = sync.OnceFunc(func() {
	if os.Getenv("CI") != "" {
		os.RemoveAll(shots)
	}
})

// newBrowser starts Chromium. Where there is none the test fails under CI and is
// left out elsewhere.
func newBrowser(t testing.TB, more ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	long(t)
	clearShots()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		if os.Getenv("CI") != "" {
			t.Fatal("no browser found; .ci/test installs one")
		}
		t.Skip("no browser found; install chromium, or run .ci/test")
	}
	flags := append(chromedp.DefaultExecAllocatorOptions[:], more...)
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), append(flags,
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("touch-events", "enabled"))...)
	t.Cleanup(cancel)
	root, end := chromedp.NewContext(ctx)
	t.Cleanup(end)
	if err := chromedp.Do(root); err != nil {
		t.Fatalf("start %s: %v", path, err)
	}
	return &browser{t, root}
}

// rested is when the page takes a tap for one on what it shows now.
const rested = "performance.now() >= seenFrom + 350"

// A tablet is one device: a tab with storage of its own, worked by touch.
type tablet struct {
	t             testing.TB
	ctx           context.Context
	width, height int64
}

func (b *browser) tablet(width, height int64) *tablet {
	b.t.Helper()
	ctx, end := chromedp.NewContext(b.root, chromedp.WithNewBrowserContext())
	b.t.Cleanup(end)
	if err := chromedp.Do(ctx); err != nil {
		b.t.Fatal(err)
	}
	d := &tablet{t: b.t, ctx: ctx}
	d.resize(width, height)
	return d
}

// resize gives the screen another size, as turning it or taking another device would.
func (d *tablet) resize(width, height int64) {
	d.t.Helper()
	d.width, d.height = width, height
	d.do(chromedp.EmulateViewport(width, height, chromedp.EmulateTouch))
}

func (d *tablet) do(actions ...chromedp.Action[chromedp.Void]) {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(d.ctx, answersIn)
	defer cancel()
	if err := chromedp.Do(ctx, actions...); err != nil {
		d.t.Fatalf("%dx%d: %v", d.width, d.height, err)
	}
}

func (d *tablet) open(url string) {
	d.t.Helper()
	d.do(chromedp.Navigate(url), chromedp.WaitReady(chromedp.CSS("main")))
}

// js evaluates an expression in the page.
func js[T any](d *tablet, format string, args ...any) T {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(d.ctx, answersIn)
	defer cancel()
	expression := fmt.Sprintf(format, args...)
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		d.t.Fatalf("%dx%d: %s: %v", d.width, d.height, expression, err)
	}
	return v
}

// until waits for an expression to be true; what says it in words.
func (d *tablet) until(what, format string, args ...any) {
	d.t.Helper()
	expression := fmt.Sprintf(format, args...)
	for end := time.Now().Add(answersIn); ; time.Sleep(15 * time.Millisecond) {
		// Half a page has half of what the expression names: that is not yet, no fault.
		if js[bool](d, "(() => { try { return !!(%s); } catch (e) { return false; } })()", expression) {
			return
		}
		if time.Now().After(end) {
			d.shot("failed")
			d.t.Fatalf("%dx%d: waited for: %s (%s), at %s", d.width, d.height, what, expression, js[string](d, "location.pathname"))
		}
	}
}

// middle is the middle of the first visible element of a selector, scrolled to.
func (d *tablet) middle(selector string) (x, y float64) {
	d.t.Helper()
	found := js[[]float64](d, `(() => {
		const e = [...document.querySelectorAll(%q)].find(e => e.getClientRects().length);
		if (!e) return [];
		e.scrollIntoView({block: "nearest"});
		const r = e.getBoundingClientRect();
		return [r.left + r.width / 2, r.top + r.height / 2];
	})()`, selector)
	if len(found) != 2 {
		d.shot("failed")
		d.t.Fatalf("%dx%d: nothing to touch at %s, at %s", d.width, d.height, selector, js[string](d, "location.pathname"))
	}
	return found[0], found[1]
}

func (d *tablet) tap(selector string) {
	d.t.Helper()
	d.hold(selector, 0)
}

// hold keeps a finger on an element.
func (d *tablet) hold(selector string, long time.Duration) {
	d.t.Helper()
	x, y := d.middle(selector)
	d.holdAt(x, y, long)
}

func (d *tablet) holdAt(x, y float64, long time.Duration) {
	d.t.Helper()
	d.touchAt(x, y, time.Now(), long)
}

// touchAt is a touch that began at a time, however late the browser is told of it. down is how long
// the finger was there at most: on a busy machine longer than was asked for.
func (d *tablet) touchAt(x, y float64, at time.Time, long time.Duration) (down time.Duration) {
	d.t.Helper()
	stamp := func(t time.Time) input.TimeSinceEpoch {
		return input.TimeSinceEpoch(float64(t.UnixMicro()) / 1e6)
	}
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{
			Type: "touchStart", TouchPoints: []*input.TouchPoint{{X: x, Y: y}}, Timestamp: stamp(at)})
		if err != nil {
			return err
		}
		time.Sleep(time.Until(at.Add(long)))
		down = time.Since(at)
		_, err = chromedp.Call(ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{
			Type: "touchEnd", TouchPoints: []*input.TouchPoint{}, Timestamp: stamp(at.Add(long))})
		return err
	}))
	return down
}

// front is what a person has in sight: a page behind another draws nothing, and takes no tap.
func (d *tablet) front() {
	d.t.Helper()
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, page.BringToFront, cdp.Empty{})
		return err
	}))
}

// fill types into a field.
func (d *tablet) fill(selector, text string) {
	d.t.Helper()
	d.tap(selector)
	js[bool](d, `(() => { const e = document.querySelector(%q); e.focus(); e.select && e.select(); return true })()`, selector)
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, input.InsertText, input.InsertTextParams{Text: text})
		return err
	}))
}

// shot keeps a picture of the screen as it stands.
func (d *tablet) shot(name string) {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(d.ctx, answersIn)
	defer cancel()
	picture, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{Format: "png"})
	if err != nil {
		d.t.Fatalf("picture %s: %v", name, err)
	}
	folder := filepath.Join(shots, fmt.Sprintf("%dx%d", d.width, d.height))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		d.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), picture.Data, 0o644); err != nil {
		d.t.Fatal(err)
	}
}

// dark asks for the dark look, as a device set to it does.
func (d *tablet) dark(on bool) {
	d.t.Helper()
	scheme := "light"
	if on {
		scheme = "dark"
	}
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
}
