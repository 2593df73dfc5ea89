package web_test

import (
	"html"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"cornerwise/session/web"
)

// words are those of a page as they are read, in one line.
func words(page []byte) string {
	text := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(string(page), " ")
	return strings.Join(strings.Fields(html.UnescapeString(text)), " ")
}

// The card has the last five acts, newest last, each with its time, its device and its number, as
// they stand: no looking round, and nothing that was undone. Then what comes next, and the note
// of the machine without the lines that were left open.
func TestTheCardTellsTheLastActs(t *testing.T) {
	now := time.Now().Add(-48 * time.Hour)
	h := openHouseAt(t, func() time.Time { return now })
	id := h.begin()
	v := h.guest(`{"looks": false}`)
	ready := func() string { return h.state(id).ready() }
	var times []string
	tick := func(by func(id, op string) response, op string) string {
		now = now.Add(7 * time.Minute)
		which := ready()
		if got := by(id, tickOp(op, which, true)); got.status != 200 {
			t.Fatalf("the tick %s: got %d %s", which, got.status, got.body)
		}
		times = append(times, now.UTC().Format("2006-01-02T15:04:05Z"))
		return which
	}
	owner := func(id, op string) response { return h.call("POST", at(id, "ops"), op) }
	for _, op := range []string{"1", "2", "3"} {
		tick(owner, op)
	}
	tick(v.op, "4")
	tick(v.op, "5")
	undone := tick(owner, "6")
	h.must(200, "POST", at(id, "ops"), `{"op": "7", "kind": "undo", "of": "6"}`, nil)
	h.must(200, "POST", at(id, "ops"), `{"op": "8", "kind": "here", "step": "corner-2"}`, nil)
	now = now.Add(40 * time.Hour)
	h.must(200, "POST", at(id, "ops"), `{"op": "9", "kind": "note", "step": "machine", "text": "Needle: 80/12\nThread:\nfoot with a guide"}`, nil)
	times = append(times[:5], now.UTC().Format("2006-01-02T15:04:05Z"))

	got := h.call("GET", "/s/"+id+"/return", "")
	if got.status != 200 {
		t.Fatalf("GET the card: got %d %s", got.status, got.body)
	}
	var found []string
	for _, m := range regexp.MustCompile(`<time datetime="([^"]*)"`).FindAllSubmatch(got.body, -1) {
		found = append(found, string(m[1]))
	}
	if want := times[1:]; !slices.Equal(found, want) {
		t.Errorf("the card has acts at %v, want the last five, newest last, %v", found, want)
	}
	said := words(got.body)
	for _, part := range []string{
		"this computer", "Device", "Noted: your machine this computer",
		"Needle: 80/12 foot with a guide Go on", "Next Fold the corner Corner 2, top right 45°",
	} {
		if !strings.Contains(said, part) {
			t.Errorf("the card says %q, without %q", said, part)
		}
	}
	if strings.Contains(said, "Thread") {
		t.Errorf("the card says %q, with a line that nobody filled in", said)
	}
	if said := words(v.call("GET", "/s/"+id+"/return", "", "").body); !strings.Contains(said, "your machine the computer") {
		t.Errorf("to a tablet the card says %q, want the computer told from it", said)
	}
	if last := h.state(id); last.ready() != undone {
		t.Errorf("what was undone is %s, and %s is open first", undone, last.ready())
	}

	var history struct{ History []struct{ Op, By string } }
	h.must(200, "GET", at(id, "history"), "", &history)
	by := map[string]string{}
	for _, e := range history.History {
		by[e.Op] = e.By
	}
	if by["3"] != "" || by["4"] != "Device" || by["9"] != "" {
		t.Errorf("the history has %v, want 4 and 5 by the device, and no name for this computer", by)
	}
	if got := v.op(id, `{"op": "10", "kind": "here", "step": "machine", "by": "Someone"}`); got.status != 422 {
		t.Errorf("an op that says who did it: got %d %s, want 422", got.status, got.body)
	}
}

// Of acts that came from another computer, or from a program that kept no names, only the device
// is told that an act names.
func TestTheCardSaysNoDeviceThatNobodyKnows(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	h.must(200, "POST", at(id, "ops"), tickOp("1", h.state(id).ready(), true), nil)
	if got := h.guest(`{"looks": false}`).op(id, tickOp("2", h.state(id).ready(), true)); got.status != 200 {
		t.Fatalf("a tick: got %d %s", got.status, got.body)
	}
	var made struct{ ID string }
	h.must(201, "POST", "/api/v1/import", string(h.call("GET", at(id, "export"), "").body), &made)
	said := words(h.call("GET", "/s/"+made.ID+"/return", "").body)
	if strings.Contains(said, "computer") || !strings.Contains(said, "steady Device") {
		t.Errorf("the card says %q, want the device and no computer", said)
	}
	h.must(200, "POST", at(made.ID, "ops"), tickOp("3", h.state(made.ID).ready(), true), nil)
	said = words(h.call("GET", "/s/"+made.ID+"/return", "").body)
	if strings.Count(said, "this computer") != 1 {
		t.Errorf("the card says %q, want this computer once", said)
	}
}

// On a server that asks nobody who they are, a device goes by what its browser calls it.
func TestAnOpenServerNamesADeviceAsItsBrowserDoes(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	s := &web.Server{Store: h.store, Devices: h.web.Devices, Open: true, Log: h.web.Log}
	r := httptest.NewRequest("POST", at(id, "ops"), strings.NewReader(tickOp("1", h.state(id).ready(), true)))
	r.RemoteAddr, r.Host = "192.168.7.20:50000", "192.168.7.2:8370"
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("User-Agent", "Mozilla/5.0 (iPad; CPU OS 16_0 like Mac OS X)")
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	if w.Code != 200 {
		t.Fatalf("a tick: got %d %s", w.Code, w.Body)
	}
	if got := h.call("GET", at(id, "history"), ""); !strings.Contains(string(got.body), `"by":"iPad"`) {
		t.Errorf("the history is %s, want the tick by the iPad", got.body)
	}
}
