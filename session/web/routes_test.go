package web

import (
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
)

// Whatever answers stands in a table, and all that stands in a table answers.
func TestTheTablesAreAllThatAnswers(t *testing.T) {
	s := &Server{}
	handler := s.Handler()
	var networked []route
	for _, table := range [][]route{s.pageRoutes(), s.apiRoutes(), s.staticRoutes()} {
		networked = append(networked, table...)
	}
	for _, c := range []struct {
		name    string
		handler http.Handler
		table   []route
	}{{"the network", handler, networked}, {"the commands", s.Local(), s.localRoutes()}} {
		var want, got []string
		for _, x := range c.table {
			want = append(want, x.method+" "+x.path)
		}
		err := chi.Walk(c.handler.(chi.Routes), func(method, path string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
			got = append(got, method+" "+path)
			return nil
		})
		if err != nil {
			t.Fatalf("%s: walk the router: %v", c.name, err)
		}
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: it answers to\n%s\nwant what the tables have\n%s", c.name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// What a table says of who may, the door does: for each route and each kind of visitor.
func TestTheDoorDoesWhatTheTablesSay(t *testing.T) {
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	})
	devices, err := session.OpenDevices(store)
	if err != nil {
		t.Fatal(err)
	}
	const network = "192.168.7.2:8370"
	pair := func(looks bool) string {
		guess := session.Guess{Token: devices.Offer(session.Rights{Looks: looks}).Token, From: "192.168.7.20", Name: "tablet"}
		secret, _, err := devices.Pair(t.Context(), guess)
		if err != nil {
			t.Fatal(err)
		}
		return secret
	}
	plain := &Server{Store: store, Devices: devices}
	sealed := &Server{Store: store, Devices: devices, Authority: []byte("der")}
	handlers := map[*Server]http.Handler{plain: plain.Handler(), sealed: sealed.Handler()}
	ticks, looks := pair(false), pair(true)

	// What the door says: "" where it lets in, else its code, or where it leads.
	led := map[string]string{"not-paired": "/pair", "needs-https": "/trust"}
	for _, c := range []struct {
		name, remote, host, secret string
		server                     *Server
		want                       func(who access, writes bool) string
	}{
		{"a paired device", "192.168.7.20:50000", network, ticks, plain,
			func(who access, writes bool) string {
				return map[access]string{owner: "not-owner"}[who]
			}},
		{"a device that looks on", "192.168.7.20:50000", network, looks, plain,
			func(who access, writes bool) string {
				if who == paired && writes {
					return "only-looks"
				}
				return map[access]string{owner: "not-owner"}[who]
			}},
		{"a device that is not paired", "192.168.7.21:50000", network, "", plain,
			func(who access, writes bool) string {
				return map[access]string{paired: "not-paired", owner: "not-paired"}[who]
			}},
		{"a paired device in the open, where --tls asks for https", "192.168.7.20:50000", network, ticks, sealed,
			func(who access, writes bool) string {
				if who == everyone {
					return ""
				}
				return "needs-https"
			}},
		// The owner comes last: some of these routes forget the devices.
		{"the owner", "127.0.0.1:50000", "127.0.0.1:8370", "", plain,
			func(access, bool) string { return "" }},
		{"the owner in the open", "127.0.0.1:50000", "127.0.0.1:8370", "", sealed,
			func(access, bool) string { return "" }},
	} {
		for _, table := range [][]route{c.server.pageRoutes(), c.server.apiRoutes(), c.server.staticRoutes()} {
			for _, x := range table {
				path := regexp.MustCompile(`\{\w+\}`).ReplaceAllString(x.path, "x")
				r := httptest.NewRequest(x.method, path, strings.NewReader(""))
				r.RemoteAddr, r.Host = c.remote, c.host
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				r.AddCookie(&http.Cookie{Name: secretCookie, Value: c.secret})
				w := httptest.NewRecorder()
				handlers[c.server].ServeHTTP(w, r)
				got := saidByTheDoor(w)
				want := c.want(x.who, x.method != http.MethodGet)
				if to := led[want]; to != "" && !forPrograms(r) {
					want = to
				}
				if got != want {
					t.Errorf("%s: %s %s: the door says %q (%d), want %q", c.name, x.method, x.path, got, w.Code, want)
				}
			}
		}
	}
}

// saidByTheDoor is a refusal of the door's by its code, or where it leads; "" where the
// route itself answered.
func saidByTheDoor(w *httptest.ResponseRecorder) string {
	if to := w.Header().Get("Location"); w.Code == http.StatusSeeOther && (to == "/pair" || to == "/trust") {
		return to
	}
	for _, p := range []*problem{notPaired, notOwner, onlyLooks, needsTLS} {
		if w.Code == p.status && strings.Contains(w.Body.String(), strings.SplitN(p.Message, ".", 2)[0]) {
			return p.Code
		}
	}
	return ""
}
