package main

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"

	"cornerwise/calc/photo/made"
)

// photographed is a file with a made-up photo of a print that repeats both ways, with a sheet of
// Letter on it.
func photographed(t testing.TB) (file string, p made.Picture, f made.Fabric) {
	t.Helper()
	rng := rand.New(rand.NewPCG(5, 5))
	shot := made.Shots(rng, 1600)[0]
	shot.SheetW, shot.SheetH = 11, 8.5
	all := made.Fabrics(5)
	f = all[slices.IndexFunc(all, func(f made.Fabric) bool { return f.Name == "border print" })]
	p = made.Take(f, shot, rng)
	file = filepath.Join(t.TempDir(), "fabric.jpg")
	if err := os.WriteFile(file, p.JPEG, 0o600); err != nil {
		t.Fatal(err)
	}
	return file, p, f
}

// writesAPlan opens a new plan and types its sizes.
func (d *tablet) writesAPlan(s *server) {
	d.t.Helper()
	d.open(s.url + "/new")
	d.until("the form's script", `window.planForm`)
	d.fill(`[name="title"]`, "Fields of rye")
	d.fill(`[name="center.width"]`, "36 1/2")
	d.fill(`[name="center.length"]`, "48 1/2")
	d.fill(`[name="borders[0].cut"]`, "5 1/2")
}

// photographs opens the dialog and gives it a file.
func (d *tablet) photographs(file string) {
	d.t.Helper()
	js[bool](d, `document.getElementById("print-1").open = true`)
	d.tap(`[data-photo="1"]`)
	d.stage("take")
	d.do(chromedp.SetUploadFiles(chromedp.CSS("#fabric-file"), []string{file}))
	d.until("the photo in sight", `document.querySelector("#fabric canvas.photo")`)
}

func (d *tablet) stage(name string) {
	d.t.Helper()
	d.until("the stage "+name, `!document.getElementById("fabric").hidden && document.getElementById("fabric").dataset.stage === %q && !document.querySelector("#fabric.busy")`, name)
}

// goesOn is done with a stage.
func (d *tablet) goesOn(to string) {
	d.t.Helper()
	d.until("a way on", `!document.getElementById("fabric-next").disabled`)
	d.tap("#fabric-next")
	d.stage(to)
}

// touchesCorners touches the sheet's corners, each off by 3 pixels of the photo.
func (d *tablet) touchesCorners(p made.Picture) {
	d.t.Helper()
	off := [4][2]float64{{3, 0}, {0, -3}, {-2, 2}, {2, 2}}
	for i, c := range p.Corners {
		at := js[[]float64](d, `(() => {
			const c = document.querySelector("#fabric canvas.photo"), r = c.getBoundingClientRect();
			return [r.left + %g * r.width / c.width, r.top + %g * r.height / c.height];
		})()`, c.X+off[i][0], c.Y+off[i][1])
		d.holdAt(at[0], at[1], 50*time.Millisecond)
	}
	d.until("four corners", `document.querySelectorAll("#fabric .marks .dot").length === 4`)
}

// standsScript holds the dialog to the sizes of a step's screen (fitsScript): nothing cut off at the
// sides, no text and no target too small, and where it is a tablet nothing to scroll.
const standsScript = `(() => {
	const faults = [], room = document.querySelector("#fabric .room");
	const words = e => (e.getAttribute("aria-label") || e.textContent || e.id).trim().slice(0, 40);
	if (%t) for (const e of [room, ...room.querySelectorAll(".panel")])
		if (e.scrollHeight > e.clientHeight + 1) faults.push("scrolls: " + e.className + " " + e.scrollHeight + " in " + e.clientHeight);
	for (const e of document.querySelectorAll("#fabric *")) {
		if (!e.getClientRects().length || e.closest(".vh")) continue;
		const box = e.getBoundingClientRect();
		if (!e.closest("svg") && (box.left < -1 || box.right > innerWidth + 1)) faults.push("cut off: " + words(e));
		if (!e.closest("svg") && [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) &&
			parseFloat(getComputedStyle(e).fontSize) < %g) faults.push("small: " + words(e));
		if (e.matches("button, input, label.button") && Math.min(box.width, box.height) < %g)
			faults.push("target " + box.width + "x" + box.height + ": " + words(e));
	}
	return faults;
})()`

// stands looks at a stage at all sizes, keeps a picture of it at each, and has it read by the checker
// of pages where there is one.
func (d *tablet) stands(name string) {
	d.t.Helper()
	for _, size := range []struct {
		width, height int64
		text, target  float64
	}{{810, 1080, 31.5, 63.5}, {400, 800, 19.5, 43.5}, {1080, 810, 31.5, 63.5}} {
		if !looked && size.width == 400 {
			continue
		}
		d.resize(size.width, size.height)
		js[bool](d, drawn)
		if looked {
			d.shot(name)
		}
		for _, fault := range js[[]string](d, standsScript, size.width > 600, size.text, size.target) {
			d.t.Errorf("%s at %dx%d: %s", name, size.width, size.height, fault)
		}
	}
	script, err := os.ReadFile(axeFile)
	if err != nil { // TestNoPageFailsTheChecker tells where it must be there
		return
	}
	if !js[bool](d, "!!window.axe") {
		js[bool](d, "%s; !!window.axe", script)
	}
	within := func(script string) string {
		return strings.Replace(script, "axe.run(document", `axe.run(document.getElementById("fabric")`, 1)
	}
	faults := js[[]string](d, "%s", within(axeScript))
	d.dark(true)
	js[bool](d, drawn)
	faults = append(faults, js[[]string](d, "%s", within(axeColors))...)
	if looked {
		d.shot(name + "-dark")
	}
	d.dark(false)
	for _, fault := range faults {
		d.t.Errorf("%s: %s", name, fault)
	}
}

// From the camera to the plan with one finger: a photo, four touches, the outline, both repeats, the
// corners, and what was chosen stands in the session's plan.
func TestAFabricIsPhotographedIntoThePlan(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	d := b.tablet(1080, 810)
	file, p, fabric := photographed(t)
	d.writesAPlan(s)
	d.photographs(file)
	d.stands("980-fabric-photo")
	d.goesOn("sheet")
	d.tap(`[data-way="letter"]`)
	d.stands("981-fabric-sheet")
	d.goesOn("touch")
	d.touchesCorners(p)
	d.stands("982-fabric-touches")
	d.goesOn("outline")
	d.stands("983-fabric-outline")
	d.goesOn("along")
	near := func(way string, want float64) {
		t.Helper()
		got := js[float64](d, `readLength(document.getElementById("fabric-length").value)`)
		if math.Abs(got/want-1) > 0.01 {
			t.Errorf("%s: the field says %.3f, want %.3f within 1 %%", way, got, want)
		}
	}
	near("along", fabric.Along.Period)
	d.stands("984-fabric-along")
	d.goesOn("across")
	near("across", fabric.Across.Period)
	d.stands("985-fabric-across")
	d.goesOn("corners")
	d.until("the corners with the fabric", `document.querySelector("#fabric pattern[patternTransform]")`)
	before := js[string](d, `document.querySelector("#fabric pattern").getAttribute("patternTransform")`)
	d.tap(`#fabric-start-row .nudge:last-child`)
	d.until("the strip slides", `document.querySelector("#fabric pattern").getAttribute("patternTransform") !== %q`, before)
	d.until("the fabric to buy", `document.querySelector("#fabric .buys").textContent.startsWith("Buy ")`)
	d.stands("986-fabric-corners")
	d.goesOn("taken")
	d.stands("987-fabric-taken")
	d.tap("#fabric-next")
	d.until("the form with the tile", `document.getElementById("fabric").hidden && document.querySelector("#print-1 img")`)
	d.shot("988-fabric-form")
	if js[bool](d, "!!window.axe") {
		for _, fault := range js[[]string](d, "%s", axeScript) {
			t.Errorf("the form with a photo: %s", fault)
		}
	}
	swatch := js[string](d, `document.getElementsByName("borders[0].photo")[0].value`)
	if title := js[string](d, `document.getElementById("title").value`); title != "Fields of rye" {
		t.Errorf("the title is %q after it", title)
	}
	d.tap(".go")
	d.until("the session", `location.pathname.startsWith("/s/") && document.body.dataset.id`)
	var kept struct {
		Plan struct {
			Borders []struct{ Photo, Start, Stripe string }
		}
	}
	id := js[string](d, "document.body.dataset.id")
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &kept); status != 200 || err != nil {
		t.Fatalf("GET the session: %d %v", status, err)
	}
	if got := kept.Plan.Borders; len(got) != 1 || got[0].Photo != swatch || len(swatch) != 49 || got[0].Start != "1/16" {
		t.Errorf("the plan's borders are %+v, want the swatch %q from 1/16 on", got, swatch)
	}

	// What was chosen is there again when the plan is changed.
	d.open(s.url + "/s/" + id + "/plan")
	d.until("the form's script", `window.planForm`)
	d.tap(`[data-photo="1"]`)
	d.stage("corners")
	if got := js[string](d, `document.querySelector("#fabric-start-row output").textContent`); got != "1/16\u00a0in" {
		t.Errorf("opened again the strip starts at %q, want 1/16 in", got)
	}
}

// BenchmarkFabricSlides is how many frames a second the corners show while a finger slides the strip
// across the print, on a tablet whose processor is six times as slow; and how many ms of processor
// the page takes for one, which tells the same where other work shares the processor.
func BenchmarkFabricSlides(b *testing.B) {
	s := start(b, b.TempDir())
	d := newBrowser(b).tablet(1080, 810)
	file, p, _ := photographed(b)
	d.writesAPlan(s)
	d.photographs(file)
	d.goesOn("sheet")
	d.goesOn("touch")
	d.touchesCorners(p)
	for _, stage := range []string{"outline", "along", "across", "corners"} {
		d.goesOn(stage)
	}
	d.slowed(6)
	for _, name := range []string{"start", "middle", "cut"} {
		b.Run(name, func(b *testing.B) {
			var took []float64
			before := d.processor()
			for b.Loop() {
				took = append(took, js[[]float64](d, slides, name)...)
			}
			b.ReportMetric((d.processor()-before)*1000/float64(len(took)), "ms/frame")
			slices.Sort(took)
			b.ReportMetric(1000/took[len(took)/2], "frames/s")
			b.ReportMetric(1000/took[len(took)*95/100], "frames/s-p95")
		})
	}
}

// processor is how many seconds of a processor the page's main thread has taken.
func (d *tablet) processor() (seconds float64) {
	d.t.Helper()
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		if _, err := chromedp.Call(ctx, performance.Enable, performance.EnableParams{TimeDomain: "threadTicks"}); err != nil {
			return err
		}
		all, err := chromedp.Call(ctx, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, m := range all.Metrics {
			if m.Name == "ThreadTime" {
				seconds = m.Value
			}
		}
		return nil
	}))
	return seconds
}

// slides moves a slide for 120 frames, and tells how many ms each took.
const slides = `new Promise(done => {
	const range = document.getElementById("fabric-%s"), took = [];
	let last = 0;
	requestAnimationFrame(function next(now) {
		if (last) took.push(now - last);
		last = now;
		if (took.length === 120) { done(took); return; }
		range.value = Number(range.min) + took.length %% (range.max - range.min);
		range.dispatchEvent(new Event("input", {bubbles: true}));
		requestAnimationFrame(next);
	});
})`

// Without the server the photo stays in the page, which says so, and it can be sent again.
func TestAPhotoWaitsForTheServer(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	d := b.tablet(810, 1080)
	file, _, _ := photographed(t)
	d.writesAPlan(s)
	none := filepath.Join(t.TempDir(), "none.jpg")
	if err := os.WriteFile(none, []byte("a text"), 0o600); err != nil {
		t.Fatal(err)
	}
	js[bool](d, `document.getElementById("print-1").open = true`)
	d.tap(`[data-photo="1"]`)
	d.stage("take")
	d.stands("979-fabric-commands")
	d.resize(810, 1080)
	d.do(chromedp.SetUploadFiles(chromedp.CSS("#fabric-file"), []string{none}))
	d.until("a word that it is no picture", `document.querySelector("#fabric .whole > .fault").textContent.includes("can't open that picture")`)
	d.tap("#fabric [data-cancel]")
	d.until("the form", `document.getElementById("fabric").hidden`)
	d.photographs(file)
	s.stop(syscall.SIGTERM)
	d.tap("#fabric-next")
	d.until("a word that the server is away", `document.querySelector("#fabric .whole > .fault").textContent.includes("can't be reached")`)
	if again := js[string](d, `document.getElementById("fabric-next").textContent`); again != "Send again" {
		t.Errorf("the button says %q, want Send again", again)
	}
	d.shot("989-fabric-away")
	s.back()
	d.tap("#fabric-next")
	d.stage("sheet")
	if cut := js[string](d, `document.getElementById("borders[0].cut").value`); !strings.Contains(cut, "5 1/2") {
		t.Errorf("the cut width is %q after it, want what was typed", cut)
	}
}
