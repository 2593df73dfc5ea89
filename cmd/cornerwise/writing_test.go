package main

import (
	"strings"
	"testing"
)

// A rectangle of 60 x 80 finished has a print of 6 in that misses by 1 at its corners:
// (80 − 60) / 2 = 10 is no whole number of half repeats, 3 in each (derived). The person
// sees it, takes the coping strips on the sides with one touch, and sees it mended.
func TestAPrintThatMissesIsMendedWithCopingStrips(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	d := b.tablet(1080, 810)
	d.open(s.url + "/new")
	d.fill(`[name="title"]`, "Harbour lanterns")
	d.fill(`[name="center.width"]`, "60 1/2")
	d.fill(`[name="center.length"]`, "80 1/2")
	d.fill(`[name="borders[0].name"]`, "lanterns")
	d.fill(`[name="borders[0].cut"]`, "6 1/2")
	d.tap(`#print-1 summary`)
	d.fill(`[name="borders[0].motif"]`, "6")
	d.until("all four ways to center, as they would meet", `document.querySelectorAll("#preview .four svg").length === 4`)
	d.until("that it misses", `document.querySelector("#preview .meeting").textContent.includes("misses by 1 in at every corner")`)
	d.until("every corner crossed out", `document.querySelectorAll('#preview .four use[href="#miss"]').length === 16`)
	js[bool](d, `(() => { document.querySelector("#preview .meeting").scrollIntoView(); return true })()`)
	d.everySize("004-plan-misses", nil)

	d.tap(`#preview button[value="coping-sides"]`)
	d.until("that it meets", `document.querySelector("#preview .meeting").textContent.includes("meets at every corner")`)
	d.until("the way taken ticked at all four corners", `document.querySelectorAll('#preview .four .best use[href="#meet"]').length === 4`)
	d.until("what the strips are cut", `document.querySelector('[data-beside-of="coping.cut"]').textContent.includes("together they add 2 in")`)
	if got := js[string](d, `document.querySelector('[name="coping.edges"]').value`); got != "sides" {
		t.Errorf("after taking the strips the form's edges are %q, want sides", got)
	}
	js[bool](d, `(() => { document.querySelector("#preview .meeting").scrollIntoView(); return true })()`)
	d.everySize("005-plan-mended", nil)

	d.tap("button.go")
	d.until("the session", `location.pathname.startsWith("/s/") && document.readyState === "complete" && document.body.dataset.id`)
	id := js[string](d, "document.body.dataset.id")
	var state struct {
		Sheet struct {
			Coping struct{ Total struct{ Value string } }
			Match  []struct{ Mismatch struct{ Value string } }
			Center struct{ Width struct{ Value string } }
		}
	}
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		t.Fatalf("GET the session: got %d %v, want 200", status, err)
	}
	if sheet := state.Sheet; sheet.Coping.Total.Value != "2" || sheet.Match[0].Mismatch.Value != "0" || sheet.Center.Width.Value != "62.5" {
		t.Errorf("the session's sheet: coping %s, mismatch %s, center %s wide; want 2, 0, 62.5", sheet.Coping.Total.Value, sheet.Match[0].Mismatch.Value, sheet.Center.Width.Value)
	}
}

// A plan begins from a bed: the widths are worked out and taken by one touch, and a
// ready-made stripe is drawn on it; what a piece of fabric at hand allows is said
// beside it.
func TestAPlanFromABed(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	d := b.tablet(1080, 810)
	d.open(s.url + "/new")
	d.fill(`[name="center.width"]`, "72 1/2")
	d.fill(`[name="center.length"]`, "80 1/2")
	d.fill(`[name="borders[0].name"]`, "ticking")
	d.tap(`#wanting summary`)
	js[bool](d, `(() => { const e = document.getElementById("wanted.bed"); e.value = "queen"; e.dispatchEvent(new Event("change", {bubbles: true})); return true })()`)
	// 60 x 80 with a drop of 12: 84 x 92 (school slides on bed quilts), 6 more than the
	// center on each edge.
	d.until("the size it comes to", `document.querySelector("#preview").textContent.includes("To finish at 84 in × 92 in")`)
	d.shot("006-plan-wanted")
	d.tap(`#preview button[value^="fit-1-"]`)
	d.until("the width in the form", `document.querySelector('[name="borders[0].cut"]').value === "6 1/2 in"`)
	d.until("the size met", `document.querySelector("#preview").textContent.includes("84 in × 92 in")`)

	d.tap(`#print-1 summary`)
	d.tap(`button[value="stripe-1-ticking"]`)
	d.until("its lines in the form", `document.querySelectorAll("#border-1 .line").length === 4`)
	d.until("what it comes to beside it", `document.querySelector('[data-beside-of="borders[0].stripe"]').textContent.includes("across the fabric")`)
	d.until("the stripe turning the corner", `[...document.querySelectorAll("#preview h3")].some(h => h.textContent.includes("turns the corner"))`)
	d.everySize("007-plan-striped", nil)
	js[bool](d, `(() => { document.querySelector("#preview").scrollTop = 400; return true })()`)
	d.shot("008-plan-turns")

	d.tap(`#fabric-1 summary`)
	d.fill(`[name="borders[0].hand.width"]`, "42")
	d.fill(`[name="borders[0].hand.length"]`, "60")
	d.until("that the piece is too short", `document.querySelector('[data-beside-of="borders[0].hand.length"]').textContent.includes("too short")`)
	d.shot("009-plan-at-hand")
	d.until("no sideways scrolling", `document.documentElement.scrollWidth <= innerWidth`)
}

// The pages to print hold their tables on a phone as on a tablet, and the list is
// copied with a touch.
func TestThePagesToPrint(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	var made struct{ ID string }
	plan := `{"title":"Harbour lanterns","center":{"width":"60 1/2","length":"80 1/2"},"coping":{"edges":"sides"},"borders":[
		{"name":"ticking","cut":"2 1/2","start":"1/4","lines":[{"name":"cream","width":"3/4","color":"#f2ead8"},{"name":"navy","width":"3/8","color":"#23395b"}]},
		{"name":"lanterns","cut":"6 1/2","motif":"6"},{"name":"dark edge","cut":"2","fabric":{"name":"indigo"}},{"name":"rim","cut":"1 1/2","fabric":{"name":"indigo"}}]}`
	if status, err := s.call("POST", "/api/v1/sessions", plan, &made); status != 201 || err != nil {
		t.Fatalf("POST the plan: got %d %v, want 201", status, err)
	}
	d := b.tablet(1080, 810)
	for _, page := range []string{"sheet", "cutting", "shopping", "paper"} {
		d.open(s.url + "/s/" + made.ID + "/" + page)
		d.everySize("90-"+page, func(string) {
			d.until("no sideways scrolling on the page "+page, `document.documentElement.scrollWidth <= innerWidth`)
		})
	}
	for _, one := range []string{"cuts", "steps", "corner"} {
		d.tap("label[for=with-" + one + "]")
		d.until("that it is left out: "+one, `!document.getElementById("%s").getClientRects().length`, one)
	}
	d.tap("#with-corner")
	d.until("the corner card again", `document.getElementById("corner").getClientRects().length`)
	js[bool](d, "(() => { window.print = () => { document.body.dataset.printed = 'yes'; }; return true })()")
	d.tap(".papers [data-print]")
	d.until("that it is printed", `document.body.dataset.printed === "yes"`)
	words := js[string](d, "document.querySelector('main').innerText")
	if strings.Contains(words, "Press the center") || !strings.Contains(words, "lay a ruler on the two lines") {
		t.Errorf("with only the corner card chosen the page says %.200q", words)
	}

	d.open(s.url + "/s/" + made.ID + "/shopping")
	d.tap(`[data-copy="list"]`)
	d.until("that it was copied", `document.querySelector('[data-copy="list"]').textContent === "Copied"`)

	d.open(s.url + "/s/" + made.ID + "/sheet")
	d.tap(".tables .fig summary")
	d.until("how the number came about", `document.querySelector(".tables .fig[open] p").getClientRects().length`)
	d.shot("90-sheet-opened")

	d.open(s.url + "/s/" + made.ID + "/cutting")
	d.fill("#hand-3 [name=width]", "40")
	d.fill("#hand-3 [name=length]", "20")
	d.tap("#hand-3 button")
	d.until("that the piece is too short for both borders", `document.querySelector("#hand-3 .remark") && document.querySelector("#hand-3 .remark").textContent.includes("For all 2 borders of indigo it is ")`)
}
