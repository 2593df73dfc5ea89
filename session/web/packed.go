package web

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// packed has replies compressed whole before the first byte goes out, and held so until they
// are read. A writer of gzip has 0.8 MB and a page may have 1 MB, where its packed form has 60
// KB: what a slow network holds must be the last. A client that takes no gzip is given it
// unpacked on the way.
func packed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p := &packing{ResponseWriter: w}
		next.ServeHTTP(p, r)
		p.send(takesGzip(r.Header.Values("Accept-Encoding")))
	})
}

// takesGzip tells whether a client says so; a weight of 0 says that it takes none (RFC 9110,
// 12.4.2).
func takesGzip(said []string) bool {
	for coding := range strings.SplitSeq(strings.Join(said, ","), ",") {
		name, weight, _ := strings.Cut(coding, ";")
		if strings.EqualFold(strings.TrimSpace(name), "gzip") {
			_, q, _ := strings.Cut(weight, "=")
			n, err := strconv.ParseFloat(strings.TrimSpace(q), 64)
			return err != nil || n > 0
		}
	}
	return false
}

// packedKinds are those worth it; the font and the pictures are small already.
var packedKinds = []string{
	"application/json", "image/svg+xml", "text/css", "text/html", "text/javascript",
}

// packedFrom is the size from which it is worth it. Most replies are written at once.
const packedFrom = 1 << 10

var packers = sync.Pool{New: func() any {
	z, err := gzip.NewWriterLevel(nil, 6)
	if err != nil {
		panic(err) // the level is ours
	}
	return z
}}

// A packing reply goes out as it is, or into memory.
type packing struct {
	http.ResponseWriter
	status int
	by     *gzip.Writer // nil: as it is
	into   bytes.Buffer
	begun  bool // its first part is written
}

// Unwrap lets http.ResponseController reach the connection.
func (p *packing) Unwrap() http.ResponseWriter { return p.ResponseWriter }

func (p *packing) WriteHeader(status int) {
	if p.status == 0 {
		p.status = status
	}
}

func (p *packing) Write(data []byte) (int, error) {
	if !p.begun {
		p.begin(len(data))
	}
	if p.by != nil {
		return p.by.Write(data)
	}
	return p.ResponseWriter.Write(data)
}

func (p *packing) begin(size int) {
	p.begun = true
	p.WriteHeader(http.StatusOK)
	kind, _, _ := strings.Cut(p.Header().Get("Content-Type"), ";")
	if size >= packedFrom && slices.Contains(packedKinds, kind) && p.status != http.StatusPartialContent {
		p.by = packers.Get().(*gzip.Writer)
		p.by.Reset(&p.into)
		return
	}
	p.ResponseWriter.WriteHeader(p.status)
}

// send sends what was held back.
func (p *packing) send(asPacked bool) {
	if p.by == nil {
		if !p.begun && p.status != 0 {
			p.ResponseWriter.WriteHeader(p.status)
		}
		return
	}
	p.by.Close() // to memory, which takes all
	p.by.Reset(nil)
	packers.Put(p.by)
	p.by = nil
	h := p.Header()
	h.Add("Vary", "Accept-Encoding")
	h.Del("Content-Length")
	if asPacked {
		h.Set("Content-Encoding", "gzip")
		h.Set("Content-Length", strconv.Itoa(p.into.Len()))
		p.ResponseWriter.WriteHeader(p.status)
		p.ResponseWriter.Write(p.into.Bytes())
		return
	}
	p.ResponseWriter.WriteHeader(p.status)
	if z, err := gzip.NewReader(&p.into); err == nil {
		io.Copy(struct{ io.Writer }{p.ResponseWriter}, z)
	}
}
