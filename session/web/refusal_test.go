package web_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"cornerwise/session/web"
)

func TestRefusals(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	s := h.state(id)
	ready := s.ready()
	h.must(200, "POST", at(id, "ops"), tickOp("first", ready, true), nil)
	blocked := h.state(id).blocked()
	ops := at(id, "ops")
	long := strings.Repeat("x", 5000)
	borders := strings.Repeat(`{"cut": "2"},`, 999) + `{"cut": "2"}`

	for _, c := range []struct {
		name, method, path, body string
		status                   int
		code, field              string
	}{
		{"a path that is not there", "GET", "/api/v1/quilts", "", 404, "unknown-path", ""},
		{"the bare API", "GET", "/api", "", 404, "unknown-path", ""},
		{"a session with no id", "GET", "/api/v1/sessions/", "", 404, "unknown-path", ""},
		{"an unknown session", "GET", at("nosuch"), "", 404, "not-found", ""},
		{"an id that is no id", "GET", at("%2e%2e%2f%00"), "", 404, "not-found", ""},
		{"a very long id", "GET", at(long), "", 404, "not-found", ""},
		{"the history of an unknown session", "GET", at("nosuch", "history"), "", 404, "not-found", ""},
		{"the export of an unknown session", "GET", at("nosuch", "export"), "", 404, "not-found", ""},
		{"an op on an unknown session", "POST", at("nosuch", "ops"), tickOp("q", ready, true), 404, "not-found", ""},
		{"binning an unknown session", "DELETE", at("nosuch"), "", 404, "not-found", ""},
		{"restoring an unknown session", "POST", at("nosuch", "restore"), "", 404, "not-found", ""},
		{"a method that a session does not have", "PUT", at(id), "{}", 405, "unknown-method", ""},
		{"a method that no one knows", "QUILT", at(id), "", 405, "unknown-method", ""},
		{"a method that no one knows, sent nowhere", "QUILT", "/api/v1/quilts", "", 404, "unknown-path", ""},
		{"a method that the list does not have", "DELETE", "/api/v1/sessions", "", 405, "unknown-method", ""},
		{"a live connection without a websocket", "GET", at(id, "live"), "", 400, "not-a-websocket", ""},
		{"a since that is no number", "GET", at(id, "live?since=noon"), "", 422, "bad-since", "since"},
		{"a limit of nothing", "GET", "/api/v1/sessions?limit=0", "", 422, "bad-limit", "limit"},
		{"a limit too high", "GET", "/api/v1/sessions?limit=201", "", 422, "bad-limit", "limit"},
		{"a limit in words", "GET", "/api/v1/sessions?limit=all", "", 422, "bad-limit", "limit"},

		{"a page after no session", "GET", "/api/v1/sessions?after=nosuch", "", 422, "bad-after", "after"},

		{"no plan", "POST", "/api/v1/sessions", "", 400, "bad-json", ""},
		{"a plan cut short", "POST", "/api/v1/sessions", web.DemoPlan[:80], 400, "bad-json", ""},
		{"two plans", "POST", "/api/v1/sessions", web.DemoPlan + web.DemoPlan, 400, "bad-json", ""},
		{"a plan that is no text", "POST", "/api/v1/sessions", "{\"title\": \"\xff\"}", 400, "bad-json", ""},
		{"JSON too deep", "POST", "/api/v1/sessions", strings.Repeat("[", 20_000), 400, "bad-json", ""},
		{"a plan that is a list", "POST", "/api/v1/sessions", "[]", 422, "bad-plan", "plan"},
		{"a plan that is null", "POST", "/api/v1/sessions", "null", 422, "bad-plan", "plan"},
		{"an empty plan", "POST", "/api/v1/sessions", "{}", 422, "bad-plan", "center"},
		{"an unknown field", "POST", "/api/v1/sessions", `{"quilt": 1, "center": {"width": "20", "length": "20"}, "borders": [{"cut": "3"}]}`, 422, "bad-plan", "quilt"},
		{"a negative width", "POST", "/api/v1/sessions", `{"center": {"width": "-20", "length": "20"}, "borders": [{"cut": "3"}]}`, 422, "bad-plan", "center.width"},
		{"1,000 borders", "POST", "/api/v1/sessions", `{"center": {"width": "20", "length": "20"}, "borders": [` + borders + `]}`, 422, "bad-plan", "borders"},

		{"no op", "POST", ops, "", 400, "bad-json", ""},
		{"a broken op", "POST", ops, `{"op": "x"`, 400, "bad-json", ""},
		{"an op that is a list", "POST", ops, `[]`, 422, "bad-op", ""},
		{"an op that is null", "POST", ops, `null`, 422, "bad-op", ""},
		{"an op with an unknown field", "POST", ops, `{"op": "x", "kind": "tick", "thick": "y"}`, 422, "bad-op", "thick"},
		{"an op without an id", "POST", ops, `{"kind": "tick", "tick": "` + ready + `", "done": true}`, 422, "bad-op", "op"},
		{"an op with an endless id", "POST", ops, tickOp(long, ready, true), 422, "bad-op", "op"},
		{"an op with a number for an id", "POST", ops, `{"op": 7, "kind": "tick"}`, 422, "bad-op", "op"},
		{"an op of no kind", "POST", ops, `{"op": "k1"}`, 422, "bad-op", "kind"},
		{"an op of an unknown kind", "POST", ops, `{"op": "k2", "kind": "iron"}`, 422, "bad-op", "kind"},
		{"a tick that is neither done nor open", "POST", ops, `{"op": "k3", "kind": "tick", "tick": "` + ready + `"}`, 422, "bad-op", "done"},
		{"a tick that is done in words", "POST", ops, `{"op": "k4", "kind": "tick", "tick": "` + ready + `", "done": "yes"}`, 422, "bad-op", "done"},
		{"an unknown tick", "POST", ops, tickOp("k5", "nosuch", true), 422, "unknown-tick", "tick"},
		{"an unknown measure", "POST", ops, `{"op": "k6", "kind": "measure", "measure": "nosuch", "value": "3"}`, 422, "unknown-measure", "measure"},
		{"an unknown step for here", "POST", ops, `{"op": "k7", "kind": "here", "step": "nosuch"}`, 422, "unknown-step", "step"},
		{"an unknown step for a note", "POST", ops, `{"op": "k8", "kind": "note", "step": "nosuch", "text": "x"}`, 422, "unknown-step", "step"},
		{"a note too long", "POST", ops, `{"op": "k9", "kind": "note", "step": "` + s.Here + `", "text": "` + long + `"}`, 422, "bad-op", "text"},
		{"redo of an unknown tick", "POST", ops, `{"op": "k10", "kind": "redo", "tick": "nosuch", "why": "x"}`, 422, "unknown-tick", "tick"},
		{"a plan changed to nonsense", "POST", ops, `{"op": "k11", "kind": "plan", "plan": {"center": 7}}`, 422, "bad-plan", "center"},
		{"a plan changed to nothing", "POST", ops, `{"op": "k12", "kind": "plan"}`, 422, "bad-plan", "plan"},
		{"a tick whose needs are open", "POST", ops, tickOp("k13", blocked, true), 409, "not-yet", "tick"},
		{"undo of what is not the last", "POST", ops, `{"op": "k14", "kind": "undo", "of": "nosuch"}`, 409, "not-last", "of"},

		{"an import of nothing", "POST", "/api/v1/import", "", 422, "bad-import", ""},
		{"an import of something else", "POST", "/api/v1/import", web.DemoPlan, 422, "bad-import", ""},
		{"an import of half a file", "POST", "/api/v1/import", `{"cornerwise": 1, `, 422, "bad-import", ""},
	} {
		a := h.call(c.method, c.path, c.body)
		var p problemJSON
		err := json.Unmarshal(a.body, &p)
		if err != nil || a.status != c.status || p.Error.Code != c.code || p.Error.Field != c.field {
			t.Errorf("%s: got %d %s, want %d with code %q and field %q", c.name, a.status, a.body, c.status, c.code, c.field)
		}
		if !sentence(p.Error.Message) {
			t.Errorf("%s: got the message %q, want a sentence", c.name, p.Error.Message)
		}
		if c.code == "bad-plan" && len(p.Error.Faults) == 0 && c.field != "plan" {
			t.Errorf("%s: got no faults, want all of them", c.name)
		}
		if allow := a.header.Get("Allow"); c.status == 405 && !strings.Contains(allow, "GET") {
			t.Errorf("%s: got Allow %q, want the methods that would do", c.name, allow)
		}
		if c.code == "not-yet" && len(p.Error.Missing) == 0 {
			t.Errorf("%s: got no missing ticks", c.name)
		}
	}
	if got := h.state(id); got.Rev != 2 {
		t.Errorf("after all that was refused: got rev %d, want 2 as before", got.Rev)
	}
}

// sentence is a rough test: some words, and an end.
func sentence(s string) bool {
	return len(strings.Fields(s)) >= 4 && strings.HasSuffix(s, ".")
}

func TestUntickingWhatOthersNeed(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	before := h.state(id)
	first := before.ready()
	h.must(200, "POST", at(id, "ops"), tickOp("1", first, true), nil)
	var user string
	for _, tick := range before.ticks() {
		if len(tick.Needs) == 1 && tick.Needs[0] == first {
			user = tick.ID
		}
	}
	if user == "" {
		t.Fatalf("no tick needs only %s", first)
	}
	h.must(200, "POST", at(id, "ops"), tickOp("2", user, true), nil)
	var p problemJSON
	for range 2 {
		h.must(409, "POST", at(id, "ops"), tickOp("3", first, false), &p)
		if p.Error.Code != "in-use" || len(p.Error.Missing) == 0 || p.Error.Missing[0] != user {
			t.Errorf("untick %s: got %+v, want in-use by %s", first, p.Error, user)
		}
	}
	h.must(200, "POST", at(id, "ops"), `{"op": "4", "kind": "redo", "tick": "`+first+`", "why": "sewn past the dot"}`, nil)
	if s := h.state(id); s.done(first) || s.done(user) {
		t.Errorf("after redo of %s: got done %t and %t, want both open", first, s.done(first), s.done(user))
	}
}

func TestNonsenseInEveryFieldOfAnOp(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	s := h.state(id)
	good := map[string]map[string]any{
		"tick":    {"tick": s.ready(), "done": true},
		"measure": {"measure": "m", "value": "36"},
		"here":    {"step": s.Here},
		"note":    {"step": s.Here, "text": "x"},
		"redo":    {"tick": s.ready(), "why": "x"},
		"undo":    {"of": "x"},
	}
	n := 0
	for kind, fields := range good {
		for field := range fields {
			for _, nonsense := range []any{7, -1e300, []int{1}, map[string]int{"a": 1}, "\x00\x1b", strings.Repeat("9", 4000), "\u202e\ufffd"} {
				n++
				op := map[string]any{"op": fmt.Sprint("n", n), "kind": kind}
				for k, v := range fields {
					op[k] = v
				}
				op[field] = nonsense
				body, _ := json.Marshal(op)
				a := h.call("POST", at(id, "ops"), string(body))
				var p problemJSON
				json.Unmarshal(a.body, &p)
				if a.status < 400 || a.status > 499 || !sentence(p.Error.Message) {
					t.Errorf("op %.80s: got %d %s, want a 4xx with a sentence", body, a.status, a.body)
				}
			}
		}
	}
	if got := h.state(id); got.Rev != 1 {
		t.Errorf("after %d ops of nonsense: got rev %d, want 1", n, got.Rev)
	}
}
