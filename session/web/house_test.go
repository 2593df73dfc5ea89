package web_test

import (
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
	"cornerwise/session/web"
)

// A house is a whole server on a real store, reached over loopback.
type house struct {
	t     testing.TB
	store *session.Store
	url   string
	stop  chan struct{}
	web   *web.Server
}

func openHouse(t testing.TB) *house {
	t.Helper()
	return openHouseAt(t, time.Now)
}

// openHouseAt is a house whose store goes by a clock of its own.
func openHouseAt(t testing.TB, now func() time.Time) *house {
	t.Helper()
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), now)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	devices, err := session.OpenDevices(store)
	if err != nil {
		t.Fatalf("OpenDevices: %v", err)
	}
	h := &house{t: t, store: store, stop: make(chan struct{})}
	h.web = &web.Server{Store: store, Devices: devices, Stop: h.stop, Log: slog.New(slog.DiscardHandler)}
	server := httptest.NewServer(h.web.Handler())
	h.url = server.URL
	t.Cleanup(func() {
		select {
		case <-h.stop:
		default:
			close(h.stop)
		}
		server.Close()
		if err := store.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	return h
}

type response struct {
	status int
	header http.Header
	body   []byte
}

func (h *house) call(method, path, body string) response {
	h.t.Helper()
	req, err := http.NewRequest(method, h.url+path, strings.NewReader(body))
	if err != nil {
		h.t.Fatal(err)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		h.t.Fatalf("%s %s: %v", method, path, err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatalf("%s %s: %v", method, path, err)
	}
	return response{res.StatusCode, res.Header, data}
}

// must is a call that has to answer with the status; its JSON goes into v.
func (h *house) must(status int, method, path, body string, v any) response {
	h.t.Helper()
	a := h.call(method, path, body)
	if a.status != status {
		h.t.Fatalf("%s %s %s: got %d %s, want %d", method, path, body, a.status, a.body, status)
	}
	if v != nil {
		if err := json.Unmarshal(a.body, v); err != nil {
			h.t.Fatalf("%s %s: got %q, want JSON: %v", method, path, a.body, err)
		}
	}
	return a
}

type (
	stateJSON struct {
		ID, Here    string
		Rev         int64
		Plan, Sheet json.RawMessage
		Stages      []stageJSON
		Last        *struct {
			Op, Text string
			At       time.Time
		}
	}
	stageJSON struct {
		ID, Title string
		Steps     []stepJSON
	}
	stepJSON struct {
		ID, Title, Note string
		Done            bool
		Ticks           []tickJSON
		Measures        []struct{ ID, Label, Value string }
	}
	tickJSON struct {
		ID, Label  string
		Done, Cuts bool
		Needs      []string
	}
	problemJSON struct {
		Error struct {
			Code, Field, Message string
			Missing              []string
			Faults               []struct{ Field, Message string }
		}
	}
)

func (h *house) begin() string {
	h.t.Helper()
	var made struct {
		ID  string
		Rev int64
	}
	h.must(201, "POST", "/api/v1/sessions", web.DemoPlan, &made)
	if made.ID == "" || made.Rev != 1 {
		h.t.Fatalf("POST /api/v1/sessions: got id %q rev %d, want an id and rev 1", made.ID, made.Rev)
	}
	return made.ID
}

func (h *house) state(id string) stateJSON {
	h.t.Helper()
	var s stateJSON
	h.must(200, "GET", at(id), "", &s)
	return s
}

func at(id string, below ...string) string {
	return strings.Join(append([]string{"/api/v1/sessions/" + id}, below...), "/")
}

func (s stateJSON) ticks() (all []tickJSON) {
	for _, stage := range s.Stages {
		for _, step := range stage.Steps {
			all = append(all, step.Ticks...)
		}
	}
	return all
}

// ready is the first open tick whose needs are done; blocked one whose are not.
func (s stateJSON) ready() (id string)   { return s.open(true) }
func (s stateJSON) blocked() (id string) { return s.open(false) }

func (s stateJSON) open(wanted bool) string {
	done := map[string]bool{}
	for _, t := range s.ticks() {
		done[t.ID] = t.Done
	}
	for _, t := range s.ticks() {
		can := true
		for _, need := range t.Needs {
			can = can && done[need]
		}
		if !t.Done && can == wanted {
			return t.ID
		}
	}
	return ""
}

func (s stateJSON) done(tick string) bool {
	for _, t := range s.ticks() {
		if t.ID == tick {
			return t.Done
		}
	}
	return false
}

func tickOp(op, tick string, done bool) string {
	return fmt.Sprintf(`{"op": %q, "kind": "tick", "tick": %q, "done": %t}`, op, tick, done)
}
