package main

import "testing"

// For a left hand the wide button stands left of the rest of the bar, on every step and at
// every size. Back stays left of ahead, and the corners as the quilt lies.
func TestTheBarStandsForTheHand(t *testing.T) {
	t.Parallel()
	s, d, id := demo(t)
	const middles = `["act", "back", "ahead", "map"].map(n => document.getElementById(n) || document.querySelector("." + n)).map(e => e.getClientRects().length ? (r => [r.left + r.width / 2, r.top])(e.getBoundingClientRect()) : null)`
	wrong := func(name string, left bool) {
		t.Helper()
		at := js[[]*[2]float64](d, middles)
		act, back, ahead, corners := at[0], at[1], at[2], at[3]
		if back != nil && ahead != nil && back[0] >= ahead[0] {
			t.Errorf("%s: back stands at %.0f, ahead at %.0f", name, back[0], ahead[0])
		}
		for _, other := range []*[2]float64{back, ahead, corners} {
			if other == nil || other[1] < act[1]-1 { // above the bar
				continue
			}
			if left != (act[0] < other[0]) {
				t.Errorf("%s: the wide button stands at %.0f, what is beside it at %.0f", name, act[0], other[0])
			}
		}
	}
	s.goOn(id, "miter.2.lined")
	const trimmed = "/step/corner-2?tick=miter.2.trimmed"
	pages := []string{"", "/step/widths", "/step/corner-2?tick=miter.2.folded", trimmed, "/stage/cut"}
	for _, left := range []bool{false, true} {
		d.open(s.url + "/settings")
		d.until("the settings", `document.readyState === "complete" && document.querySelector('[data-set="hand"][aria-pressed="true"]')`)
		value, name := "", "right"
		if left {
			value, name = "left-hand", "left"
		}
		d.tap(`[data-set="hand"][data-value="` + value + `"]`)
		for n, page := range pages {
			d.open(s.url + "/s/" + id + page)
			d.inStep()
			if n == 0 || page == trimmed {
				// Drawn with the page, or after it.
				// The blade's way is up, its handle at the hand.
				d.until("the cut drawn for the "+name+" hand", `byTick["miter.2.trimmed"].box.querySelector('.pic use[href="#blade"]').getAttribute("transform").indexOf(%q) === 0`, map[bool]string{false: "matrix(0 -1 1 0 ", true: "matrix(0 -1 -1 0 "}[left])
			}
			for _, size := range screens {
				d.resize(size.width, size.height)
				js[bool](d, drawn)
				wrong(name+" hand, "+page, left)
				if looked && left {
					d.shot("99" + string(rune('0'+n)) + "-hand-" + name)
				}
				if size.whole && page == "" { // at work
					d.fits(name + " hand, " + page)
				}
			}
		}
	}
}
