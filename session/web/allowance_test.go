package web_test

import (
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/session/web"
)

// A device that has begun its 24 quilts is asked about at the computer, whichever way it begins
// the next; what it typed stays. Allow more lets it go on, and only the owner says so.
func TestADeviceThatAddsTooMuchIsAskedAtTheComputer(t *testing.T) {
	h := openHouse(t)
	v := h.visitor()
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	its := h.web.Devices.List()[0].ID
	allow := "/devices/" + its + "/allow"
	makes := func(n int) {
		t.Helper()
		for range n {
			if got := v.call("POST", "/api/v1/sessions", "application/json", web.DemoPlan); got.status != 201 {
				t.Fatalf("POST a plan: got %d %s, want 201", got.status, got.body)
			}
		}
	}
	makes(12)
	if page := h.page(200, "/devices"); strings.Contains(page, "has added") || strings.Contains(page, allow) {
		t.Errorf("the page of devices, at half: it says what was added")
	}
	makes(12)
	wants(t, "the page of devices", h.page(200, "/devices"), "has added 24 of 24 quilts<", `action="`+allow+`"`, "Allow more")

	typed := url.Values{"title": {"Typed for nothing?"}, "unit": {"in"}, "center.width": {"36 1/2"}, "center.length": {"48 1/2"},
		"borders[0].cut": {"5 1/2"}, "borders[0].name": {"ticking"}, "seam": {"1/4"}, "spare": {"4"}}.Encode()
	export := string(h.must(200, "GET", at(h.begin(), "export"), "", nil).body)
	for _, c := range []struct{ path, kind, body string }{
		{"/api/v1/sessions", "application/json", web.DemoPlan}, {"/api/v1/import", "application/json", export},
		{"/new", "application/x-www-form-urlencoded", typed}, {"/demo", "application/x-www-form-urlencoded", ""},
	} {
		got := v.call("POST", c.path, c.kind, c.body)
		page := string(got.body)
		if got.status != 403 {
			t.Errorf("POST %s: got %d %s, want 403", c.path, got.status, got.body)
		}
		wants(t, "POST "+c.path, page, "may add 24 quilts before", "Nothing is lost", "touch Allow more")
		if strings.HasPrefix(c.path, "/api") {
			wants(t, "POST "+c.path, page, `"ask-at-computer"`)
		}
		if c.path == "/new" {
			wants(t, "the form", page, `value="Typed for nothing?"`, `value="ticking"`)
		}
	}
	// What it has goes on.
	id := h.begin()
	if got := v.op(id, tickOp("1", h.state(id).ready(), true)); got.status != 200 {
		t.Errorf("a tick: got %d %s, want 200", got.status, got.body)
	}
	if got := v.call("POST", allow, "", ""); got.status != 403 {
		t.Errorf("it allows itself more: got %d, want 403", got.status)
	}
	if got := h.call("POST", allow, ""); got.status != 200 || strings.Contains(string(got.body), "has added") { // led to the page
		t.Errorf("the owner allows it more: got %d, want the page without a word of it", got.status)
	}
	makes(1)
}

// The same counts for its bytes, over the live connection and in a form.
func TestADeviceThatAddsTooManyBytesIsAskedAtTheComputer(t *testing.T) {
	h := openHouse(t)
	v := h.visitor()
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	id := h.begin()
	h.fill(v, id)
	tick, op := h.state(id).ready(), strings.Repeat("long", 20)
	rev := h.state(id).Rev
	d, _ := v.join(id)
	d.next()
	d.send(tickOp(op, tick, true))
	if m := d.next(); m.Nack == nil || m.Error.Code != "ask-at-computer" || !strings.HasPrefix(m.Error.Message, "This device may add 16 MiB before") {
		t.Errorf("a tick over the live connection: got %+v, want a nack, ask-at-computer", m)
	}
	form := url.Values{"op": {op}, "kind": {"tick"}, "tick": {tick}, "done": {"true"}}.Encode()
	if got := v.call("POST", "/s/"+id+"/do", "application/x-www-form-urlencoded", form); got.status != 403 || !strings.Contains(string(got.body), "touch Allow more") {
		t.Errorf("a tick by the form: got %d, want 403 and what to do", got.status)
	}
	if h.state(id).Rev != rev {
		t.Errorf("after it: rev %d, want %d", h.state(id).Rev, rev)
	}
	wants(t, "the page of devices", h.page(200, "/devices"), "has added 16 of 16 MiB<")
	h.must(200, "POST", "/devices/"+h.web.Devices.List()[0].ID+"/allow", "", nil)
	d.send(tickOp(op, tick, true))
	d.events(rev, rev+1)
}

// fill has a device add all that it may to a session, but for what no op is short enough for.
func (h *house) fill(v *visitor, id string) {
	h.t.Helper()
	var export struct {
		Cornerwise int              `json:"cornerwise"`
		History    []map[string]any `json:"history"`
	}
	h.must(200, "GET", at(id, "export"), "", &export)
	first, step := export.History[0], h.state(id).Here
	for n := range 3900 {
		export.History = append(export.History, map[string]any{"rev": n + 2, "at": first["at"], "edition": first["edition"],
			"op": fmt.Sprint(n), "kind": "note", "step": step, "text": strings.Repeat("\U0001f9f5", 1000)})
	}
	whole, err := json.Marshal(export)
	if err != nil {
		h.t.Fatal(err)
	}
	if got := v.call("POST", "/api/v1/import", "application/json", string(whole)); got.status != 201 {
		h.t.Fatalf("POST an import of %d bytes: got %d %s, want 201", len(whole), got.status, got.body)
	}
	n := 0
	for _, length := range []int{1000, 100, 10, 1} {
		for status := 200; status == 200; n++ {
			got := v.op(id, noteOp(fmt.Sprint(n), step, strings.Repeat("\U0001f9f5", length)))
			if status = got.status; status != 200 && status != 403 {
				h.t.Fatalf("note %d, of %d characters: got %d %s", n, length, got.status, got.body)
			}
		}
	}
}

// An open server knows its devices by address: each is held to as much, until it starts again.
func TestAnOpenServerAsksAtTheComputerToo(t *testing.T) {
	h := openHouse(t)
	s := &web.Server{Store: h.store, Devices: h.web.Devices, Open: true}
	handler := s.Handler()
	from := func(remote, host string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("POST", "/api/v1/sessions", strings.NewReader(web.DemoPlan))
		r.RemoteAddr, r.Host = remote+":50000", host
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		return w
	}
	for n := range 30 {
		got := from("192.168.7.20", hers)
		if want := n < session.MaxSessions; (got.Code == 201) != want {
			t.Fatalf("quilt %d: got %d %s, want it made: %t", n+1, got.Code, got.Body, want)
		}
	}
	wants(t, "the refusal", from("192.168.7.20", hers).Body.String(), "ask-at-computer", "Start the program there again")
	if got := from("192.168.7.21", hers); got.Code != 201 {
		t.Errorf("from another address: got %d %s, want 201", got.Code, got.Body)
	}
	for range 30 {
		if got := from("127.0.0.1", "localhost:8370"); got.Code != 201 {
			t.Fatalf("the owner: got %d %s, want 201", got.Code, got.Body)
		}
	}
	for n := range 6 * session.MaxSessions {
		got := from(fmt.Sprintf("[fd00::%x]", n/session.MaxSessions+1), "[fd00::ffff]:8370")
		if want := n < 4*session.MaxSessions; (got.Code == 201) != want {
			t.Fatalf("quilt %d of a network of IPv6: got %d, want it made: %t", n+1, got.Code, want)
		}
	}
}
