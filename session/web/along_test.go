package web_test

import (
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"strings"
	"testing"
)

// take sends a file by the form of the page.
func (h *house) take(field, name string, file io.Reader) response {
	h.t.Helper()
	out, in := io.Pipe()
	form := multipart.NewWriter(in)
	go func() {
		part, err := form.CreateFormFile(field, name)
		if err == nil {
			_, err = io.Copy(part, file)
		}
		if err == nil {
			err = form.Close()
		}
		in.CloseWithError(err)
	}()
	res, err := http.Post(h.url+"/along", form.FormDataContentType(), out)
	if err != nil {
		h.t.Fatalf("POST /along: %v", err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatalf("POST /along: %v", err)
	}
	return response{res.StatusCode, res.Header, data}
}

// A file with all quilts goes from one computer to another, and back, by the page.
func TestAllQuiltsGoAlongByThePage(t *testing.T) {
	from, to := openHouse(t), openHouse(t)
	wants(t, "at first", words(from.call("GET", "/along", "").body), "No quilt is here yet.")
	id := from.begin()
	from.must(200, "POST", at(id, "ops"), tickOp("1", from.state(id).ready(), true), nil)
	from.begin()
	binned := from.begin()
	from.must(200, "DELETE", at(binned), "", nil)
	wants(t, "the page", words(from.call("GET", "/along", "").body), "All 2 quilts in one file, each with its plan", "What is in the bin stays here.", "each is let in once more")

	file := from.call("GET", "/along/quilts", "")
	if d := file.header.Get("Content-Disposition"); file.status != 200 || !strings.HasPrefix(d, `attachment; filename="cornerwise-20`) || !strings.HasSuffix(d, `.quilts"`) {
		t.Fatalf("the file: %d, %q", file.status, d)
	}
	took := to.take("file", "x.quilts", bytes.NewReader(file.body))
	if took.status != 200 {
		t.Fatalf("taken in: %d %s", took.status, took.body)
	}
	wants(t, "taken in", words(took.body), "2 quilts added", "Harbour lanterns , 1 of ")
	took = to.take("file", "x.quilts", bytes.NewReader(file.body))
	wants(t, "taken in twice", words(took.body), "Nothing was new", "2 quilts here already, as far or further on: Harbour lanterns, Harbour lanterns.")

	var list struct{ Sessions []struct{ ID string } }
	to.must(200, "GET", "/api/v1/sessions", "", &list)
	for _, one := range list.Sessions {
		to.must(200, "POST", at(one.ID, "ops"), tickOp("2", to.state(one.ID).ready(), true), nil)
	}
	back := from.take("file", "y.quilts", bytes.NewReader(to.call("GET", "/along/quilts", "").body))
	wants(t, "back again", words(back.body), "2 quilts added", "2 quilts went on elsewhere since", "is in the bin")

	for range 22 {
		from.begin()
	}
	many := openHouse(t)
	file24 := from.call("GET", "/along/quilts", "").body
	took = many.take("file", "x.quilts", bytes.NewReader(file24))
	wants(t, "many", words(took.body), "24 quilts added", "and 4 more")
	took = many.take("file", "x.quilts", bytes.NewReader(file24))
	wants(t, "many again", words(took.body), "24 quilts here already", "Harbour lanterns and 4 more.")

	damaged := strings.Replace(string(file.body), `"kind":"plan"`, `"kind":"tick"`, 1)
	took = openHouse(t).take("file", "x.quilts", strings.NewReader(damaged[:len(damaged)-14]))
	wants(t, "a damaged one", words(took.body), "1 quilt added", "1 quilt could not be read: Harbour lanterns : The history must begin with the plan", "The file is cut short")
}

// What is no such file is refused with a sentence that the browser gets to show, however large.
func TestAFileThatHoldsNoQuiltsIsRefused(t *testing.T) {
	h := openHouse(t)
	for name, c := range map[string]struct {
		field, file string
		body        io.Reader
		status      int
		says        string
	}{
		"none chosen":  {"file", "", strings.NewReader(""), 422, "No file was chosen"},
		"another form": {"quilt", "x", strings.NewReader("x"), 422, "No file was chosen"},
		"empty":        {"file", "x", strings.NewReader(""), 422, "This is no file of quilts"},
		"a film":       {"file", "x", io.LimitReader(zeros{}, 300<<20), 422, "This is no file of quilts"},
		"a newer one":  {"file", "x", strings.NewReader(`{"cornerwise-quilts":7}`), 422, "newer Cornerwise"},
	} {
		a := h.take(c.field, c.file, c.body)
		if said := words(a.body); a.status != c.status || !strings.Contains(said, c.says) {
			t.Errorf("%s: got %d %q, want %d and %q", name, a.status, said, c.status, c.says)
		}
	}
	for _, kind := range []string{"application/x-www-form-urlencoded", "multipart/form-data", "multipart/form-data; boundary=x"} {
		res, err := http.Post(h.url+"/along", kind, strings.NewReader("file=x"))
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		if res.StatusCode != http.StatusBadRequest {
			t.Errorf("%s: got %d, want 400", kind, res.StatusCode)
		}
	}
	var list struct{ Sessions []struct{ ID string } }
	if h.must(200, "GET", "/api/v1/sessions", "", &list); len(list.Sessions) != 0 {
		t.Errorf("after it there are %d quilts, want none", len(list.Sessions))
	}
}

type zeros struct{}

func (zeros) Read(data []byte) (int, error) { clear(data); return len(data), nil }

// A file that breaks off on the way keeps what had come, whole quilts, and one at a time is read.
func TestAFileOfQuiltsBreaksOff(t *testing.T) {
	from, to := openHouse(t), openHouse(t)
	from.begin()
	from.begin()
	file := from.call("GET", "/along/quilts", "").body
	lines := bytes.SplitAfter(file, []byte("\n"))
	conn, err := net.Dial("tcp", strings.TrimPrefix(to.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprintf(conn, "POST /along HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: multipart/form-data; boundary=x\r\nContent-Length: %d\r\n\r\n"+
		"--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"x\"\r\n\r\n%s%s%s", len(file)+1000, lines[0], lines[1], lines[2][:100])
	count := func() int {
		var list struct{ Sessions []struct{ ID string } }
		to.must(200, "GET", "/api/v1/sessions", "", &list)
		return len(list.Sessions)
	}
	for count() == 0 { // until the first is kept
	}
	if a := to.take("file", "x", bytes.NewReader(file)); a.status != 503 || !strings.Contains(words(a.body), "Another session is being imported") {
		t.Errorf("another one meanwhile: %d %s", a.status, a.body)
	}
	conn.Close()
	for {
		a := to.take("file", "x", bytes.NewReader(file))
		if a.status == 503 { // the first one is not given up yet
			continue
		}
		wants(t, "taken in again", words(a.body), "1 quilt added", "1 quilt here already")
		break
	}
	if n := count(); n != 2 {
		t.Errorf("after it there are %d quilts, want 2", n)
	}
}
