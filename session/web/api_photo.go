package web

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/calc/photo"
	"cornerwise/session"
)

// photoWithin is how long the sending of a photo may take, photoPause how long it may stand still.
const (
	photoWithin = 60 * time.Second
	photoPause  = 5 * time.Second
)

var otherPhoto = &problem{status: http.StatusServiceUnavailable, wait: 2 * time.Second, Code: "busy",
	Message: "Other photos are being looked at, and this one was not. Send it again in a moment."}

// takePhoto keeps a photo of a fabric.
func (s *Server) takePhoto(w http.ResponseWriter, r *http.Request) {
	type kept struct {
		ID     string `json:"id"`
		Width  int    `json:"width"`
		Height int    `json:"height"`
	}
	id, p, err := s.keepPhoto(w, r)
	if err != nil {
		io.CopyN(io.Discard, r.Body, drainLimit) // many clients send all before they listen
		s.refuse(w, r, err)
		return
	}
	width, height := p.Size()
	reply(w, http.StatusCreated, kept{id, width, height})
}

// keepPhoto reads a photo and keeps it, once it is known to be one: two at a time for all other
// devices together, for a photo takes memory.
func (s *Server) keepPhoto(w http.ResponseWriter, r *http.Request) (id string, p *photo.Photo, err error) {
	places := s.photos
	if visitorOf(r).owner {
		places = s.ownPhotos
	}
	select {
	case places <- struct{}{}:
	default:
		return "", nil, otherPhoto
	}
	defer func() { <-places }()
	data, err := readPhoto(w, r)
	if err != nil {
		return "", nil, err
	}
	if err := visitorOf(r).forgotten(); err != nil {
		return "", nil, err
	}
	full := s.inLane(r, func() {
		if p, err = photo.Read(r.Context(), data); err == nil {
			id, err = s.Store.KeepPhoto(r.Context(), p.JPEG())
		}
	})
	return id, p, errors.Join(full, err)
}

// readPhoto is the photo that a request brings: its whole body, or the first file of a form.
func readPhoto(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	if r.ContentLength > photo.MostBytes+formAround {
		return nil, photo.ErrTooManyBytes
	}
	end := time.Now().Add(photoWithin)
	all := &body{from: r.Body, left: photo.MostBytes + formAround, w: w, until: func() time.Time {
		if next := time.Now().Add(photoPause); next.Before(end) {
			return next
		}
		return end
	}}
	kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if kind != "multipart/form-data" {
		return io.ReadAll(all)
	}
	r.Body = io.NopCloser(all)
	form, err := r.MultipartReader()
	if err != nil {
		return nil, badForm
	}
	for {
		part, err := form.NextPart()
		if err != nil {
			return nil, badForm
		}
		if part.FileName() != "" {
			return io.ReadAll(part)
		}
	}
}

// formAround is what a form has around its file.
const formAround = 64 << 10

var badForm = &problem{status: http.StatusUnprocessableEntity, Code: "no-photo", Field: "photo",
	Message: "No photo came with this. Choose a picture, then send it again."}

// photoFile is a photo as it is kept, or the tile of a swatch. It never changes.
func (s *Server) photoFile(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "photo")
	picture, err := s.openPicture(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	defer picture.Close()
	h := w.Header()
	h.Set("Content-Type", "image/jpeg")
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	h.Set("ETag", `"`+id+`"`)
	io.Copy(w, picture)
}

// openPicture is a photo, or the tile of a swatch.
func (s *Server) openPicture(id string) (io.ReadCloser, error) {
	if len(id) <= 32 {
		return s.Store.PhotoFile(id)
	}
	data, err := s.Store.Photo(id)
	if err != nil {
		return nil, err
	}
	kept, ok := readSwatch(data)
	if !ok {
		return nil, session.ErrNoPhoto
	}
	return io.NopCloser(bytes.NewReader(kept.Tile)), nil
}

// A flatAsked is what a photo is looked at with.
type flatAsked struct {
	Sheet   json.RawMessage `json:"sheet"`
	Corners [][]float64     `json:"corners"`
	Along   string          `json:"along"`
	Unit    calc.Unit       `json:"unit"`    // of the answer; in where it is left out
	Repeats *settledRepeats `json:"repeats"` // what a person has settled; null: as found
}

// settledRepeats are lengths as people write them, or plain; "" is as found.
type settledRepeats struct {
	Along  string `json:"along"`
	Across string `json:"across"`
}

// A flatFound is what was found.
type flatFound struct {
	Corners [][2]float64           `json:"corners"`
	Found   bool                   `json:"found"`
	Doubt   string                 `json:"doubt"` // what speaks against the sheet; "" for nothing
	Along   directionFound         `json:"along"`
	Across  directionFound         `json:"across"`
	Tile    string                 `json:"tile"`   // the address of one repeat as a picture
	Swatch  string                 `json:"swatch"` // its id, for a plan
	Size    bothWays[calc.Figure]  `json:"size"`   // of the tile
	Axis    bothWays[*calc.Figure] `json:"axis"`   // of its mirror, from the tile's left and top; null: none
	Pair    pairFound              `json:"pair"`
}

// A pairFound is two repeats beside each other, to look at.
type pairFound struct {
	Picture string                `json:"picture"` // a data: address; "" where no two are in view
	Size    bothWays[calc.Figure] `json:"size"`
}

type directionFound struct {
	Kind   photo.Kind    `json:"kind"`
	Period *calc.Figure  `json:"period"` // null: none
	Others []calc.Figure `json:"others"`
	Mirror float64       `json:"mirror"`
	Seen   float64       `json:"seen"`
	Words  string        `json:"words"`
}

// flatPhoto looks at the fabric of a photo, from straight above, and keeps the swatch that it cuts.
func (s *Server) flatPhoto(w http.ResponseWriter, r *http.Request) {
	found, err := s.lookAtPhoto(r)
	s.replyOrRefuse(w, r, http.StatusOK, found, err)
}

func (s *Server) lookAtPhoto(r *http.Request) (found flatFound, err error) {
	body, err := readJSON(r, bodyLimit)
	if err != nil {
		return found, err
	}
	asked, unit, err := readFlat(body)
	if err != nil {
		return found, err
	}
	return s.lookAt(r, chi.URLParam(r, "photo"), asked, unit)
}

// lookAt is what a photo tells, looked at as asked.
func (s *Server) lookAt(r *http.Request, id string, asked flatToCut, unit calc.Unit) (found flatFound, err error) {
	if len(id) != 32 {
		return found, session.ErrNoPhoto
	}
	var f photo.Flat
	full := s.inLane(r, func() { // the photo is in memory only there
		var data []byte
		if data, err = s.Store.Photo(id); err != nil {
			return
		}
		var p *photo.Photo
		if p, err = photo.Read(r.Context(), data); err == nil {
			f, err = p.Cut(r.Context(), asked.Asked, asked.along, asked.across)
		}
	})
	if err := errors.Join(full, err); err != nil {
		return found, err
	}
	return s.keepSwatch(r.Context(), id, asked, f, unit)
}

func (s *Server) keepSwatch(ctx context.Context, id string, asked flatToCut, f photo.Flat, unit calc.Unit) (found flatFound, err error) {
	kept := swatch{Photo: id, Sheet: asked.Sheet, Down: asked.Down, Tile: f.Tile,
		Repeat: bothWays[float64]{f.Along.Period, f.Across.Period},
		Size:   bothWays[float64]{f.TileAlong, f.TileAcross}, Axis: bothWays[float64]{f.AxisAlong, f.AxisAcross}}
	settle := func(repeat *float64, settled float64, plain bool) {
		switch {
		case plain:
			*repeat = 0
		case settled > 0:
			*repeat = settled
		}
	}
	settle(&kept.Repeat.Along, asked.along, asked.plainAlong)
	settle(&kept.Repeat.Across, asked.across, asked.plainAcross)
	for i, c := range f.Corners {
		kept.Corners[i] = [2]float64{c.X, c.Y}
	}
	file, err := json.Marshal(kept)
	if err != nil {
		return found, err
	}
	show := func(inches float64) calc.Figure {
		return calc.Figure{Length: lengthOf(inches), Unit: unit, Rounding: calc.Nearest}
	}
	maybe := func(inches float64) *calc.Figure {
		if inches <= 0 {
			return nil
		}
		figure := show(inches)
		return &figure
	}
	way := func(d photo.Direction) directionFound {
		to := directionFound{Kind: d.Kind, Period: maybe(d.Period), Others: []calc.Figure{}, Mirror: d.Mirror, Seen: d.Seen, Words: d.Words}
		for _, other := range d.Others {
			to.Others = append(to.Others, show(other))
		}
		return to
	}
	found = flatFound{Corners: kept.Corners[:], Found: f.Found, Doubt: f.Doubt, Along: way(f.Along), Across: way(f.Across),
		Size: bothWays[calc.Figure]{show(f.TileAlong), show(f.TileAcross)},
		Axis: bothWays[*calc.Figure]{maybe(f.AxisAlong), maybe(f.AxisAcross)}}
	if len(f.Pair) > 0 {
		found.Pair = pairFound{"data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(f.Pair),
			bothWays[calc.Figure]{show(f.PairAlong), show(f.PairAcross)}}
	}
	if found.Swatch, err = s.Store.KeepSwatch(ctx, id, file); err != nil {
		return flatFound{}, err
	}
	found.Tile = photosPath + "/" + found.Swatch
	return found, nil
}
