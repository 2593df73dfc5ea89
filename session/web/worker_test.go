package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// The worker names every style and script under the address that a page uses, is
// asked for anew each time, and answers at the top, where it rules over all pages.
func TestTheWorkerNamesWhatPagesUse(t *testing.T) {
	h := openHouse(t)
	a := h.must(200, "GET", "/worker.js", "", nil)
	if kind, kept := a.header.Get("Content-Type"), a.header.Get("Cache-Control"); kind != "text/javascript; charset=utf-8" || kept != "no-cache" {
		t.Errorf("GET /worker.js: got %q, %q; want a script that is not kept", kind, kept)
	}
	req, _ := http.NewRequest(http.MethodGet, h.url+"/worker.js", nil)
	req.Header.Set("If-None-Match", a.header.Get("ETag"))
	if res, err := http.DefaultClient.Do(req); err != nil || res.StatusCode != http.StatusNotModified {
		t.Errorf("GET /worker.js with its ETag: got %v %v, want 304", res, err)
	}
	for _, page := range []string{"/", "/new", "/s/" + h.begin()} {
		for _, m := range regexp.MustCompile(`(?:href|src)="(/static/[^"]+)"`).FindAllStringSubmatch(h.page(200, page), -1) {
			if !strings.Contains(string(a.body), `"`+m[1]+`"`) {
				t.Errorf("%s uses %s, which the worker does not name", page, m[1])
			}
		}
	}
}
