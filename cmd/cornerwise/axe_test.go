package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// axeFile is the checker of pages that .ci/test fetches. It is for tests only, and no part of
// what is built.
var axeFile = filepath.Join("..", "..", ".ci", "out", "axe", "package", "axe.min.js")

// axeScript reads the page by the rules of WCAG 2.2, A and AA, and by best practice. That a name
// holds the words that are seen (2.5.3) is a trial yet, and has to be asked for. What a rule can't
// tell is no fault.
const axeScript = `axe.run(document, {
	runOnly: {type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
	rules: {"label-content-name-mismatch": {enabled: true}},
	resultTypes: ["violations"],
}).then(r => r.violations.flatMap(v => v.nodes.map(n =>
	v.id + ": " + n.html.slice(0, 120) + " " + (n.any[0] || n.all[0] || n.none[0] || {message: ""}).message)))`

// axeColors is what a dark look may change.
const axeColors = `axe.run(document, {runOnly: {type: "rule", values: ["color-contrast", "link-in-text-block"]},
	resultTypes: ["violations"],
}).then(r => r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.html.slice(0, 120) + " " + n.any[0].message)))`

// axeOnly takes away the steps that are not in sight: the checker passes over them, and takes
// seconds to do so.
const axeOnly = `[...document.querySelectorAll("main .step[hidden], main .list[hidden], main .tick[hidden], main .group[hidden]")]
	.map(e => e.remove()).length`

// axe is the checker's script. Where it is not there the test fails under CI and is left out
// elsewhere.
func axe(t *testing.T) string {
	t.Helper()
	script, err := os.ReadFile(axeFile)
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("no checker of pages found; .ci/test fetches one: %v", err)
		}
		t.Skip("no checker of pages found; run .ci/test, which fetches one")
	}
	return string(script)
}

// A checked page is one state of a page: what brings it there from its address, and what is then
// seen.
type checkedPage struct{ name, address, work, seen string }

// Every page and every kind of step, with its panels open, passes a checker of other people, in
// the light look and in the dark one.
func TestNoPageFailsTheChecker(t *testing.T) {
	t.Parallel()
	script := axe(t)
	b := newBrowser(t)
	d := b.tablet(1080, 810)

	check := func(p checkedPage) {
		t.Helper()
		d.dark(false)
		d.open(p.address)
		d.until(p.name+", whole", `document.readyState === "complete"`)
		if p.work != "" {
			js[bool](d, `(() => { %s; return true })()`, p.work)
		}
		if p.seen != "" {
			d.until(p.name, "%s", p.seen)
		}
		js[int](d, "%s", axeOnly)
		js[bool](d, "%s; !!window.axe", script)
		for _, fault := range js[[]string](d, "%s", axeScript) {
			t.Errorf("%s: %s", p.name, fault)
		}
		d.dark(true)
		js[bool](d, drawn)
		for _, fault := range js[[]string](d, "%s", axeColors) {
			t.Errorf("%s, dark: %s", p.name, fault)
		}
	}

	s := start(t, t.TempDir())
	check(checkedPage{name: "the first page, empty", address: s.url + "/"})
	check(checkedPage{name: "a new plan", address: s.url + "/new"})
	id := s.planned(axePlan)
	quilt := s.url + "/s/" + id
	s.goOn(id, "mark.left.middle")
	for _, p := range []checkedPage{
		{name: "the first page", address: s.url + "/"},
		{name: "a plan with faults", address: s.url + "/new", work: `
			document.querySelector("[name='center.width']").value = "x";
			document.getElementById("plan").submit()`, seen: `document.querySelector(".faults")`},
		{name: "a plan, all open", address: quilt + "/plan",
			work: `document.querySelectorAll("details").forEach(d => { d.open = true })`},
		{name: "the sheet", address: quilt + "/sheet"},
		{name: "where to cut", address: quilt + "/cutting"},
		{name: "to print", address: quilt + "/paper"},
		{name: "to keep", address: quilt + "/keep"},
		{name: "the shopping list", address: quilt + "/shopping"},
		{name: "this device", address: quilt + "/settings"},
		{name: "devices", address: s.url + "/devices"},
		{name: "take everything along", address: s.url + "/along"},
		{name: "an offer of one quilt", address: s.url + "/devices?quilt=" + id},
		{name: "what went wrong", address: quilt + "/wrong"},
		{name: "the words", address: s.url + "/terms"},
		{name: "no such page", address: s.url + "/nothing"},
	} {
		check(p)
	}
	for _, wrong := range []string{"stretched", "short-strip"} {
		check(checkedPage{name: "trouble " + wrong, address: quilt + "/wrong/" + wrong})
	}
	_, there := lan(t)
	check(checkedPage{name: "to pair", address: there + "/pair"})
	_, sealed := lan(t, "--tls")
	check(checkedPage{name: "to trust", address: strings.Replace(sealed, "https:", "http:", 1) + "/trust"})

	// Of each stage a step that asks, one that does not, and one that cuts.
	d.open(quilt)
	d.until("its script", `steps.length > 0`)
	stepsSeen := js[[]string](d, `(() => {
		const seen = {}, list = [];
		steps.forEach(s => s.ticks.forEach(t => {
			const key = [s.stage, t.cuts, s.measures.length > 0].join();
			if (!seen[key]) { seen[key] = true; list.push(s.id + "?tick=" + t.id); }
		}));
		return list;
	})()`)
	for _, address := range stepsSeen {
		check(checkedPage{name: "step " + address, address: quilt + "/step/" + address,
			seen: `document.querySelector(".tick:not([hidden]) .pic svg")`})
	}
	for _, stage := range []string{"square-up", "press"} {
		check(checkedPage{name: "the steps of " + stage, address: quilt + "/stage/" + stage})
	}
	open := func(selector string) string { return fmt.Sprintf(`document.querySelector(%q).open = true`, selector) }
	touch := func(selector string) string { return fmt.Sprintf(`document.querySelector(%q).click()`, selector) }
	for _, p := range []checkedPage{
		{name: "the menu", work: open(".menu")},
		{name: "the acts", work: open("section.step:not([hidden]) .items")},
		{name: "how", work: open(".tick:not([hidden]) .how"), seen: `document.querySelector(".how[open] .words button")`},
		{name: "a word", work: open(".tick:not([hidden]) .how") +
			`; setTimeout(function again() { const b = document.querySelector("[data-word]"); b ? b.click() : setTimeout(again, 50) }, 50)`,
			seen: `!document.getElementById("word").hidden`},
		{name: "what can be counted", work: `goTick(byTick["center.pressed"]); ` + open(".tick:not([hidden]) .how"),
			seen: `document.querySelector(".how[open] .counts button")`},
		{name: "a count at its end", work: `localStorage.setItem("count", Date.now() - 1000); bring("count")`,
			seen: `document.querySelector(".count[data-up]")`},
		{name: "a note", work: open("section.step:not([hidden]) .note")},
		{name: "the picture alone", work: touch("section.step:not([hidden]) .see"), seen: `!document.getElementById("picture").hidden`},
		{name: "a warning", work: `warn("The server is away.")`},
		{name: "open it again", work: `goTick(byTick["center.pressed"]); setTimeout(() => document.getElementById("reopen").click(), 500)`,
			seen: `!document.getElementById("redo").hidden`},
		{name: "putting off", work: touch("section.step:not([hidden]) .later"), seen: `!document.getElementById("reason").hidden`},
	} {
		p.address = quilt
		check(p)
	}
	check(checkedPage{name: "the pad", address: quilt + "/step/widths",
		work: touch("section.step:not([hidden]) .field input"), seen: `!document.getElementById("pad").hidden`})

	js[bool](d, `(() => { localStorage.setItem("pace", "practiced"); localStorage.setItem("voice", "on"); return true })()`)
	check(checkedPage{name: "a group", address: quilt, seen: "view.group"})
	s.goOn(id, "")
	check(checkedPage{name: "the end", address: quilt, seen: `!document.getElementById("end").hidden`})
}

// axePlan has two borders, a stripe, and bands that differ.
const axePlan = `{"title": "Harbour lanterns", "center": {"width": "36 1/2", "length": "48 1/2"}, "borders": [
	{"name": "dark line", "cut": "1 1/2"},
	{"name": "ticking", "cut": "5 1/2", "cutTopBottom": "6 1/2", "stripe": "1 1/8", "fabric": {"runs": "lengthwise"}}]}`
