package web_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"

	"cornerwise/session"
	"cornerwise/session/web"
)

// 200 changes at once and 20 a second: what a tablet kept while it was away comes
// through, and no device floods the disk of the others. Time is made up, so that
// the numbers are exact.
func TestChangesOfADeviceAreLimited(t *testing.T) {
	asks(t, func(t *testing.T, id string, ask asker, one, two string) {
		n := 0
		change := func(secret string) *httptest.ResponseRecorder {
			n++
			return ask(secret, "POST", at(id, "ops"), strings.NewReader(noteOp(fmt.Sprint("op", n), "center", fmt.Sprint(n))))
		}
		for i := range 200 {
			if w := change(one); w.Code == 429 {
				t.Fatalf("change %d: got %d %s, want it taken", i+1, w.Code, w.Body)
			}
		}
		w := change(one)
		var p problemJSON
		if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || w.Code != 429 || p.Error.Code != "too-fast" || !sentence(p.Error.Message) || w.Header().Get("Retry-After") != "1" {
			t.Errorf("change 201: got %d %s, Retry-After %q; want 429, a sentence and 1 s", w.Code, w.Body, w.Header().Get("Retry-After"))
		}
		if w := change(two); w.Code == 429 {
			t.Errorf("another device meanwhile: got %d, want it taken", w.Code)
		}
		for range 300 {
			if w := change(""); w.Code == 429 {
				t.Fatalf("the owner, who has no limit: got %d", w.Code)
			}
		}
		time.Sleep(time.Second)
		for i := range 21 {
			if w := change(one); (w.Code == 429) != (i == 20) {
				t.Errorf("change %d a second later: got %d, want 20 taken", i+1, w.Code)
			}
		}
	})
}

// An asker asks in the name of a device's secret, "" for the owner.
type asker func(secret, method, path string, body io.Reader) *httptest.ResponseRecorder

// asks is for requests of two devices and the owner to a server in made-up time.
func asks(t *testing.T, do func(t *testing.T, id string, ask asker, one, two string)) {
	synctest.Test(t, func(t *testing.T) {
		store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
		if err != nil {
			t.Fatal(err)
		}
		defer store.Close()
		devices, err := session.OpenDevices(store)
		if err != nil {
			t.Fatal(err)
		}
		head, err := store.Create(t.Context(), []byte(web.DemoPlan))
		if err != nil {
			t.Fatal(err)
		}
		handler := (&web.Server{Store: store, Devices: devices}).Handler()
		ask := func(secret, method, path string, body io.Reader) *httptest.ResponseRecorder {
			req := httptest.NewRequest(method, path, body)
			req.RemoteAddr, req.Host = "127.0.0.1:50000", hers
			if secret == "" {
				req.Host = "localhost"
			}
			req.AddCookie(&http.Cookie{Name: "cornerwise-device", Value: secret})
			w := httptest.NewRecorder()
			handler.ServeHTTP(w, req)
			return w
		}
		one, _, _ := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(session.Rights{}).Token})
		two, _, err := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(session.Rights{}).Token})
		if err != nil {
			t.Fatal(err)
		}
		do(t, head.ID, ask, one, two)
	})
}

// 300 at once and 30 a second, of pages and of the API.
func TestReadsOfADeviceAreLimited(t *testing.T) {
	asks(t, func(t *testing.T, id string, ask asker, one, two string) {
		for i := range 300 {
			path := "/"
			if i%2 == 0 {
				path = "/api/v1/sessions"
			}
			if w := ask(one, "GET", path, nil); w.Code != 200 {
				t.Fatalf("read %d: got %d %s, want 200", i+1, w.Code, w.Body)
			}
		}
		w := ask(one, "GET", at(id, ""), nil)
		var p problemJSON
		if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || w.Code != 429 || p.Error.Code != "too-fast" || !sentence(p.Error.Message) {
			t.Errorf("read 301: got %d %s, want 429 and a sentence", w.Code, w.Body)
		}
		if w := ask(two, "GET", "/api/v1/sessions", nil); w.Code != 200 {
			t.Errorf("another device meanwhile: got %d, want 200", w.Code)
		}
		for range 400 {
			if w := ask("", "GET", "/api/v1/sessions", nil); w.Code != 200 {
				t.Fatalf("the owner, who has no limit: got %d", w.Code)
			}
		}
		time.Sleep(time.Second)
		if w := ask(one, "GET", "/api/v1/sessions", nil); w.Code != 200 {
			t.Errorf("a second later: got %d, want 200", w.Code)
		}
	})
}

// 5 at once and 1 a minute.
func TestImportsOfADeviceAreLimited(t *testing.T) {
	asks(t, func(t *testing.T, _ string, ask asker, one, two string) {
		bring := func(secret string) *httptest.ResponseRecorder {
			return ask(secret, "POST", "/api/v1/import", strings.NewReader(`{"cornerwise": 1, "history": [
				{"rev": 1, "at": "2000-01-01T00:00:00Z", "op": "a", "kind": "plan", "plan": `+web.DemoPlan+`}]}`))
		}
		for n := range 5 {
			if w := bring(one); w.Code != 201 {
				t.Fatalf("import %d: got %d %s, want 201", n+1, w.Code, w.Body)
			}
		}
		w := bring(one)
		var p problemJSON
		if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || w.Code != 429 || p.Error.Code != "too-fast" || !sentence(p.Error.Message) || w.Header().Get("Retry-After") != "61" && w.Header().Get("Retry-After") != "60" {
			t.Errorf("import 6: got %d %s, Retry-After %q; want 429, a sentence and a minute", w.Code, w.Body, w.Header().Get("Retry-After"))
		}
		if w := bring(two); w.Code != 201 {
			t.Errorf("another device meanwhile: got %d, want 201", w.Code)
		}
		for range 10 {
			if w := bring(""); w.Code != 201 {
				t.Fatalf("the owner, who has no limit: got %d %s", w.Code, w.Body)
			}
		}
		time.Sleep(61 * time.Second)
		if w := bring(one); w.Code != 201 {
			t.Errorf("a minute later: got %d %s, want 201", w.Code, w.Body)
		}
	})
}

// 16 of one device may be under way.
func TestRequestsOfADeviceAtOnceAreLimited(t *testing.T) {
	asks(t, func(t *testing.T, id string, ask asker, one, two string) {
		read, write := io.Pipe()
		ended := make(chan int)
		for range 16 {
			go func() { ended <- ask(one, "POST", at(id, "ops"), read).Code }()
		}
		synctest.Wait()
		if w := ask(one, "GET", "/api/v1/sessions", nil); w.Code != 429 || !strings.Contains(w.Body.String(), "too-fast") {
			t.Errorf("request 17: got %d %s, want 429", w.Code, w.Body)
		}
		if w := ask(two, "GET", "/api/v1/sessions", nil); w.Code != 200 {
			t.Errorf("another device meanwhile: got %d, want 200", w.Code)
		}
		if w := ask("", "GET", "/api/v1/sessions", nil); w.Code != 200 {
			t.Errorf("the owner meanwhile: got %d, want 200", w.Code)
		}
		write.Close()
		for range 16 {
			<-ended
		}
		if w := ask(one, "GET", "/api/v1/sessions", nil); w.Code != 200 {
			t.Errorf("afterwards: got %d, want 200", w.Code)
		}
	})
}

// Strangers who hold all the requests that they get, and eight devices that do, keep no other
// device from its own few.
func TestWhoHoldsAllRequestsKeepsNoDeviceOut(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
		if err != nil {
			t.Fatal(err)
		}
		defer store.Close()
		devices, err := session.OpenDevices(store)
		if err != nil {
			t.Fatal(err)
		}
		handler := (&web.Server{Store: store, Devices: devices}).Handler()
		pair := func() string {
			secret, _, err := devices.Pair(t.Context(), session.Guess{Token: devices.Offer(session.Rights{}).Token})
			if err != nil {
				t.Fatal(err)
			}
			return secret
		}
		ask := func(address, secret, method, path string, body io.Reader) int {
			req := httptest.NewRequest(method, path, body)
			req.RemoteAddr, req.Host = address+":50000", hers
			req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			req.AddCookie(&http.Cookie{Name: "cornerwise-device", Value: secret})
			w := httptest.NewRecorder()
			handler.ServeHTTP(w, req)
			return w.Code
		}
		read, write := io.Pipe()
		var stuck sync.WaitGroup
		hold := func(address, secret, path string) {
			for range 16 {
				stuck.Go(func() { ask(address, secret, "POST", path, read) })
			}
		}
		one := pair()
		for n := range 8 {
			hold(fmt.Sprint("192.168.7.", 100+n), "", "/pair")
		}
		synctest.Wait()
		if got := ask("192.168.7.100", "", "GET", "/pair", nil); got != 429 {
			t.Errorf("a stranger that holds some, beside those that hold all: got %d, want 429", got)
		}
		if got := ask("192.168.7.99", "", "GET", "/pair", nil); got != 200 {
			t.Errorf("a tablet that is to be paired: got %d, want 200", got)
		}
		for n := range 16 {
			if got := ask("192.168.7.20", one, "GET", "/api/v1/sessions", nil); got != 200 {
				t.Fatalf("read %d of a device beside the strangers: got %d, want 200", n+1, got)
			}
		}
		for n := range 8 {
			hold(fmt.Sprint("192.168.7.", 30+n), pair(), at("nosuch", "ops"))
		}
		synctest.Wait()
		hold("192.168.7.20", one, at("nosuch", "ops"))
		synctest.Wait()
		if got := ask("192.168.7.20", one, "GET", "/api/v1/sessions", nil); got != 429 {
			t.Errorf("a device that holds its few, beside those that hold all: got %d, want 429", got)
		}
		if got := ask("192.168.7.21", pair(), "GET", "/api/v1/sessions", nil); got != 200 {
			t.Errorf("another one: got %d, want 200", got)
		}
		write.Close()
		stuck.Wait()
	})
}

// On an open server nobody has a name: a network of IPv6 has 800 at once and 80 a second,
// however many of its addresses are taken.
func TestChangesOfANetworkAreLimited(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
		if err != nil {
			t.Fatal(err)
		}
		defer store.Close()
		handler := (&web.Server{Store: store, Open: true}).Handler()
		change := func(address string) int {
			req := httptest.NewRequest("POST", at("nosuch", "ops"), strings.NewReader("{}"))
			req.RemoteAddr, req.Host = address, hers
			w := httptest.NewRecorder()
			handler.ServeHTTP(w, req)
			return w.Code
		}
		for n := range 802 {
			address := fmt.Sprintf("[fd00::%x]:50000", n%100+1)
			if got := change(address); (got == 429) != (n >= 800) {
				t.Fatalf("change %d of the network, from %s: got %d, want 800 taken", n+1, address, got)
			}
		}
		if got := change("192.168.7.9:50000"); got == 429 {
			t.Errorf("a change from elsewhere: got %d, want it taken", got)
		}
	})
}

// The live line and HTTP have one allowance; here a stranger's on an open server.
func TestChangesOverTheLiveConnectionAreLimited(t *testing.T) {
	inMadeUpTime(t, func(t *testing.T, conn *websocket.Conn) {
		answer := func(n int) (nacked string) {
			t.Helper()
			if err := conn.WriteMessage(websocket.TextMessage, []byte(tickOp(fmt.Sprint("op", n), "nosuch", true))); err != nil {
				t.Fatal(err)
			}
			for {
				var m message
				if err := conn.ReadJSON(&m); err != nil {
					t.Fatal(err)
				}
				if m.Nack != nil {
					return m.Error.Code
				}
			}
		}
		for n := range 200 {
			if got := answer(n); got != "unknown-tick" {
				t.Fatalf("change %d: got a nack %q, want it looked at", n+1, got)
			}
		}
		if got := answer(201); got != "too-fast" {
			t.Errorf("change 201: got a nack %q, want too-fast", got)
		}
		time.Sleep(60 * time.Millisecond)
		if got := answer(202); got != "unknown-tick" {
			t.Errorf("change 202, later: got a nack %q, want it looked at", got)
		}
	})
}

func TestLiveConnectionsOfADeviceAreLimited(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	v, other := h.visitor(), h.visitor()
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	other.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	var lines []*device
	for n := range 16 {
		d, status := v.join(id)
		if d == nil {
			t.Fatalf("live connection %d: got %d, want 101", n+1, status)
		}
		lines = append(lines, d)
		d.next()
	}
	if _, status := v.join(id); status != 429 {
		t.Errorf("live connection 17: got %d, want 429", status)
	}
	if _, status := other.join(id); status != 101 {
		t.Errorf("of another device: got %d, want 101", status)
	}
	lines[0].conn.Close()
	for end := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		if _, status := v.join(id); status == 101 {
			break
		} else if time.Now().After(end) {
			t.Fatalf("after one was closed: got %d, want 101", status)
		}
	}
	for range 40 {
		h.join(id, "") // the owner has no limit
	}
}
