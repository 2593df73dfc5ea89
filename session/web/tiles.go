package web

import (
	"encoding/base64"
	"net/http"
	"slices"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps/draw"
)

// tilesOf are the pictures of a plan's fabrics, for its drawings. at is the address of a swatch's
// picture. A border whose swatch is not here has none, and is drawn as one without a photo.
func (s *Server) tilesOf(plan calc.Plan, at func(id string, w swatch) string) []draw.Tile {
	tiles := make([]draw.Tile, len(plan.Borders))
	for i, b := range plan.Borders {
		if !b.HasSwatch() {
			continue
		}
		data, err := s.Store.Photo(b.Photo)
		if err != nil {
			continue
		}
		if w, ok := readSwatch(data); ok {
			tiles[i] = draw.Tile{Address: at(b.Photo, w), Along: w.Size.Along, Across: w.Size.Across, Axis: w.Axis.Along, Down: w.Down}
		}
	}
	return tiles
}

// quiltOf is the quilt of a session with the pictures of its fabrics, by addresses that a device of
// this one quilt may ask too.
func (s *Server) quiltOf(snap session.Snapshot) draw.Quilt {
	q := snap.Work.Quilt()
	q.Tiles = s.tilesOf(q.Plan, func(id string, _ swatch) string { return "/s/" + snap.ID + "/" + id + ".jpg" })
	return q
}

// inPicture is the address that holds a tile itself: an image on a page reads nothing else.
func inPicture(_ string, w swatch) string {
	return "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(w.Tile)
}

// quiltFabric is the picture of a fabric that the quilt's plan names.
func (s *Server) quiltFabric(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "photo")
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	if !slices.ContainsFunc(snap.Work.Plan.Borders, func(b calc.Border) bool { return b.Photo == id }) {
		s.refuse(w, r, session.ErrNoPhoto)
		return
	}
	s.photoFile(w, r)
}
