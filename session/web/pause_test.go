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
