package web

import (
	"bytes"
	"fmt"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// faceStyle is the style sheet of drawings, as a face has it within.
var faceStyle = sync.OnceValue(func() string { return string(small("css", readFile("drawing.css"))) })

// face is the small picture of a quilt on the first page, as far as it is sewn. A browser that has
// it at this revision gets no other, and the quilt is not read for it.
func (s *Server) face(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	head, err := s.Store.Head(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "image/svg+xml")
	h.Set("Cache-Control", "private, no-cache")
	tag := s.faceTag(head.Rev)
	if r.Header.Get("If-None-Match") == tag {
		h.Set("ETag", tag)
		w.WriteHeader(http.StatusNotModified)
		return
	}
	s.seated(func(w http.ResponseWriter, r *http.Request) {
		snap, err := s.Store.Get(id)
		if err != nil {
			s.refuse(w, r, err)
			return
		}
		h.Set("ETag", s.faceTag(snap.Rev))
		q := snap.Work.Quilt()
		q.Tiles = s.tilesOf(q.Plan, inPicture)
		svg := q.Face(faceStyle(), sewnOf(snap.Work))
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader([]byte(svg)))
	})(w, r)
}

// faceTag names a face: another version of the program may draw it otherwise, and after a restore
// other ops reach the same revision.
func (s *Server) faceTag(rev int64) string {
	return fmt.Sprintf(`"%s %s %s %d"`, s.Version, assets()["plain.css"].hash, s.Store.Epoch(), rev)
}

// sewnOf is how far a top is, by the ticks that sew its edges and its miters.
func sewnOf(w *steps.Work) draw.Sewn {
	done := func(id string) bool {
		_, t := w.Tick(id)
		return t != nil && t.Done
	}
	sewn := draw.Sewn{Edges: map[string]bool{}, Corners: map[int]bool{}}
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		sewn.Edges[edge] = done("sew." + edge + ".sewn")
	}
	for n := 1; n <= 4; n++ {
		sewn.Corners[n] = done("miter." + strconv.Itoa(n) + ".sewn")
	}
	return sewn
}
