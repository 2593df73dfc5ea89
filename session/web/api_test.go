package web_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"reflect"
	"strings"
	"testing"
	"time"

	"cornerwise/session/web"
)

func TestASessionFromPlanToBinAndBack(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	first := h.state(id)
	var wrote, kept any
	json.Unmarshal([]byte(web.DemoPlan), &wrote)
	json.Unmarshal(first.Plan, &kept)
	if !reflect.DeepEqual(wrote, kept) {
		t.Errorf("plan: got %s, want it as it was written", first.Plan)
	}
	var stages []string
	for _, s := range first.Stages {
		stages = append(stages, s.ID)
	}
	if want := "square-up cut mark sew miter press"; strings.Join(stages, " ") != want {
		t.Errorf("stages: got %v, want %s", stages, want)
	}
	if first.Last != nil || first.Here == "" {
		t.Errorf("a new session: got last %v here %q, want no last and a place to begin", first.Last, first.Here)
	}

	tick := first.ready()
	var rev struct{ Rev int64 }
	h.must(200, "POST", at(id, "ops"), tickOp("a", tick, true), &rev)
	if rev.Rev != 2 {
		t.Errorf("first op: got rev %d, want 2", rev.Rev)
	}
	h.must(200, "POST", at(id, "ops"), `{"op": "b", "kind": "note", "step": "`+first.Here+`", "text": "blue <thread>"}`, &rev)
	h.must(200, "POST", at(id, "ops"), tickOp("a", tick, true), &rev)
	if rev.Rev != 2 {
		t.Errorf("the first op again: got rev %d, want the same answer, 2", rev.Rev)
	}
	now := h.state(id)
	if now.Rev != 3 || !now.done(tick) || now.Last == nil || now.Last.Op != "b" || now.Last.At.Location() != time.UTC {
		t.Errorf("state: got rev %d, %s done %t, last %+v; want 3, true and b in UTC", now.Rev, tick, now.done(tick), now.Last)
	}

	var history struct {
		History []struct {
			Rev      int64
			Op, Kind string
			At       time.Time
		}
	}
	h.must(200, "GET", at(id, "history"), "", &history)
	var kinds []string
	for i, e := range history.History {
		kinds = append(kinds, e.Kind)
		if e.Rev != int64(i+1) || e.At.IsZero() {
			t.Errorf("history[%d]: got rev %d at %v, want rev %d and a time", i, e.Rev, e.At, i+1)
		}
	}
	if got := strings.Join(kinds, " "); got != "plan tick note" {
		t.Errorf("history: got %q, want plan tick note", got)
	}

	export := h.must(200, "GET", at(id, "export"), "", nil)
	if got := export.header.Get("Content-Disposition"); got != `attachment; filename="harbour-lanterns.json"` {
		t.Errorf("export: got Content-Disposition %q", got)
	}
	var copied struct {
		ID  string
		Rev int64
	}
	h.must(201, "POST", "/api/v1/import", string(export.body), &copied)
	twin := h.state(copied.ID)
	if copied.ID == id || copied.Rev != now.Rev || !reflect.DeepEqual(twin.Stages, now.Stages) || string(twin.Sheet) != string(now.Sheet) {
		t.Errorf("import: got id %s rev %d, want a new id with the same work at rev %d", copied.ID, copied.Rev, now.Rev)
	}

	for range 2 { // safe to repeat
		h.must(200, "DELETE", at(id), "", nil)
	}
	for _, path := range []string{at(id), at(id, "history"), at(id, "export"), at(id, "live")} {
		h.must(404, "GET", path, "", nil)
	}
	h.must(404, "POST", at(id, "ops"), tickOp("c", tick, false), nil)
	if got := h.listed(50); len(got) != 1 || got[0] != copied.ID {
		t.Errorf("list with one in the bin: got %v, want only %s", got, copied.ID)
	}
	for range 2 {
		h.must(200, "POST", at(id, "restore"), "", nil)
	}
	if back := h.state(id); !reflect.DeepEqual(back, now) {
		t.Errorf("restored: got %+v, want it as it was", back)
	}
}

// listed walks all pages.
func (h *house) listed(limit int) (ids []string) {
	h.t.Helper()
	for after := ""; ; {
		var page struct {
			Sessions []struct {
				ID, Title, Stage string
				Rev              int64
				Done, Total      int
				Touched          time.Time
			}
			Next string
		}
		h.must(200, "GET", fmt.Sprintf("/api/v1/sessions?limit=%d&after=%s", limit, after), "", &page)
		for _, s := range page.Sessions {
			ids = append(ids, s.ID)
			if s.Title != web.DemoTitle || s.Total == 0 || s.Touched.IsZero() || s.Stage == "" {
				h.t.Errorf("list: got %+v, want a title, a total, a stage and a time", s)
			}
		}
		if len(page.Sessions) > limit {
			h.t.Errorf("list: got %d on a page, want at most %d", len(page.Sessions), limit)
		}
		if after = page.Next; after == "" {
			return ids
		}
	}
}

func TestTheListIsNewestFirstAndPaged(t *testing.T) {
	h := openHouse(t)
	if got := h.must(200, "GET", "/api/v1/sessions", "", nil); !strings.Contains(string(got.body), `"sessions":[]`) {
		t.Errorf("an empty list: got %s, want []", got.body)
	}
	var want []string
	for range 5 {
		want = append([]string{h.begin()}, want...)
		time.Sleep(2 * time.Millisecond) // times are kept to the millisecond
	}
	for _, limit := range []int{1, 2, 5, 200} {
		if got := h.listed(limit); !reflect.DeepEqual(got, want) {
			t.Errorf("list by %d: got %v, want %v", limit, got, want)
		}
	}
}

func TestABodyTooLargeIsToldSo(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	for _, c := range []struct {
		path string
		size int
	}{
		{"/api/v1/sessions", 32 << 20},
		{"/api/v1/sessions", 64<<10 + 1},
		{at(id, "ops"), 64<<10 + 1},
		{at(id, "ops"), 32 << 20},
	} {
		a := h.call("POST", c.path, `"`+strings.Repeat("x", c.size-2)+`"`)
		var p problemJSON
		json.Unmarshal(a.body, &p)
		if a.status != 413 || p.Error.Code != "too-large" || !sentence(p.Error.Message) {
			t.Errorf("POST %s with %d bytes: got %d %s, want 413", c.path, c.size, a.status, a.body)
		}
	}
	form := "application/x-www-form-urlencoded"
	res, err := http.Post(h.url+"/new/preview", form, strings.NewReader("title="+strings.Repeat("x", 256<<10)))
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	if said, _ := io.ReadAll(res.Body); res.StatusCode != 413 || !strings.Contains(string(said), "at most 256 KiB") {
		t.Errorf("POST a form of more than 256 KiB: got %d %s, want 413", res.StatusCode, said)
	}
	if got := h.state(id); got.Rev != 1 {
		t.Errorf("after the large bodies: got rev %d, want 1", got.Rev)
	}
}

func TestRepliesAreSmallAndNotKept(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	req, _ := http.NewRequest("GET", h.url+at(id), nil)
	req.Header.Set("Accept-Encoding", "gzip")
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	for name, want := range map[string]string{
		"Content-Encoding": "gzip", "Content-Type": "application/json", "Cache-Control": "no-store",
		"X-Content-Type-Options": "nosniff",
	} {
		if got := res.Header.Get(name); got != want {
			t.Errorf("GET session: got %s %q, want %q", name, got, want)
		}
	}
	z, err := gzip.NewReader(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	var s stateJSON
	if err := json.NewDecoder(z).Decode(&s); err != nil || s.ID != id {
		t.Errorf("GET session: got id %q, %v; want %s", s.ID, err, id)
	}
	if a := h.call("HEAD", "/healthz", ""); a.status != 200 || len(a.body) != 0 {
		t.Errorf("HEAD /healthz: got %d %q, want 200 and no body", a.status, a.body)
	}
	if a := h.call("GET", "/healthz", ""); string(a.body) != `{"ok":true}` {
		t.Errorf("GET /healthz: got %s", a.body)
	}
}

func TestABugIsAnsweredAndLogged(t *testing.T) {
	var log bytes.Buffer
	broken := &web.Server{Log: slog.New(slog.NewTextHandler(&log, nil))} // no store
	server := httptest.NewServer(broken.Handler())
	defer server.Close()
	res, err := http.Get(server.URL + at("xyzzy"))
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	var p problemJSON
	json.NewDecoder(res.Body).Decode(&p)
	if res.StatusCode != 500 || p.Error.Code != "bug" || !sentence(p.Error.Message) {
		t.Errorf("GET on a server without a store: got %d %+v, want 500 and a sentence", res.StatusCode, p)
	}
	if !strings.Contains(log.String(), "stack=") || strings.Contains(log.String(), "xyzzy") {
		t.Errorf("log: got %s, want the stack and no session's id", log.String())
	}
}
