package web_test

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

const lanternPlan = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`

// measured sends measures as a device does, and ticks before them.
func (h *house) did(id string, ticks []string, measures ...string) {
	h.t.Helper()
	for i, tick := range ticks {
		h.must(200, "POST", "/api/v1/sessions/"+id+"/ops", fmt.Sprintf(`{"op":"t%d-%s","kind":"tick","tick":%q,"done":true}`, i, tick, tick), nil)
	}
	for i := 0; i < len(measures); i += 2 {
		h.must(200, "POST", "/api/v1/sessions/"+id+"/ops", fmt.Sprintf(`{"op":"m%d-%s","kind":"measure","measure":%q,"value":%q}`, i, measures[i], measures[i], measures[i+1]), nil)
	}
}

// From every step the list of what may be wrong is one touch away; what is likely there
// comes first.
func TestWhatMayBeWrongIsOneTouchAway(t *testing.T) {
	h := openHouse(t)
	id := h.made(lanternPlan)
	page := h.page(200, "/s/"+id)
	steps := regexp.MustCompile(`<section class="step[^"]*" id="s-([^"]+)"`).FindAllStringSubmatch(page, -1)
	if len(steps) < 20 {
		t.Fatalf("the session has %d steps", len(steps))
	}
	for _, step := range steps {
		wants(t, "the session page", page, `href="/s/`+id+`/wrong?step=`+step[1]+`"`)
	}
	list := h.page(200, "/s/"+id+"/wrong?step=corner-2")
	if first := regexp.MustCompile(`wrong/([a-z-]+)\?`).FindStringSubmatch(list); first == nil || first[1] != "past-dot" {
		t.Errorf("at a corner the first question is %v, want that of the dot", first)
	}
	wants(t, "the list", list, "Is this strip too short?", "corner=2")
	h.page(200, "/s/"+id+"/wrong?step=nowhere")
	h.page(404, "/s/"+id+"/wrong/moonlight")
}

// A strip cut short, reckoned as in testdata/wrong: too short, a narrower border, a
// joined piece or a new strip; the joined piece becomes a step of the work.
func TestAStripCutShortIsSavedFromItsPage(t *testing.T) {
	h := openHouse(t)
	id := h.made(lanternPlan)
	h.did(id, nil, "cut-1-left-length", "55")
	page := h.page(200, "/s/"+id+"/step/cut-1-sides")
	wants(t, "the step", page, "Too short", `/s/`+id+`/found/`)
	link := regexp.MustCompile(`/s/[a-z0-9]+/found/[^"]+`).FindString(page)
	found := h.page(200, strings.ReplaceAll(link, "&amp;", "&"))
	// For equal bands the least length is side + 2 x cut - s(4 - 2 sqrt 2), s the seam allowance
	// (derived, see leastLength in calc): 48 1/2 + 2 x 5 1/2 - 0.2929 = 59.207, 4.207 too short.
	wants(t, "the finding", found, "Too short by 4 1/4 in: it needs 59 1/4 in to cover its miters.", "A joined piece", "A new strip")

	same := h.page(200, "/s/"+id+"/wrong/short-strip?strip=1.left&length=55")
	wants(t, "the answer", same, "Too short by 4 1/4 in", "A joined piece")
	wants(t, "an answer to nonsense", h.page(200, "/s/"+id+"/wrong/short-strip?strip=1.left&length=moon"), `class="fault"`)
	wants(t, "no answer yet", h.page(200, "/s/"+id+"/wrong/allowance"), "Measure first")

	way := regexp.MustCompile(`name="way" value="([^"]*joined[^"]*)"`).FindStringSubmatch(found)
	wrong := regexp.MustCompile(`name="wrong" value="([^"]*)"`).FindStringSubmatch(found)
	if way == nil || wrong == nil {
		t.Fatalf("the finding has no button for the joined piece: %s", found)
	}
	if a := h.post("/s/"+id+"/mend", url.Values{"op": {"mend-1"}, "wrong": {wrong[1]}, "way": {way[1]}, "border": {"1"}, "edge": {"left"}}); a.status != 303 {
		t.Fatalf("taking the way: got %d, %s", a.status, a.body)
	}
	wants(t, "the work", h.page(200, "/s/"+id), "Mend: ")
	if a := h.post("/s/"+id+"/mend", url.Values{"op": {"mend-2"}, "wrong": {"moon"}, "way": {"x"}}); a.status != 422 && a.status != 409 && a.status != 404 {
		t.Errorf("a way out of nothing: got %d, want a refusal", a.status)
	}
}

// Past the dot is asked for at one end: of an edge that is known, its two corners are
// offered. The way out then opens that corner only.
func TestPastTheDotIsAskedForAtOneEnd(t *testing.T) {
	h := openHouse(t)
	id := h.made(lanternPlan)
	page := h.page(200, "/s/"+id+"/wrong/past-dot?edge=left&past=1/8")
	wants(t, "the question", page, "At which end", `<option value="1"`, `<option value="4"`, "Say first: at which end.")
	for _, other := range []string{`<option value="2"`, `<option value="3"`} {
		if strings.Contains(page, other) {
			t.Errorf("the left edge is asked about with %s, which is not one of its ends", other)
		}
	}
	wants(t, "no edge yet", h.page(200, "/s/"+id+"/wrong/past-dot"), `<option value="2"`, `<option value="4"`)
	wants(t, "a corner of another edge", h.page(200, "/s/"+id+"/wrong/past-dot?edge=left&corner=2&past=1/8"), "Corner 2 is not on the left edge. Its ends are corners 1 and 4")
	answer := h.page(200, "/s/"+id+"/wrong/past-dot?edge=left&corner=4&past=1/8")
	wants(t, "the answer", answer, "Unpick the last 2 stitches", `name="corner" value="4"`, `name="edge" value="left"`)
	if a := h.post("/s/"+id+"/mend", url.Values{"op": {"m"}, "wrong": {"past-dot"}, "way": {"redo"}, "edge": {"left"}, "corner": {"4"}, "past": {"1/8"}}); a.status != 303 {
		t.Fatalf("taking the way: got %d, %s", a.status, a.body)
	}
	wants(t, "the work", h.page(200, "/s/"+id), "Mend: left edge, corner 4")
}

// The list has what else goes wrong, in the words of the plan.
func TestTheListSpeaksOfWhatThePlanHas(t *testing.T) {
	h := openHouse(t)
	striped, plain := h.made(lanternPlan), h.made(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2"}]}`)
	two := h.made(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2"},{"cut":"2 1/2"}]}`)
	wants(t, "the list", h.page(200, "/s/"+striped+"/wrong"), "The stripes miss", "sewn on upside down", "A tail is caught", "only now I see")
	wants(t, "of two plain borders", h.page(200, "/s/"+two+"/wrong"), "The seams miss")
	wants(t, "a strip upside down", h.page(200, "/s/"+plain+"/wrong/upside-down?strip=1.left"), "it does not show")
	for _, id := range []string{plain, two} {
		for _, page := range []string{"/wrong", "/wrong/stripes-miss?corner=2&miss=3/16", "/wrong/trimmed-wrong?corner=2", "/wrong/upside-down?strip=1.left"} {
			if strings.Contains(strings.ToLower(strings.ReplaceAll(h.page(200, "/s/"+id+page), "stripes-miss", "")), "stripe") {
				t.Errorf("%s speaks of stripes on plain borders", page)
			}
		}
	}
}

// The plan in the form again, what its change would do, and the change itself.
func TestThePlanIsChangedOnTheWay(t *testing.T) {
	h := openHouse(t)
	id := h.made(`{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","lines":[{"name":"navy","width":"1","color":"#23395b"}]}],"limits":{"seen":"1/16"}}`)
	h.did(id, []string{"center.pressed"})
	page := h.page(200, "/s/"+id+"/plan")
	wants(t, "the form", page, `name="of" value="`+id+`"`, `name="borders[0].lines[0].color" value="#23395b"`, `name="limits.seen" value="1/16"`, "1 tick stays", "Take this plan")
	form := url.Values{}
	for _, m := range regexp.MustCompile(`<input[^>]*\sname="([^"]+)"\s+value="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		form.Set(m[1], m[2])
	}
	form.Set("unit", "in")
	form.Set("borders[0].cut", "6 1/2")
	wants(t, "the preview", string(h.post("/new/preview", form).body), "What becomes of the work", "1 tick stays")
	form.Set("borders[0].cut", "0")
	if a := h.post("/new", form); a.status != 422 || !strings.Contains(string(a.body), "Take this plan") {
		t.Errorf("a plan with a fault: got %d, want the form again", a.status)
	}
	form.Set("borders[0].cut", "6 1/2")
	if a := h.post("/new", form); a.status != 303 || a.header.Get("Location") != "/s/"+id {
		t.Fatalf("taking the plan: got %d to %s, want back to the work", a.status, a.header.Get("Location"))
	}
	s := h.state(id)
	if s.Rev != 3 {
		t.Errorf("after the change the session is at revision %d, want 3", s.Rev)
	}
	wants(t, "the sheet", h.page(200, "/s/"+id+"/sheet"), "6 1/2 in")
}

// The page to keep has the sizes, how it came out and what comes next.
func TestThePageToKeepWithTheQuilt(t *testing.T) {
	h := openHouse(t)
	id := h.made(lanternPlan)
	wants(t, "the page before the end", h.page(200, "/s/"+id+"/keep"), "for the top as it should be", "not known yet")
	h.did(id, nil, "top-width-top", "46 1/2", "top-width-middle", "46 1/2", "top-width-bottom", "46 1/2",
		"top-length-left", "58 1/2", "top-length-middle", "58 1/2", "top-length-right", "58 1/2")
	h.must(200, "POST", "/api/v1/sessions/"+id+"/ops", `{"op":"n","kind":"note","step":"widths","text":"thread 50, needle 80"}`, nil)
	// 8 in more for the backing (Happy Stitches, "Backing and borders"): 54 1/2 x 66 1/2.
	wants(t, "the page", h.page(200, "/s/"+id+"/keep"), "for the top as measured", "54 1/2 in × 66 1/2 in", "thread 50, needle 80", "ticking: ")
}
