package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
	"image"
	"image/jpeg"
	"os"
)

// A request that came in by the door changes nothing once its device is forgotten, on any
// route that takes changes. That the same request is taken without it shows that each is
// one that changes something.
func TestWhatADeviceBeganBeforeItWasForgottenChangesNothing(t *testing.T) {
	folder := t.TempDir()
	store, err := session.Open(filepath.Join(folder, "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { store.Close() })
	photo, err := store.KeepPhoto(t.Context(), []byte(gray(t, 100)))
	if err != nil {
		t.Fatal(err)
	}
	devices, err := session.OpenDevices(store)
	if err != nil {
		t.Fatal(err)
	}
	s := &Server{Store: store, Devices: devices}
	s.Handler()

	form := func(pairs ...string) string {
		v := url.Values{}
		for i := 0; i < len(pairs); i += 2 {
			v.Set(pairs[i], pairs[i+1])
		}
		return v.Encode()
	}
	plan := form("unit", "in", "seam", "1/4", "spare", "4", "center.width", "20", "center.length", "20", "borders[0].cut", "3")
	const note = `{"op": "n", "kind": "note", "step": "widths", "text": "a word"}`
	bodies := map[string]string{
		"POST /demo":        "",
		"POST /new":         plan,
		"POST /new/edit":    plan,
		"POST /new/preview": plan,
		"POST /s/{id}/do":   form("op", "d", "kind", "note", "step", "widths"),
		"POST /s/{id}/mend": form("op", "m", "wrong", "past-dot", "way", "redo", "edge", "left", "corner", "4", "past", "1/8"),
		"POST /s/{id}/bin":  "", "POST /s/{id}/restore": "",
		"POST " + v1 + "/sessions":              DemoPlan,
		"DELETE " + v1 + "/sessions/{id}":       "",
		"POST " + v1 + "/sessions/{id}/restore": "",
		"POST " + v1 + "/sessions/{id}/ops":     note,
		"POST " + v1 + "/import":                "an export",

		"POST " + photosPath: gray(t, 150),
		"POST " + photosPath + "/{photo}/flat": `{"sheet": "letter", "along": "right",
			"corners": [[20, 20], [220, 20], [220, 220], [20, 220]]}`,
		"POST /photo":         gray(t, 200),
		"POST /photo/{photo}": form("sheet", "letter", "along", "down", "corners", "20,20 220,20 220,220 20,220"),
	}
	keepsNothing := map[string]bool{"POST /new/edit": true, "POST /new/preview": true}

	for _, table := range [][]route{s.pageRoutes(), s.apiRoutes()} {
		for _, x := range table {
			name := x.method + " " + x.path
			body, listed := bodies[name]
			if x.method == http.MethodGet || x.who != paired {
				continue
			}
			if !listed {
				t.Errorf("%s changes something, and this test has no request for it", name)
				continue
			}
			for _, forgotten := range []bool{true, false} {
				head, err := store.Create(t.Context(), []byte(DemoPlan))
				if err == nil && strings.HasSuffix(x.path, "/restore") {
					err = store.Bin(t.Context(), head.ID)
				}
				if err != nil {
					t.Fatal(err)
				}
				if body == "an export" || x.path == v1+"/import" {
					export, err := store.Export(head.ID)
					if err != nil {
						t.Fatal(err)
					}
					body = string(export)
				}
				secret, device, err := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(session.Rights{}).Token})
				if err != nil {
					t.Fatal(err)
				}
				before := everything(t, store) + names(t, filepath.Join(folder, "photos"))
				router := chi.NewRouter()
				router.Use(s.door)
				router.Method(x.method, x.path, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
					if forgotten {
						if err := devices.Forget(t.Context(), device.ID); err != nil {
							t.Error(err)
						}
					}
					x.handle(w, r)
				}))
				r := httptest.NewRequest(x.method, strings.NewReplacer("{id}", head.ID, "{photo}", photo).Replace(x.path), strings.NewReader(body))
				r.RemoteAddr, r.Host = "192.168.7.20:50000", "192.168.7.2:8370"
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				r.AddCookie(&http.Cookie{Name: secretCookie, Value: secret})
				w := httptest.NewRecorder()
				router.ServeHTTP(w, r)
				changed := everything(t, store)+names(t, filepath.Join(folder, "photos")) != before
				switch {
				case forgotten && (w.Code != http.StatusUnauthorized || changed):
					t.Errorf("%s of a device that was forgotten: got %d, changed %t, want 401 and nothing changed", name, w.Code, changed)
				case !forgotten && (w.Code >= 400 || changed == keepsNothing[name]):
					t.Errorf("%s: got %d %s, changed %t, want it taken", name, w.Code, w.Body, changed)
				}
				devices.Forget(t.Context(), device.ID)
			}
		}
	}

	// The live connection.
	head, err := store.Create(t.Context(), []byte(DemoPlan))
	if err != nil {
		t.Fatal(err)
	}
	secret, device, err := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(session.Rights{}).Token})
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodGet, "/", nil)
	r.AddCookie(&http.Cookie{Name: secretCookie, Value: secret})
	v := s.visitor(r, host{})
	if got, ok := s.takeOp(v, head.ID, []byte(note)).(ack); !ok {
		t.Errorf("an op by the live connection: got %+v, want an ack", got)
	}
	if err := devices.Forget(t.Context(), device.ID); err != nil {
		t.Fatal(err)
	}
	again := strings.Replace(note, `"n"`, `"n2"`, 1)
	if got, ok := s.takeOp(v, head.ID, []byte(again)).(nack); !ok || got.Error.Code != notPaired.Code {
		t.Errorf("an op by the live connection of a device that was forgotten: got %+v, want a nack, not-paired", got)
	}
	if snap, err := store.Get(head.ID); err != nil || snap.Rev != 2 {
		t.Errorf("after it: rev %d, %v, want 2", snap.Rev, err)
	}
}

// gray is a photo of one gray.
func gray(t *testing.T, shade uint8) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 240, 240))
	for i := range picture.Pix {
		picture.Pix[i] = shade
	}
	var b strings.Builder
	if err := jpeg.Encode(&b, picture, nil); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// names are those of the files in a folder.
func names(t *testing.T, folder string) (all string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		all += e.Name() + "\n"
	}
	return all
}

// everything is what the store keeps of all sessions.
func everything(t *testing.T, store *session.Store) string {
	t.Helper()
	var all []session.Head
	for _, binned := range []bool{false, true} {
		heads, _, err := store.List(1000, "", binned)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, heads...)
	}
	data, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// A forgetter is a reader whose device is forgotten once it has read something.
type forgetter struct {
	*httptest.ResponseRecorder
	forget func()
}

func (f forgetter) Write(data []byte) (int, error) {
	f.forget()
	return f.ResponseRecorder.Write(data)
}

// Who is forgotten in the middle of a long export or history gets no more of it.
func TestALongReadEndsOnceItsDeviceIsForgotten(t *testing.T) {
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { store.Close() })
	devices, err := session.OpenDevices(store)
	if err != nil {
		t.Fatal(err)
	}
	handler := (&Server{Store: store, Devices: devices}).Handler()
	long := `{"cornerwise": 1, "history": [{"rev": 1, "at": "2026-01-01T00:00:00Z", "op": "1", "kind": "plan", "plan": ` + DemoPlan + `}`
	for n := 2; n < 300; n++ {
		long += fmt.Sprintf(`,{"rev": %d, "at": "2026-01-01T00:00:00Z", "op": "%d", "kind": "note", "step": "widths", "text": "%s"}`, n, n, strings.Repeat("x", 900))
	}
	head, err := store.Import(t.Context(), strings.NewReader(long+"]}"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/export", "/history"} {
		for _, forgotten := range []bool{true, false} {
			secret, device, err := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(session.Rights{}).Token})
			if err != nil {
				t.Fatal(err)
			}
			req := httptest.NewRequest("GET", v1+"/sessions/"+head.ID+path, nil)
			req.RemoteAddr, req.Host = "192.168.7.20:1", "192.168.7.2:8370"
			req.AddCookie(&http.Cookie{Name: secretCookie, Value: secret})
			w := forgetter{httptest.NewRecorder(), func() {
				if forgotten {
					devices.Forget(t.Context(), device.ID)
				}
			}}
			broken := func() (broken bool) {
				defer func() { broken = recover() == http.ErrAbortHandler }()
				handler.ServeHTTP(w, req)
				return false
			}()
			if whole := w.Body.Len() > 250<<10; broken != forgotten || whole == forgotten {
				t.Errorf("GET %s, forgotten meanwhile %v: broken off %v after %d bytes", path, forgotten, broken, w.Body.Len())
			}
		}
	}
}
