package web_test

import (
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/session/web"
)

// onPaper are the addresses that the codes of a printed page hold, as a camera reads them.
func onPaper(t *testing.T, page string) (addresses []string) {
	t.Helper()
	code := regexp.MustCompile(`<div class="code-on-paper">(.*?)</div>`)
	for _, code := range code.FindAllStringSubmatch(page, -1) {
		side, dark := modulesOf(t, code[1])
		addresses = append(addresses, readQR(t, side, dark))
	}
	return addresses
}

// The codes lead to pages that are there, by the address that other devices come by.
func TestCodesOnPaperOpenTheirSteps(t *testing.T) {
	h := openHouse(t)
	id := h.made(planOf(t, "lantern-print"))
	const other = "http://192.168.7.3:8370"
	h.web.Addresses = func() []string { return []string{other, "http://[fd00::2]:8370"} }
	of := "/s/" + id
	pages := map[string][]string{
		of + "/sheet": {"/sheet"}, of + "/keep": {"/keep"}, of + "/shopping": {"/shopping"},
		of + "/cutting": {"/cutting", "/step/coping-fabric", "/step/fabric-1", "/step/fabric-2"},
		of + "/paper": {"/cutting", "/step/coping-fabric", "/step/fabric-1", "/step/fabric-2",
			"/stage/square-up", "/stage/cut", "/stage/mark", "/stage/sew", "/stage/miter",
			"/stage/press", "/step/corner-1"},
	}
	v := h.visitor()
	token := h.web.Devices.Offer(session.Rights{}).Token
	if v.pair("token", token); len(v.cookies) == 0 {
		t.Fatal("the tablet was not let in")
	}
	for path, want := range pages {
		for i, page := range want {
			want[i] = of + page
			if got := h.call("GET", want[i], ""); got.status != 200 {
				t.Errorf("GET %s, which is on paper: got %d, want 200", want[i], got.status)
			}
			stranger := h.visitor().call("GET", want[i], "", "")
			if stranger.status != 303 || stranger.header.Get("Location") != "/pair" {
				t.Errorf("GET %s by a stranger: got %d, want 303 to /pair", want[i], stranger.status)
			}
		}
		at := func(base string) (all []string) {
			for _, page := range want {
				all = append(all, base+page)
			}
			return all
		}
		if got := onPaper(t, h.page(200, path)); !slices.Equal(got, at(other)) {
			t.Errorf("%s, printed at the computer: its codes are %q, want %q", path, got, at(other))
		}
		page := string(v.call("GET", path, "", "").body)
		if got := onPaper(t, page); !slices.Equal(got, at("http://"+hers)) {
			t.Errorf("%s, printed from a tablet: its codes are %q, want %q", path, got, at("http://"+hers))
		}
		for _, cookie := range v.cookies {
			if strings.Contains(page, cookie.Value) || strings.Contains(page, token) {
				t.Errorf("%s: a secret is on paper", path)
			}
		}
	}
	h.web.Addresses = func() []string { return nil }
	for path := range pages {
		if got := onPaper(t, h.page(200, path)); len(got) != 0 {
			t.Errorf("%s, where no other device comes: its codes are %q, want none", path, got)
		}
	}
}

// Every tick stands on the step list, in its order, with its number, and its box says whether it
// is done.
func TestTheStepListHasABoxForEveryTick(t *testing.T) {
	h := openHouse(t)
	plans := []string{planOf(t, "lantern-print"), planOf(t, "twelve-borders"), web.DemoPlan}
	for _, plan := range plans {
		id := h.made(plan)
		h.upTo(id, "center.trimmed")
		snap, err := h.store.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		list := h.page(200, "/s/"+id+"/paper")
		list = list[strings.Index(list, `id="steps"`):strings.Index(list, `id="corner"`)]
		list = html.UnescapeString(space.ReplaceAllString(list, " "))
		boxes := strings.Split(list, `<span class="box">`)[1:]
		text := regexp.MustCompile(`<[^>]*>`)
		n, hazards := 0, 0
		for _, stage := range snap.Work.Stages {
			for _, step := range stage.Steps {
				for _, tick := range step.Ticks {
					if n >= len(boxes) {
						t.Fatalf("%s: there are %d boxes, want one for %s too", snap.Title, n, tick.ID)
					}
					line := boxes[n]
					n++
					number := strings.Contains(text.ReplaceAllString(line, ""), tick.Number)
					if !strings.Contains(line, `<span class="act-of">`+tick.Title) || !number {
						t.Errorf("%s: line %d is %q, want %q with %q", snap.Title, n, line, tick.Title, tick.Number)
					}
					got := strings.HasPrefix(strings.TrimSpace(line), `<span class="vh">done`)
					if got != tick.Done {
						t.Errorf("%s: the box of %s says done: %v, want %v", snap.Title, tick.ID, got, tick.Done)
					}
					if tick.Caution != nil {
						hazards++
						hazard, _, _ := strings.Cut(tick.Caution.Text, ". ")
						before := boxes[max(0, n-2)] // a whole caution stands above its box
						if n == 1 {
							before = list[:strings.Index(list, `<span class="box">`)]
						}
						if !strings.Contains(line, hazard) && !strings.Contains(before, tick.Caution.Text) {
							t.Errorf("%s: %s does not say %q", snap.Title, tick.ID, hazard)
						}
					}
				}
			}
		}
		if n != len(boxes) || hazards == 0 {
			t.Errorf("%s: %d boxes for %d ticks, %d hazards", snap.Title, len(boxes), n, hazards)
		}
	}
}

// What a device of one quilt and one that looks on may see they may print.
func TestEveryDeviceFindsWhatToPrint(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	guest := h.guest(only(id))
	for _, path := range []string{"/s/" + id, "/s/" + id + "/keep"} {
		wants(t, path, string(guest.call("GET", path, "", "").body), `href="/s/`+id+`/paper"`)
	}
	wants(t, "the page to print", string(guest.call("GET", "/s/"+id+"/paper", "", "").body),
		"Where to cut", "Step list", "Corner card", "data-print", "lay a ruler on the two lines")
}
