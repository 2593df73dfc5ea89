//go:build unix

package main

import (
	"math"
	"testing"
	"time"
)

// An engine is a browser's window, worked by a finger.
type engine interface {
	open(url string)
	resize(width, height int)
	run(into any, format string, args ...any)
	until(what, format string, args ...any)
	hold(selector string, long time.Duration)
	holdAt(x, y int, long time.Duration)
	choose(selector, file string)
}

// In the other engines, too, a fabric is photographed with one finger into the form.
func TestAFabricIsPhotographedInTheOtherEngines(t *testing.T) {
	for name, open := range map[string]func(t *testing.T) engine{
		"the other engine": func(t *testing.T) engine { return newWebKit(t) },
		"the third engine": func(t *testing.T) engine { return newFirefox(t) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			e := open(t)
			s := start(t, t.TempDir())
			file, p, fabric := photographed(t)
			e.resize(1080, 810)
			e.open(s.url + "/new")
			e.until("the form's script", `window.planForm`)
			e.run(nil, `(() => {
				window.faults = [];
				addEventListener("error", e => faults.push(e.message));
				addEventListener("unhandledrejection", e => faults.push(String(e.reason)));
				const type = (name, text) => {
					const f = document.getElementsByName(name)[0];
					f.value = text;
					f.dispatchEvent(new Event("input", {bubbles: true}));
				};
				type("title", "Fields of rye");
				type("center.width", "36 1/2");
				type("center.length", "48 1/2");
				type("borders[0].cut", "5 1/2");
				document.getElementById("print-1").open = true;
				return true;
			})()`)
			e.until("the preview, with its hint beside the width", `document.querySelector("form").textContent.includes("Strips are joined")`)
			e.run(nil, `document.querySelector('[data-photo="1"]').scrollIntoView({block: "center"})`)
			stage := func(name string) {
				t.Helper()
				e.until("the stage "+name, `!document.getElementById("fabric").hidden && document.getElementById("fabric").dataset.stage === %q && !document.querySelector("#fabric.busy")`, name)
				var faults []string
				if e.run(&faults, standsScript, true, 31.5, 63.5); len(faults) > 0 {
					t.Errorf("%s: %v", name, faults)
				}
			}
			goesOn := func(to string) {
				t.Helper()
				e.until("a way on from "+to, `!document.getElementById("fabric-next").disabled`)
				e.hold("#fabric-next", 40*time.Millisecond)
				stage(to)
			}
			near := func(way string, want float64) {
				t.Helper()
				var got float64
				if e.run(&got, `readLength(document.getElementById("fabric-length").value)`); math.Abs(got/want-1) > 0.01 {
					t.Errorf("%s: the field says %.3f, want %.3f within 1 %%", way, got, want)
				}
			}
			e.hold(`[data-photo="1"]`, 40*time.Millisecond)
			stage("take")
			e.choose("#fabric-file", file)
			e.until("the photo in sight", `document.querySelector("#fabric canvas.photo")`)
			goesOn("sheet")
			e.hold(`[data-way="letter"]`, 40*time.Millisecond)
			goesOn("touch")
			for i, c := range p.Corners {
				var at [2]float64
				e.run(&at, `(() => {
					const c = document.querySelector("#fabric canvas.photo"), r = c.getBoundingClientRect();
					return [r.left + %g * r.width / c.width, r.top + %g * r.height / c.height];
				})()`, c.X+2, c.Y-2)
				e.holdAt(int(at[0]), int(at[1]), 60*time.Millisecond)
				e.until("a corner", `document.querySelectorAll("#fabric .marks .dot").length === %d`, i+1)
			}
			goesOn("outline")
			goesOn("along")
			near("along", fabric.Along.Period)
			goesOn("across")
			near("across", fabric.Across.Period)
			goesOn("corners")
			e.until("the corners with the fabric", `document.querySelector("#fabric pattern[patternTransform]")`)
			var before string
			e.run(&before, `document.querySelector("#fabric pattern").getAttribute("patternTransform")`)
			e.hold(`#fabric-start-row .nudge:last-child`, 40*time.Millisecond)
			e.until("the strip slides", `document.querySelector("#fabric pattern").getAttribute("patternTransform") !== %q`, before)
			e.until("the fabric to buy", `document.querySelector("#fabric .buys").textContent.startsWith("Buy ")`)
			goesOn("taken")
			e.hold("#fabric-next", 40*time.Millisecond)
			e.until("the form with the tile", `document.getElementById("fabric").hidden && document.querySelector("#print-1 img").naturalWidth`)
			var kept string
			if e.run(&kept, `document.getElementsByName("borders[0].photo")[0].value`); len(kept) != 49 {
				t.Errorf("the form has the swatch %q", kept)
			}
			var faults []string
			if e.run(&faults, "faults"); len(faults) > 0 {
				t.Errorf("faults of the script: %v", faults)
			}
		})
	}
}
