package main

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"cornerwise/session/web"
)

// Text may be set to 150 %, and a reader may space it as WCAG 2.2 SC 1.4.12 has it: no word of a
// step is cut off or out of reach then.
func TestLargeAndSpacedTextLosesNothing(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	id := s.planned(string(web.DemoPlan))
	for _, size := range [][2]int64{{1080, 810}, {810, 1080}} {
		d := b.tablet(size[0], size[1])
		d.open(s.url + "/s/" + id)
		d.until("every drawing", `[...document.querySelectorAll(".tick .pic")].every(p => p.firstElementChild)`)
		for _, c := range []struct{ name, set, back string }{
			{"150 %", `localStorage.setItem("scale", 1.5); showAsSet(); refit()`, `localStorage.removeItem("scale"); showAsSet(); refit()`},
			{"spaced", `const sheet = new CSSStyleSheet(); sheet.replaceSync("* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }"); document.adoptedStyleSheets = [sheet]; refit()`, `document.adoptedStyleSheets = []; refit()`},
		} {
			js[bool](d, "(() => { %s; return true })()", c.set)
			for _, fault := range js[[]string](d, eachActLost, lostScript) {
				t.Errorf("%s, %dx%d: %s", c.name, size[0], size[1], fault)
			}
			d.shot("940-lost-" + strings.Fields(c.name)[0])
			js[bool](d, "(() => { %s; return true })()", c.back)
		}
	}
}

// eachActLost looks at each seventh act in turn, and lists what is lost of it.
const eachActLost = `(() => {
	const faults = [];
	for (const t of ticks.filter((t, i) => i %% 7 === 0)) {
		shown.here = work.here = t.step.id;
		look(t);
		paint();
		for (const f of %s) faults.push(t.id + ": " + f);
	}
	return faults.slice(0, 30);
})()`

// lostScript lists the words in sight that are cut off by what holds them, or that no scrolling
// brings onto the screen. What is meant for readers aloud alone is one pixel large. The names in the
// stages and the last thing done may be cut: both are told whole elsewhere.
const lostScript = `(() => {
	const faults = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	const scrolls = o => o === "auto" || o === "scroll";
	while (walk.nextNode()) {
		const text = walk.currentNode.textContent.trim(), e = walk.currentNode.parentElement;
		if (!text || e.closest("svg, .vh, script, noscript, .over, .last, .stages, .skip")) continue;
		const range = document.createRange();
		range.selectNodeContents(walk.currentNode);
		const r = range.getBoundingClientRect();
		if (!r.width || getComputedStyle(e).visibility === "hidden") continue;
		for (let p = e; p && p !== document.documentElement; p = p.parentElement) {
			const style = getComputedStyle(p), box = p.getBoundingClientRect();
			if (style.clip === "rect(0px, 0px, 0px, 0px)") { r.hidden = true; break; }
			if (scrolls(style.overflowY)) break;
			if (style.overflowX === "visible" || p === document.body) continue;
			if (r.right > box.right + 2 || r.left < box.left - 2 || r.bottom > box.bottom + 4 || r.top < box.top - 4)
				faults.push("cut off by " + (p.id || p.className || p.tagName) + ": " + text.slice(0, 40));
		}
		if (r.hidden) continue;
		if (r.right > innerWidth + 1 || r.left < -1) faults.push("beside the screen: " + text.slice(0, 40));
		const main = document.getElementById("main"), foot = document.querySelector(".bar").getBoundingClientRect();
		if (e.closest(".bar") && (foot.bottom > innerHeight + 1 || r.bottom > innerHeight + 1)) faults.push("under the screen: " + text.slice(0, 40));
		if (e.closest("#main") && main.scrollHeight > main.clientHeight + 1 && !scrolls(getComputedStyle(main).overflowY)) faults.push("the step does not scroll");
	}
	return [...new Set(faults)];
})()`

// Where a device sets the colors, what is current and what is chosen still differ from the rest.
func TestForcedColorsKeepWhatIsCurrent(t *testing.T) {
	t.Parallel()
	s, id, _, b := alone(t, 0)
	d := b.work(1080, 810, s, id)
	d.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}})
		return err
	}))
	d.until("forced colors", `matchMedia("(forced-colors: active)").matches`)
	look := func(selector string) string {
		t.Helper()
		return js[string](d, `(() => { const s = getComputedStyle(document.querySelector(%q)); return s.backgroundColor + " on " + s.color + " " + s.outlineStyle })()`, selector)
	}
	for _, c := range []struct{ what, is, other string }{
		{"the current stage", ".stage[data-now]", ".stage:not([data-now])"},
		{"the wide button", "#do", "#undo button"},
	} {
		if now, other := look(c.is), look(c.other); now == other {
			t.Errorf("%s looks as the rest: %s", c.what, now)
		}
	}
	d.shot("941-forced-colors")
}
