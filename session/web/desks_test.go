package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
)

// While all desks are taken a device waits for each page, whatever it is of, and the owner for
// none.
func TestADevicesPagesAreBegunAtADesk(t *testing.T) {
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { store.Close() })
	s := &Server{Store: store, Open: true}
	handler := s.Handler()
	head, err := store.Create(t.Context(), []byte(DemoPlan))
	if err != nil {
		t.Fatal(err)
	}
	for range cap(s.desks.places) {
		s.desks.places <- struct{}{}
	}
	ask := func(from, path string) int {
		within, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
		defer cancel()
		req := httptest.NewRequest("GET", path, nil).WithContext(within)
		req.RemoteAddr, req.Host = from+":50000", from+":8370"
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, req)
		return w.Code
	}
	for _, table := range [][]route{s.pageRoutes(), s.apiRoutes()} {
		for _, x := range table {
			if x.method != get || x.one != own || x.bare() {
				continue
			}
			path := strings.NewReplacer("{id}", head.ID, "{stage}", "miter", "{step}", "widths", "{wrong}", "pleat", "{of}", "width").Replace(x.path)
			if got := ask("192.168.7.20", path); got != http.StatusServiceUnavailable {
				t.Errorf("%s, by a device without a desk: got %d, want it to wait until it has left", x.path, got)
			}
			if got := ask("127.0.0.1", path); got >= 500 {
				t.Errorf("%s, by the owner: got %d", x.path, got)
			}
		}
	}
}

// Sessions are read from the file for one device at a time, and who sits at a desk has its own.
func TestDevicesHaveSessionsReadOneAtATime(t *testing.T) {
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { store.Close() })
	var ids []string
	for range 70 { // more than are held in memory
		head, err := store.Create(t.Context(), []byte(DemoPlan))
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, head.ID)
	}
	s := &Server{Store: store, Open: true}
	s.Handler()
	s.desks.opening <- struct{}{}
	within, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	device, owner := visitor{in: true}, visitor{in: true, owner: true}
	if err := s.opened(within, device, ids[0]); err == nil || store.Loaded(ids[0]) {
		t.Errorf("a session that is in the file only, while another is read: got %v, want the device to wait", err)
	}
	if err := s.opened(t.Context(), device, ids[69]); err != nil {
		t.Errorf("a session in memory: got %v, want no wait", err)
	}
	if err := s.opened(t.Context(), owner, ids[1]); err != nil {
		t.Errorf("the owner: got %v, want no wait", err)
	}
	<-s.desks.opening
	if err := s.opened(t.Context(), device, ids[0]); err != nil || !store.Loaded(ids[0]) {
		t.Errorf("once the place is free: got %v, in memory: %v", err, store.Loaded(ids[0]))
	}
}

// Many addresses that only look leave their places to who adds.
func TestAddressesThatOnlyLookTakeNobodysAllowance(t *testing.T) {
	store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { store.Close() })
	handler := (&Server{Store: store, Open: true}).Handler()
	ask := func(method, from, path, body string) int {
		req := httptest.NewRequest(method, path, strings.NewReader(body))
		req.RemoteAddr, req.Host = from+":50000", "192.168.7.2:8370"
		req.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, req)
		return w.Code
	}
	for n := range maxAccounts + 100 {
		ask("GET", fmt.Sprintf("[fd00:7::%x]", n+1), "/pair", "")
	}
	for n := range session.MaxSessions {
		ask("POST", fmt.Sprintf("[fd00:7::f:%x]", n+1), v1+"/sessions", DemoPlan)
	}
	if got := ask("POST", "192.168.7.20", v1+"/sessions", DemoPlan); got != http.StatusCreated {
		t.Errorf("a device elsewhere that never added anything: got %d, want 201", got)
	}
}
