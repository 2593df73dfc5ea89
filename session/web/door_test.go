package web_test

import (
	"net/http/httptest"
	"strings"
	"testing"

	"cornerwise/session/web"
)

func TestWhoMayComeIn(t *testing.T) {
	h := openHouse(t)
	const (
		owner    = "127.0.0.1:50000"
		stranger = "192.168.7.20:50000"
		hers     = "192.168.7.2:8370" // this computer's address on her network
	)
	api, page := "/api/v1/sessions", "/"
	for _, c := range []struct {
		name               string
		open               bool
		remote, host, path string
		want               int
	}{
		{"the owner by number", false, owner, "127.0.0.1:8370", api, 200},
		{"the owner by another number of this computer", false, owner, "127.8.8.8", api, 200},
		{"the owner by localhost", false, owner, "localhost:8370", api, 200},
		{"the owner by LOCALHOST without a port", false, owner, "LOCALHOST", api, 200},
		{"the owner by IPv6", false, "[::1]:50000", "[::1]:8370", api, 200},
		{"the owner by IPv6 without a port", false, "[::1]:50000", "[::1]", api, 200},
		{"the owner by IPv4 in IPv6", false, "[::ffff:127.0.0.1]:50000", "127.0.0.1:8370", api, 200},
		{"this computer through its network address", false, owner, hers, api, 401},
		{"a stranger who says localhost", false, stranger, "localhost:8370", api, 401},
		{"a stranger on the API", false, stranger, hers, api, 401},
		{"a stranger on one session", false, stranger, hers, at("x"), 401},
		{"a stranger on the live connection", false, stranger, hers, at("x", "live"), 401},
		{"a stranger on a page", false, stranger, hers, page, 303},
		{"a stranger on an unknown page", false, stranger, hers, "/nosuch", 303},
		{"a stranger where devices pair", false, stranger, hers, "/pair", 200},
		{"a stranger asks for health", false, stranger, hers, "/healthz", 200},
		{"a stranger climbs out of static", false, stranger, hers, "/static/../api/v1/sessions", 303},
		{"a stranger when it is open", true, stranger, hers, api, 200},
		{"a stranger by IPv6 when it is open", true, "[fd00::7]:50000", "[fd00::2]:8370", api, 200},
		{"the owner where devices pair", false, owner, "localhost", "/pair", 303},

		{"a name that was turned here", true, owner, "evil.example", api, 421},
		{"a name that was turned here, on a page", true, owner, "evil.example:8370", page, 421},
		{"a name that was turned here, for health", true, owner, "evil.example", "/healthz", 421},
		{"a name that looks local", false, owner, "localhost.evil.example", api, 421},
		{"a name that looks like a number", false, owner, "127.0.0.1.evil.example", api, 421},
		{"no host", false, owner, "", api, 421},
		{"a port that is no number", false, owner, "localhost:http", api, 421},
		{"a host with a zone that breaks out", true, owner, "[fe80::1%25a; script-src *]:80", api, 421},
		{"a host with a space", true, owner, "localhost evil", api, 421},
	} {
		server := &web.Server{Store: h.store, Devices: h.web.Devices, Open: c.open}
		req := httptest.NewRequest("GET", c.path, nil)
		req.RemoteAddr, req.Host = c.remote, c.host
		req.Header.Set("X-Forwarded-For", "127.0.0.1")
		req.Header.Set("X-Real-IP", "127.0.0.1")
		req.Header.Set("Forwarded", "for=127.0.0.1;host=localhost")
		w := httptest.NewRecorder()
		server.Handler().ServeHTTP(w, req)
		if w.Code != c.want {
			t.Errorf("%s: GET %s from %s to host %q: got %d %s, want %d", c.name, c.path, c.remote, c.host, w.Code, w.Body, c.want)
		}
		if w.Code == 303 && c.path != "/pair" && w.Header().Get("Location") != "/pair" {
			t.Errorf("%s: got sent to %q, want /pair", c.name, w.Header().Get("Location"))
		}
		csp := w.Header().Get("Content-Security-Policy")
		if !strings.Contains(csp, "frame-ancestors 'none'") || strings.Contains(csp, "*") ||
			w.Header().Get("X-Content-Type-Options") != "nosniff" || w.Header().Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: got the headers %v, want the strict ones", c.name, w.Header())
		}
		if known := w.Code != 421; known != strings.Contains(csp, "ws://"+c.host+";") {
			t.Errorf("%s: got the policy %q, want ws://%s in it only for a known host", c.name, csp, c.host)
		}
	}
}

func TestWritesFromOtherOrigins(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	tick := h.state(id).ready()
	for _, c := range []struct {
		name, origin, fetchSite string
		want                    int
	}{
		{"no browser", "", "", 200},
		{"the same origin", "http://127.0.0.1:8370", "", 200},
		{"the same origin, as the browser says", "http://127.0.0.1:8370", "same-origin", 200},
		{"another site", "http://evil.example", "", 403},
		{"another site, as the browser says", "http://evil.example", "cross-site", 403},
		{"another port", "http://127.0.0.1:9000", "", 403},
		{"no origin to speak of", "null", "", 403},
		{"rubbish", "::", "", 403},
	} {
		for _, path := range []string{at(id, "ops"), "/new"} {
			req := httptest.NewRequest("POST", path, strings.NewReader(tickOp("same", tick, true)))
			req.RemoteAddr, req.Host = "127.0.0.1:50000", "127.0.0.1:8370"
			if c.origin != "" {
				req.Header.Set("Origin", c.origin)
			}
			if c.fetchSite != "" {
				req.Header.Set("Sec-Fetch-Site", c.fetchSite)
			}
			w := httptest.NewRecorder()
			h.web.Handler().ServeHTTP(w, req)
			if path == "/new" { // whatever the form says, not the door
				if refused := w.Code == 403; refused != (c.want == 403) {
					t.Errorf("%s: POST %s: got %d, want 403 only from elsewhere", c.name, path, w.Code)
				}
			} else if w.Code != c.want {
				t.Errorf("%s: POST %s: got %d %s, want %d", c.name, path, w.Code, w.Body, c.want)
			}
		}
	}
}
