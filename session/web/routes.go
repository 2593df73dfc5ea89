package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
)

// v1 is where programs call; everything else is for people.
const v1 = "/api/v1"

// compressed are the kinds worth it; the font and the pictures are small already.
var compressed = []string{
	"application/json", "image/svg+xml", "text/css", "text/html", "text/javascript",
}

// routes is all that the server answers to.
func (s *Server) routes() http.Handler {
	r := chi.NewRouter()
	r.Use(s.sturdy, s.door, middleware.GetHead)
	r.NotFound(s.unknownPath)
	r.MethodNotAllowed(s.unknownMethod)

	// Outside the compression: a websocket needs the bare connection.
	r.Get(v1+"/sessions/{id}/live", s.live)

	r.Group(func(r chi.Router) {
		r.Use(middleware.Compress(6, compressed...))
		r.Get("/healthz", s.health)
		r.Get("/pair", s.pairPage)
		r.Post("/pair", s.pair)
		if s.Authority != nil {
			r.Get("/trust", s.trustPage)
			r.Get("/authority.crt", s.authority)
		}

		r.Post(v1+"/sessions", s.create)
		r.Get(v1+"/sessions", s.list)
		r.Get(v1+"/sessions/{id}", s.get)
		r.Delete(v1+"/sessions/{id}", s.bin)
		r.Post(v1+"/sessions/{id}/restore", s.restore)
		r.Post(v1+"/sessions/{id}/ops", s.do)
		r.Get(v1+"/sessions/{id}/history", s.history)
		r.Get(v1+"/sessions/{id}/export", s.export)
		r.Post(v1+"/import", s.importSession)
		r.With(s.ownerOnly).Post(v1+"/offers", s.offer)

		s.pages(r)
	})
	return r
}
