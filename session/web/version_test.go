package web_test

import (
	"io"
	"net/http"
	"strings"
	"testing"
)

// Pages that the menu leads to say which program this is; who is not in is not told, whatever
// is asked for.
func TestTheFootTellsTheVersionToThoseWhoAreIn(t *testing.T) {
	h := openHouse(t)
	h.web.Version = "7.2.1, 2026-11-26"
	for _, path := range []string{"/", "/devices", "/settings", "/terms"} {
		if said := words(h.call("GET", path, "").body); !strings.HasSuffix(said, "Cornerwise 7.2.1, 2026-11-26") {
			t.Errorf("%s ends with %.60q, want the version", path, said[max(0, len(said)-60):])
		}
	}
	for _, path := range []string{"/", "/pair", "/trust", "/healthz", "/api/v1/sessions", "/nothing"} {
		req, err := http.NewRequest("GET", h.url+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Host = "192.168.7.2:8370"
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		body, err := io.ReadAll(res.Body)
		res.Body.Close()
		if err != nil || strings.Contains(string(body), "7.2.1") {
			t.Errorf("%s of a stranger: got %v %.300q, want no version", path, err, body)
		}
	}
}
