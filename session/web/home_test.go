package web_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"net/http"
	"strings"
	"testing"
)

// The first page tells of each quilt what was done last, when, and what comes next, and reads no
// quilt for it.
func TestTheFirstPageTellsTheLastActAndTheNext(t *testing.T) {
	h := openHouse(t)
	first, second := h.begin(), h.begin()
	for _, id := range []string{first, second} {
		h.must(200, "POST", at(id, "ops"), tickOp("1", h.state(id).ready(), true), nil)
	}
	const told = "Last: today "
	said := words(h.call("GET", "/", "").body)
	if n := strings.Count(said, told); n != 2 {
		t.Errorf("the first page tells %d last acts, want 2: %s", n, said)
	}
	if n := strings.Count(said, ", Center pressed Next: Steady the edges"); n != 2 {
		t.Errorf("the first page tells the last act and the next %d times, want 2: %s", n, said)
	}
	h.must(200, "POST", at(first, "ops"), `{"op": "2", "kind": "undo", "of": "1"}`, nil)
	if said := words(h.call("GET", "/", "").body); strings.Count(said, told) != 1 || !strings.Contains(said, "Next: Press the center") {
		t.Errorf("after an undo the first page says %s, want no last act of that quilt", said)
	}
}

// The picture of a quilt is a whole image, and another once an edge is sewn. A browser that has it
// gets no other.
func TestTheFirstPageHasAPictureOfEachQuilt(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	face := func() response {
		t.Helper()
		page := string(h.call("GET", "/", "").body)
		_, address, found := strings.Cut(page, `<img class="face" src="`)
		address, _, _ = strings.Cut(address, `"`)
		if !found || !strings.HasPrefix(address, "/s/"+id+"/face.svg?") {
			t.Fatalf("the first page has the picture %q, want one of the quilt", address)
		}
		return h.call("GET", address, "")
	}
	unsewn := face()
	if got := unsewn.header.Get("Content-Type"); got != "image/svg+xml" {
		t.Errorf("it is %q, want an image", got)
	}
	for d := xml.NewDecoder(bytes.NewReader(unsewn.body)); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("it is not whole: %v", err)
		}
	}
	if n := bytes.Count(unsewn.body, []byte("<g opacity")); n != 4 {
		t.Errorf("%d edges are pale at the beginning, want 4", n)
	}
	req, err := http.NewRequest("GET", h.url+"/s/"+id+"/face.svg", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("If-None-Match", unsewn.header.Get("ETag"))
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if res.StatusCode != http.StatusNotModified {
		t.Errorf("asked for again: got %d, want 304", res.StatusCode)
	}
	h.upTo(id, "sew.left.checked")
	if n := bytes.Count(face().body, []byte("<g opacity")); n != 3 {
		t.Errorf("%d edges are pale with one sewn, want 3", n)
	}
}

// A device puts the first page on its home screen by the manifest; all that it names is there.
func TestTheManifestNamesWhatIsThere(t *testing.T) {
	h := openHouse(t)
	var m struct {
		StartURL string `json:"start_url"`
		Icons    []struct{ Src, Sizes, Type string }
	}
	_, address, _ := strings.Cut(string(h.call("GET", "/", "").body), `rel="manifest" href="`)
	address, _, _ = strings.Cut(address, `"`)
	got := h.call("GET", address, "")
	if err := json.Unmarshal(got.body, &m); err != nil || m.StartURL != "/" || len(m.Icons) < 3 {
		t.Fatalf("the manifest is %s (%v), want a first page and its icons", got.body, err)
	}
	for _, icon := range m.Icons {
		got := h.call("GET", icon.Src, "")
		if kind := got.header.Get("Content-Type"); got.status != 200 || kind != icon.Type {
			t.Errorf("%s: got %d %s, want %s", icon.Src, got.status, kind, icon.Type)
		}
		if icon.Type != "image/png" {
			continue
		}
		c, err := png.DecodeConfig(bytes.NewReader(got.body))
		if size := fmt.Sprintf("%dx%d", c.Width, c.Height); err != nil || size != icon.Sizes {
			t.Errorf("%s is %s (%v), want %s", icon.Src, size, err, icon.Sizes)
		}
	}
}
