package web

import (
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
)

// scopes are the routes that a device of one quilt may use. What is not here is closed to it:
// a new route is, until somebody says otherwise here and in its table.
var scopes = map[string]scope{
	"GET /": leads, "GET /settings": open, "GET /terms": open,

	"GET /pair": open, "POST /pair": open, "GET /trust": open, "GET /authority.crt": open,
	"GET /healthz": open, "GET /static/{name}": open, "GET /worker.js": open,

	"GET /s/{id}": own, "GET /s/{id}/stage/{stage}": own, "GET /s/{id}/step/{step}": own,
	"GET /s/{id}/{step}": own, "POST /s/{id}/do": own, "GET /s/{id}/drawings": own,
	"GET /s/{id}/sheet": own, "GET /s/{id}/cutting": own, "GET /s/{id}/shopping": own,
	"GET /s/{id}/shopping.txt": own, "GET /s/{id}/plan": own, "GET /s/{id}/keep": own,
	"GET /s/{id}/paper": own, "GET /s/{id}/face.svg": own,
	"GET /s/{id}/{photo:[0-9a-f-]{32,}}.jpg": own,
	"GET /s/{id}/wrong":                      own, "GET /s/{id}/wrong/{wrong}": own, "GET /s/{id}/found/{of}": own,
	"POST /s/{id}/mend": own, "GET /s/{id}/settings": own, "GET /s/{id}/return": own,

	"GET /api/v1/sessions/{id}": own, "POST /api/v1/sessions/{id}/ops": own,
	"GET /api/v1/sessions/{id}/live": own, "GET /api/v1/sessions/{id}/history": own,
	"GET /api/v1/sessions/{id}/export": own,
}

// A device of one quilt gets of its own quilt what every device gets. All else is answered as
// what is not there: an address as an unknown one, another quilt as one that never was.
func TestADeviceOfOneQuiltGetsThatAndNothingElse(t *testing.T) {
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer store.Close()
	devices, err := session.OpenDevices(store)
	if err != nil {
		t.Fatal(err)
	}
	photo, err := store.KeepPhoto(t.Context(), []byte("a photo"))
	if err != nil {
		t.Fatal(err)
	}
	swatch, err := store.KeepSwatch(t.Context(), photo, []byte(`{"size":{"along":1,"across":1},"tile":"dGlsZQ=="}`))
	if err != nil {
		t.Fatal(err)
	}
	plan := strings.Replace(DemoPlan, `"cut":`, `"photo": "`+swatch+`", "cut":`, 1)
	var quilts [2]string
	for i := range quilts {
		head, err := store.Create(t.Context(), []byte(plan))
		if err != nil {
			t.Fatal(err)
		}
		quilts[i] = head.ID
	}
	its, other := quilts[0], quilts[1]
	pair := func(may session.Rights) string {
		secret, _, err := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(may).Token})
		if err != nil {
			t.Fatal(err)
		}
		return secret
	}
	s := &Server{Store: store, Devices: devices}
	handler := s.Handler()
	s.reads = session.NewThrottle(10_000, time.Millisecond) // it asks for more than a device does
	ask := func(secret, method, path, id string) *httptest.ResponseRecorder {
		path = strings.NewReplacer("{id}", id, "{stage}", "sew", "{step}", "press-1", "{wrong}", "past-dot",
			"{name}", "plain.css", "{of}", "x", "{device}", "x",
			"{photo:[0-9a-f-]{32,}}", swatch, "{photo}", swatch).Replace(path)
		r := httptest.NewRequest(method, path, strings.NewReader(""))
		r.RemoteAddr, r.Host = "192.168.7.20:50000", "192.168.7.2:8370"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.AddCookie(&http.Cookie{Name: secretCookie, Value: secret})
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		return w
	}
	for name, looks := range map[string]bool{"that ticks": false, "that looks on": true} {
		every, one := pair(session.Rights{Looks: looks}), pair(session.Rights{Looks: looks, Only: its})
		left := len(scopes)
		for _, table := range [][]route{s.pageRoutes(), s.apiRoutes(), s.staticRoutes()} {
			for _, x := range table {
				called := x.method + " " + x.path
				want, listed := scopes[called]
				if listed {
					left--
				}
				if x.one != want {
					t.Errorf("%s: the table says %d, want %d", called, x.one, want)
				}
				forPrograms := strings.HasPrefix(x.path, "/api/")
				of := func(id string) *httptest.ResponseRecorder { return ask(one, x.method, x.path, id) }
				same := func(what string, got, want *httptest.ResponseRecorder) {
					if got.Code != want.Code || got.Code == http.StatusNotFound && got.Body.String() != want.Body.String() {
						t.Errorf("a device %s: %s, %s: got %d %.200s, want %d %.200s", name, called, what, got.Code, got.Body, want.Code, want.Body)
					}
				}
				// What is asked in vain of every device, and of this one.
				nowhere, never := ask(one, "GET", "/nosuch", ""), ask(one, "GET", "/s/{id}", "never")
				if forPrograms {
					nowhere, never = ask(one, "GET", "/api/v1/nosuch", ""), ask(one, "GET", "/api/v1/sessions/{id}", "never")
				}
				if nowhere.Code != http.StatusNotFound || never.Code != http.StatusNotFound {
					t.Fatalf("an unknown address: %d, an unknown quilt: %d; want 404", nowhere.Code, never.Code)
				}
				switch want {
				case closed:
					same("its own", of(its), nowhere)
					same("another", of(other), nowhere)
				case own:
					got := of(its)
					same("its own", got, ask(every, x.method, x.path, its))
					if got.Code == http.StatusNotFound && !strings.Contains(x.path, "{of}") {
						t.Errorf("a device %s: %s, its own: got 404", name, called)
					}
					same("another", of(other), never)
					same("one that never was", of("never"), never)
					same("no id", of("%20"), never)
				case leads:
					if got := of(its); got.Code != http.StatusSeeOther || got.Header().Get("Location") != "/s/"+its || len(got.Result().Cookies()) != 1 {
						t.Errorf("a device %s: %s: got %d to %q, want 303 to its quilt, and its cookie for as long again", name, called, got.Code, got.Header().Get("Location"))
					}
				case open:
					if got, want := of(its), ask(every, x.method, x.path, its); got.Code != want.Code {
						t.Errorf("a device %s: %s: got %d, want %d", name, called, got.Code, want.Code)
					}
				}
			}
		}
		if left != 0 {
			t.Errorf("%d of the scopes are of no route", left)
		}
		for _, method := range []string{"PUT", "POST", "DELETE", "QUERY"} {
			if got := ask(one, method, "/api/v1/sessions", ""); got.Code != http.StatusNotFound || got.Header().Get("Allow") != "" {
				t.Errorf("%s where it lists sessions: got %d, allows %q; want 404 and nothing", method, got.Code, got.Header().Get("Allow"))
			}
		}
	}
	for _, id := range quilts {
		if head, err := store.Head(id); err != nil || head.Rev != 1 || !head.Binned.IsZero() {
			t.Errorf("after it: %+v, %v; want the quilts as they were", head, err)
		}
	}
}
