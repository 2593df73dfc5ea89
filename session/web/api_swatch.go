package web

import (
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc/photo"
	"cornerwise/session"
)

// An askedAgain is a photo, and what it was looked at with for a swatch, to be asked of it again.
type askedAgain struct {
	Photo string           `json:"photo"`
	Size  bothWays[string] `json:"size"` // of the tile
	Axis  bothWays[string] `json:"axis"` // of its mirror
	Asked struct {
		Sheet   any              `json:"sheet"`
		Corners [4][2]float64    `json:"corners"`
		Along   string           `json:"along"`
		Repeats bothWays[string] `json:"repeats"`
	} `json:"asked"`
}

// swatchAsked tells what a swatch was cut with, so that a person can go on from there.
func (s *Server) swatchAsked(w http.ResponseWriter, r *http.Request) {
	data, err := s.Store.Photo(chi.URLParam(r, "photo"))
	kept, ok := readSwatch(data)
	if err == nil && !ok {
		err = session.ErrNoPhoto
	}
	s.replyOrRefuse(w, r, http.StatusOK, kept.asked(), err)
}

func (k swatch) asked() askedAgain {
	again := askedAgain{Photo: k.Photo,
		Size: bothWays[string]{Along: inInches(k.Size.Along), Across: inInches(k.Size.Across)},
		Axis: bothWays[string]{Along: inInches(k.Axis.Along), Across: inInches(k.Axis.Across)}}
	a := &again.Asked
	a.Corners, a.Along = k.Corners, "right"
	if k.Down {
		a.Along = "down"
	}
	switch k.Sheet { // which way paper lies is told from its shape
	case photo.Letter:
		a.Sheet = "letter"
	case photo.A4:
		a.Sheet = "a4"
	default:
		a.Sheet = map[string]string{"width": inInches(k.Sheet.Width), "length": inInches(k.Sheet.Length)}
	}
	written := func(repeat float64) string {
		if repeat == 0 {
			return string(photo.Plain)
		}
		return inInches(repeat)
	}
	a.Repeats = bothWays[string]{Along: written(k.Repeat.Along), Across: written(k.Repeat.Across)}
	return again
}

func inInches(x float64) string { return strconv.FormatFloat(x, 'f', 4, 64) + " in" }
