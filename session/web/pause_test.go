package web_test

import (
	"bufio"
	"fmt"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"cornerwise/session/web"
)

// An import that is half sent holds the one place for imports for 5 s and no longer.
func TestAnImportThatPausesGivesUpItsPlace(t *testing.T) {
	if testing.Short() {
		t.Skip("it waits for 5 s")
	}
	t.Parallel()
	h := openHouse(t)
	whole := `{"cornerwise": 1, "history": [{"rev": 1, "at": "2000-01-01T00:00:00Z", "op": "a", "kind": "plan", "plan": ` + web.DemoPlan + `}]}`
	half := func() net.Conn {
		conn, err := net.Dial("tcp", strings.TrimPrefix(h.url, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { conn.Close() })
		fmt.Fprintf(conn, "POST /api/v1/import HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s",
			strings.TrimPrefix(h.url, "http://"), len(whole), whole[:40])
		time.Sleep(100 * time.Millisecond) // or the next could come before it, and have the place
		return conn
	}
	conn := half()
	for tries := 1; h.call("POST", "/api/v1/import", whole).status != 503; tries++ {
		if tries == 10 {
			t.Fatal("another import beside half a one is taken; want 503, as one is taken at a time")
		}
		conn = half()
	}
	conn.SetReadDeadline(time.Now().Add(30 * time.Second))
	res, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil || res.StatusCode != 400 {
		t.Fatalf("an import that pauses: got %v, %v, want 400", res, err)
	}
	if a := h.call("POST", "/api/v1/import", whole); a.status != 201 {
		t.Errorf("an import after it: got %d %s, want 201", a.status, a.body)
	}
}

// Photos that are half sent hold their two places for 5 s and no longer. The owner has another.
func TestPhotosOfDevicesWaitForEachOther(t *testing.T) {
	if testing.Short() {
		t.Skip("it waits for 5 s")
	}
	t.Parallel()
	h := openHouse(t)
	h.web.Open = true // everyone is a device, but the owner
	p, _, _ := photographed(t)
	away := strings.Replace(strings.TrimPrefix(h.url, "http://"), "127.0.0.1", "192.168.7.2", 1)
	send := func(body string) net.Conn {
		conn, err := net.Dial("tcp", strings.TrimPrefix(h.url, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { conn.Close() })
		fmt.Fprintf(conn, "POST /api/v1/photos HTTP/1.1\r\nHost: %s\r\nContent-Length: %d\r\n\r\n%s", away, len(p.JPEG), body)
		conn.SetReadDeadline(time.Now().Add(30 * time.Second))
		return conn
	}
	status := func(conn net.Conn) int {
		res, err := http.ReadResponse(bufio.NewReader(conn), nil)
		if err != nil {
			t.Fatal(err)
		}
		return res.StatusCode
	}
	half := string(p.JPEG[:400])
	first, second := send(half), send(half)
	time.Sleep(200 * time.Millisecond) // or the next could come before them
	if got := status(send(string(p.JPEG))); got != 503 {
		t.Errorf("a third photo beside two half ones: got %d, want 503", got)
	}
	if a := h.call("POST", "/api/v1/photos", string(p.JPEG)); a.status != 201 {
		t.Errorf("the owner's beside them: got %d %s, want 201", a.status, a.body)
	}
	for _, conn := range []net.Conn{first, second} {
		if got := status(conn); got != 400 {
			t.Errorf("a photo that pauses: got %d, want 400", got)
		}
	}
	if got := status(send(string(p.JPEG))); got != 201 {
		t.Errorf("a photo after them: got %d, want 201", got)
	}
}
