package web_test

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"sync"
	"testing"
)

// A stuckReader takes nothing of a reply until it is let go.
type stuckReader struct {
	http.ResponseWriter
	came *sync.WaitGroup
	once sync.Once
	free chan struct{}
}

func (s *stuckReader) Write(data []byte) (int, error) {
	s.once.Do(s.came.Done)
	<-s.free
	return s.ResponseWriter.Write(data)
}

// allocated is what is in use of the heap.
func allocated() uint64 {
	memory()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// What a slow network has not taken yet is held packed: a page of twelve borders has half a
// megabyte, and the writer of gzip has as much.
func TestASlowReaderHoldsLittle(t *testing.T) {
	if raceOn {
		t.Skip("the race detector holds memory of its own")
	}
	h := openHouse(t)
	handler := h.web.Handler()
	head, err := h.store.Create(t.Context(), []byte(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[`+strings.Repeat(`{"cut":"2"},`, 11)+`{"cut":"3"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/s/" + head.ID, "/s/" + head.ID + "/drawings", at(head.ID)} {
		whole := len(h.call("GET", path, "").body)
		if whole < 300<<10 {
			t.Errorf("GET %s has %d bytes; this proves nothing", path, whole)
		}
		for _, accepts := range []string{"", "gzip"} {
			const readers = 5
			var came, ended sync.WaitGroup
			free := make(chan struct{})
			before := allocated()
			for range readers {
				came.Add(1)
				ended.Go(func() {
					req := httptest.NewRequest("GET", path, nil)
					req.RemoteAddr, req.Host = "127.0.0.1:50000", "localhost"
					req.Header.Set("Accept-Encoding", accepts)
					w := &stuckReader{ResponseWriter: &httptest.ResponseRecorder{Body: nil}, came: &came, free: free}
					handler.ServeHTTP(w, req)
				})
			}
			came.Wait()
			if each := (int(allocated()) - int(before)) / readers; each > 256<<10 {
				t.Errorf("GET %s, of %d bytes, Accept-Encoding %q: each slow reader holds %d bytes, want at most 256 KiB", path, whole, accepts, each)
			}
			close(free)
			ended.Wait()
		}
	}
}

// A device that joins and takes nothing holds no copy of the state.
func TestASlowListenerHoldsLittle(t *testing.T) {
	if raceOn {
		t.Skip("the race detector holds memory of its own")
	}
	s := openStreet(t)
	s.h.web.Open = true
	head, err := s.h.store.Create(t.Context(), []byte(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[`+strings.Repeat(`{"cut":"2"},`, 11)+`{"cut":"3"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	const listeners = 32
	before := allocated()
	for n := range listeners {
		c := s.dial(fmt.Sprint("192.168.7.", 10+n/16))
		fmt.Fprintf(c, "GET %s HTTP/1.1\r\nHost: %s\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n\r\n", at(head.ID, "live"), hers)
		res, err := http.ReadResponse(c.from, nil)
		if err != nil || res.StatusCode != 101 {
			t.Fatalf("join %d: got %v, %v", n, res, err)
		}
		if _, err := c.from.ReadByte(); err != nil { // the message has begun
			t.Fatal(err)
		}
	}
	if each := (int(allocated()) - int(before)) / listeners; each > 100<<10 {
		t.Errorf("each slow listener holds %d bytes, want at most 100 KiB", each)
	}
}

// A reply is the same however it comes; a part of a file is not packed, and neither is what is
// short.
func TestRepliesArePackedForThoseWhoTakeIt(t *testing.T) {
	h := openHouse(t)
	ask := func(path string, headers ...string) (*http.Response, int) {
		req, _ := http.NewRequest("GET", h.url+path, nil)
		for i := 0; i < len(headers); i += 2 {
			req.Header.Set(headers[i], headers[i+1])
		}
		res, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		data, err := io.ReadAll(res.Body)
		if err != nil {
			t.Fatal(err)
		}
		return res, len(data)
	}
	css := "/static/plain.css"
	whole, n := ask(css, "Accept-Encoding", "identity")
	small, packed := ask(css, "Accept-Encoding", "gzip, deflate")
	if whole.Header.Get("Content-Encoding") != "" || small.Header.Get("Content-Encoding") != "gzip" || packed*2 > n || small.Header.Get("Vary") != "Accept-Encoding" {
		t.Errorf("GET %s: %d bytes, packed %d, %v", css, n, packed, small.Header)
	}
	for accepts, want := range map[string]string{"gzip;q=0": "", "deflate, GZIP ; q=0.5": "gzip", "gzip;q=0.000, *": "", "br, gzip;q=1": "gzip", "no-gzip": ""} {
		if got, _ := ask(css, "Accept-Encoding", accepts); got.Header.Get("Content-Encoding") != want {
			t.Errorf("GET %s, Accept-Encoding %q: got %q, want %q", css, accepts, got.Header.Get("Content-Encoding"), want)
		}
	}
	if part, n := ask(css, "Accept-Encoding", "gzip", "Range", "bytes=0-2000"); part.StatusCode != 206 || n != 2001 || part.Header.Get("Content-Encoding") != "" {
		t.Errorf("GET a part of %s: %d, %d bytes, %v; want the 2001 as they are", css, part.StatusCode, n, part.Header)
	}
	if kept, n := ask(css, "Accept-Encoding", "gzip", "If-None-Match", whole.Header.Get("ETag")); kept.StatusCode != 304 || n != 0 {
		t.Errorf("GET %s that is kept: %d, %d bytes, want 304 and none", css, kept.StatusCode, n)
	}
	if short, n := ask("/healthz", "Accept-Encoding", "gzip"); n != len(`{"ok":true}`) || short.Header.Get("Content-Encoding") != "" {
		t.Errorf("GET /healthz: %d bytes, %v, want them as they are", n, short.Header)
	}
}
