package web_test

import (
	"html"
	"maps"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/gorilla/websocket"

	"cornerwise/session"
	"cornerwise/session/web"
)

// guest is a device that was let in by an offer of the API's with these words in it.
func (h *house) guest(asked string) *visitor {
	h.t.Helper()
	var offer struct{ Token string }
	h.must(201, "POST", "/api/v1/offers", asked, &offer)
	v := h.visitor()
	if got := v.pair("token", offer.Token); got.status != 303 {
		h.t.Fatalf("POST /pair: got %d %s, want 303", got.status, got.body)
	}
	return v
}

func only(id string) string { return `{"looks": false, "session": "` + id + `"}` }

func TestADeviceOfOneQuiltWorksOnItAndOnNoOther(t *testing.T) {
	h := openHouse(t)
	its, other := h.begin(), h.begin()
	v := h.guest(only(its))
	if got := v.call("GET", "/", "", ""); got.status != 303 || got.header.Get("Location") != "/s/"+its {
		t.Errorf("GET /: got %d to %q, want 303 to its quilt", got.status, got.header.Get("Location"))
	}
	tick := h.state(its).ready()
	if got := v.op(its, tickOp("1", tick, true)); got.status != 200 {
		t.Errorf("a tick on its quilt: got %d %s, want 200", got.status, got.body)
	}
	if got := v.op(other, tickOp("1", tick, true)); got.status != 404 {
		t.Errorf("a tick on another: got %d %s, want 404", got.status, got.body)
	}
	form := url.Values{"op": {"2"}, "kind": {"tick"}, "tick": {tick}, "done": {"true"}}.Encode()
	if got := v.call("POST", "/s/"+other+"/do", "application/x-www-form-urlencoded", form); got.status != 404 {
		t.Errorf("the form of another: got %d, want 404", got.status)
	}
	// A form that names another inside: there is no such form for it.
	form = url.Values{"op": {"3"}, "of": {other}, "title": {"Mine"}}.Encode()
	for _, path := range []string{"/new", "/new/edit", "/new/preview"} {
		if got := v.call("POST", path, "application/x-www-form-urlencoded", form); got.status != 404 {
			t.Errorf("POST %s with another quilt in it: got %d, want 404", path, got.status)
		}
	}
	if _, got := v.join(other); got != 404 {
		t.Errorf("the live connection of another: got %d, want 404", got)
	}
	d, _ := v.join(its)
	d.next()
	d.send(noteOp("4", h.state(its).Here, "from the guest"))
	d.events(2, 3)
	plan := `{"op": "5", "kind": "plan", "plan": ` + string(h.state(its).Plan) + `}`
	if got := v.op(its, plan); got.status != 200 {
		t.Errorf("its plan, as an op: got %d %s, want 200", got.status, got.body)
	}
	if rev := h.state(other).Rev; rev != 1 {
		t.Errorf("the other quilt: rev %d, want 1", rev)
	}
	for body, want := range map[string]int{only("nosuch"): 404, `{"session": ["` + its + `"]}`: 422} {
		var p problemJSON
		h.must(want, "POST", "/api/v1/offers", body, &p)
		if !sentence(p.Error.Message) {
			t.Errorf("an offer %s: got %q, want a sentence", body, p.Error.Message)
		}
	}
	h.must(200, "DELETE", at(other), "", nil)
	h.must(404, "POST", "/api/v1/offers", only(other), nil)
	var offer struct{ Session string }
	if h.must(201, "POST", "/api/v1/offers", only(its), &offer); offer.Session != its {
		t.Errorf("an offer for one: got the session %q, want %q", offer.Session, its)
	}
	if got := h.must(201, "POST", "/api/v1/offers", `{"looks": false}`, nil); strings.Contains(string(got.body), "session") {
		t.Errorf("an offer for all: got %s, want no session in it", got.body)
	}
}

func TestADeviceOfOneQuiltMayLookOnly(t *testing.T) {
	h := openHouse(t)
	its, other := h.begin(), h.begin()
	v := h.guest(`{"looks": true, "session": "` + its + `"}`)
	tick := tickOp("1", h.state(its).ready(), true)
	for id, want := range map[string]int{its: 403, other: 404} {
		if got := v.op(id, tick); got.status != want {
			t.Errorf("a tick on %s: got %d, want %d", id, got.status, want)
		}
	}
	d, _ := v.join(its)
	d.next()
	d.send(tick)
	if m := d.next(); m.Nack == nil || m.Error.Code != "only-looks" {
		t.Errorf("a tick over the live connection: got %+v, want a nack, only-looks", m)
	}
	if got := v.get("/s/" + its); got != 200 {
		t.Errorf("GET its quilt: got %d, want 200", got)
	}
	if rev := h.state(its).Rev; rev != 1 {
		t.Errorf("after it: rev %d, want 1", rev)
	}
}

// A device that is let in anew has the rights of the new offer and no others, at once.
func TestADeviceOfOneQuiltIsLetInAnewForAllAndBack(t *testing.T) {
	h := openHouse(t)
	its, other := h.begin(), h.begin()
	v := h.guest(only(its))
	old := v.cookies["cornerwise-device"]
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	for _, path := range []string{"/", "/s/" + its, "/s/" + other, at(other), "/api/v1/sessions"} {
		if got := v.get(path); got != 200 {
			t.Errorf("let in for all, GET %s: got %d, want 200", path, got)
		}
	}
	d, _ := v.join(other)
	d.next()
	v.pair("code", h.web.Devices.Offer(session.Rights{Only: its}).Code)
	if _, err := d.read(); !websocket.IsCloseError(err, websocket.ClosePolicyViolation) {
		t.Errorf("let in for one, its live connection to another: got %v, want it closed with 1008", err)
	}
	for path, want := range map[string]int{"/": 303, "/s/" + its: 200, "/s/" + other: 404, at(other): 404, "/api/v1/sessions": 404} {
		if got := v.get(path); got != want {
			t.Errorf("let in for one, GET %s: got %d, want %d", path, got, want)
		}
	}
	list := h.web.Devices.List()
	if len(list) != 1 || list[0].Only != its {
		t.Fatalf("got the devices %+v, want one, of its quilt", list)
	}
	v.cookies["cornerwise-device"] = old
	if got := v.get("/s/" + its); got != 303 {
		t.Errorf("by its old secret: got %d, want 303", got)
	}
	// Forgotten, it is out as any other is.
	v = h.guest(only(its))
	if err := h.web.Devices.ForgetAll(t.Context()); err != nil {
		t.Fatal(err)
	}
	if got := v.call("GET", "/", "", ""); got.status != 303 || got.header.Get("Location") != "/pair" {
		t.Errorf("forgotten, GET /: got %d to %q, want 303 to /pair", got.status, got.header.Get("Location"))
	}
}

// Each page that it can get to leads only to what it can get to, and offers nothing that it
// may not do.
func TestThePagesOfOneQuiltLeadNowhereElse(t *testing.T) {
	h := openHouse(t)
	its := h.begin()
	h.begin()
	links := regexp.MustCompile(`(?:href|action)="([^"#]*)`)
	for name, asked := range map[string]string{"ticks": only(its), "looks on": `{"looks": true, "session": "` + its + `"}`} {
		v := h.guest(asked)
		seen, next := map[string]bool{}, []string{"/s/" + its}
		for len(next) > 0 {
			path := next[0]
			next = next[1:]
			got := v.call("GET", path, "", "")
			if got.status != 200 {
				t.Errorf("a device that %s: GET %s: got %d, want 200", name, path, got.status)
			}
			for _, m := range links.FindAllStringSubmatch(string(got.body), -1) {
				to := html.UnescapeString(m[1])
				if strings.HasPrefix(to, "../step/") {
					to = "/s/" + its + to[2:]
				}
				page, _, _ := strings.Cut(to, "?")
				switch {
				case to == "", strings.HasPrefix(to, "/static/"), seen[page]:
				case strings.HasPrefix(to, "/new") && strings.HasSuffix(path, "/plan"): // nothing there can be pressed
				case strings.HasSuffix(to, "/do"), strings.HasSuffix(to, "/mend"):
				case !strings.HasPrefix(to, "/s/"+its):
					t.Errorf("a device that %s: %s leads to %s", name, path, to)
				case len(seen) < 10 || !strings.Contains(to, "/step/"): // all steps are one page
					seen[page] = true
					next = append(next, to)
				}
			}
		}
		for _, part := range []string{"/sheet", "/cutting", "/shopping", "/shopping.txt", "/keep", "/plan", "/stage/sew"} {
			if !seen["/s/"+its+part] {
				t.Errorf("a device that %s: no page leads to %s, only to %q", name, part, slices.Sorted(maps.Keys(seen)))
			}
		}
		plan := string(v.call("GET", "/s/"+its+"/plan", "", "").body)
		wants(t, "the plan", plan, `<fieldset class="ask" disabled>`, `aria-hidden="true" disabled>`, "It is changed at the computer.")
		for _, part := range []string{"Take this plan", "form.js", "Change the plan"} {
			if strings.Contains(plan, part) {
				t.Errorf("a device that %s: the plan has %q", name, part)
			}
		}
	}
	for _, part := range []string{"Take this plan", "form.", "Change the plan"} {
		wants(t, "the plan at the computer", h.page(200, "/s/"+its+"/plan"), part)
	}
}

// What it sees is said beside it, and a quilt that goes into the bin says so, there and on it.
func TestThePageOfDevicesSaysWhatADeviceSees(t *testing.T) {
	h := openHouse(t)
	h.web.Addresses = func() []string { return []string{"http://192.168.7.2:8370"} }
	const written = "<b>Ana's & lanterns"
	its, title := h.made(strings.Replace(web.DemoPlan, web.DemoTitle, written, 1)), html.EscapeString(written)
	other := h.begin()
	page := h.page(200, "/devices")
	wants(t, "the page of devices", page, `<option value="`+its+`">`, `<option value="`+other+`">`, "Only this one")
	page = h.page(200, "/devices?quilt="+its)
	wants(t, "its offer", page, "Let in a device, for "+title+" only", "/devices?looks=&amp;quilt="+its, `href="/devices">Let it see every quilt`)
	wants(t, "its offer to look", h.page(200, "/devices?looks=&quilt="+its), "Let in a device that looks on, for "+title+" only",
		`href="/devices?quilt=`+its+`">Let it tick too`, `href="/devices?looks=">Let it see every quilt`)
	wants(t, "what is kept with it, at the computer", h.page(200, "/s/"+its+"/keep"), `href="/devices?quilt=`+its+`"`)

	v := h.visitor()
	v.pair("code", regexp.MustCompile(`class="code">(\d{4} \d{4})<`).FindStringSubmatch(page)[1])
	if got := v.get("/s/" + other); got != 404 {
		t.Errorf("let in by the code of that page, another quilt: got %d, want 404", got)
	}
	wants(t, "the list", h.page(200, "/devices"), "sees only "+title+", seen")
	if strings.Contains(string(v.call("GET", "/s/"+its+"/keep", "", "").body), "/devices") {
		t.Errorf("its own page of what is kept leads to the page of devices")
	}

	h.must(200, "DELETE", at(its), "", nil)
	wants(t, "the list", h.page(200, "/devices"), "sees only "+title+", which is in the bin, seen")
	h.page(404, "/devices?quilt="+its)
	h.page(404, "/devices?quilt=nosuch")
	got := v.call("GET", "/s/"+its, "", "")
	wants(t, "its page", string(got.body), "This quilt is in the bin.", "at the computer")
	if got.status != 404 || strings.Contains(string(got.body), "href=\"/s/") {
		t.Errorf("its page: got %d %s, want 404 and no way on", got.status, got.body)
	}
	if got := v.call("POST", "/s/"+its+"/restore", "", ""); got.status != 404 {
		t.Errorf("it takes it out of the bin: got %d, want 404", got.status)
	}
	h.must(200, "POST", at(its, "restore"), "", nil)
	if got := v.get("/s/" + its); got != 200 {
		t.Errorf("out of the bin: got %d, want 200", got)
	}
}
