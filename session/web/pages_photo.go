package web

import (
	"encoding/json"
	"fmt"
	"image"
	_ "image/jpeg" // photos are kept as that
	"math"
	"net/http"
	"net/url"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/session"
)

// A photoView is the page by which a browser without script sends a photo of a fabric, touches the
// sheet's corners on it, and has it looked at. With script the plan's form does all that.
type photoView struct {
	ID     string // of the photo; "" before it is sent
	Shown  int    // pixels across, as the page shows it
	Kept   string // the corners touched so far, as the page sends them again
	Corner string // that is touched next; "" after all four
	Found  *flatFound
	Plan   string // the address of a new plan on it
	Fault  string
}

// shownWide is how many pixels across a photo is shown: a touch is told in those.
const shownWide = 760

var sheetCorners = []string{"1, top left", "2, top right", "3, bottom right", "4, bottom left"}

func (s *Server) photoPage(w http.ResponseWriter, r *http.Request) {
	s.show(w, r, http.StatusOK, "photopage", photoView{})
}

// sendPhoto keeps the photo of the page's form, and leads on to its corners.
func (s *Server) sendPhoto(w http.ResponseWriter, r *http.Request) {
	id, _, err := s.keepPhoto(w, r)
	if err != nil {
		p := explainTo(visitorOf(r), err)
		s.show(w, r, p.status, "photopage", photoView{Fault: p.Message})
		return
	}
	http.Redirect(w, r, "/photo/"+id, http.StatusSeeOther)
}

// touchPage shows a photo and takes a touch on it, which a browser tells as at.x and at.y.
func (s *Server) touchPage(w http.ResponseWriter, r *http.Request) {
	v := photoView{ID: chi.URLParam(r, "photo"), Shown: shownWide}
	scale, err := s.photoScale(v.ID)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	asked := r.URL.Query()
	touched := strings.Fields(asked.Get("corners"))
	var x, y float64
	if n, _ := fmt.Sscan(asked.Get("at.x")+" "+asked.Get("at.y"), &x, &y); n == 2 && len(touched) < 4 {
		touched = append(touched, fmt.Sprintf("%.1f,%.1f", x*scale, y*scale))
	}
	touched = touched[:min(len(touched), 4)]
	v.Kept = strings.Join(touched, " ")
	if len(touched) < 4 {
		v.Corner = sheetCorners[len(touched)]
	}
	s.show(w, r, http.StatusOK, "photopage", v)
}

// photoScale is how many pixels of a photo one of the page is.
func (s *Server) photoScale(id string) (float64, error) {
	if len(id) != 32 {
		return 0, session.ErrNoPhoto
	}
	file, err := s.Store.PhotoFile(id)
	if err != nil {
		return 0, err
	}
	defer file.Close()
	size, _, err := image.DecodeConfig(file)
	if err != nil {
		return 0, session.ErrNoPhoto
	}
	return float64(size.Width) / shownWide, nil
}

// cutPhoto looks at the fabric, and leads on to a plan.
func (s *Server) cutPhoto(w http.ResponseWriter, r *http.Request) {
	if !s.readValues(w, r) {
		return
	}
	v := photoView{ID: chi.URLParam(r, "photo"), Shown: shownWide, Kept: r.PostForm.Get("corners")}
	asked := flatAsked{Along: r.PostForm.Get("along"),
		Repeats: &settledRepeats{r.PostForm.Get("repeat.along"), r.PostForm.Get("repeat.across")}}
	asked.Sheet, _ = json.Marshal(r.PostForm.Get("sheet"))
	for _, corner := range strings.Fields(v.Kept) {
		var x, y float64
		if n, _ := fmt.Sscanf(corner, "%f,%f", &x, &y); n == 2 && math.Abs(x)+math.Abs(y) < 1e6 {
			asked.Corners = append(asked.Corners, []float64{x, y})
		}
	}
	body, err := json.Marshal(asked)
	if err == nil {
		var to flatToCut
		if to, _, err = readFlat(body); err == nil {
			var found flatFound
			if found, err = s.lookAt(r, v.ID, to, "in"); err == nil {
				v.Found, v.Plan = &found, planOn(found, asked.Repeats)
			}
		}
	}
	status := http.StatusOK
	if err != nil {
		p := explainTo(visitorOf(r), err)
		status, v.Fault = p.status, p.Message
	}
	s.show(w, r, status, "photopage", v)
}

// mirrors is how well a print lies on itself turned over to be matched at the corners.
const mirrors = 0.8

// planOn is the address of a new plan whose border has the fabric, with the repeats as they were
// settled, or found.
func planOn(found flatFound, settled *settledRepeats) string {
	to := url.Values{"photo": {found.Swatch}}
	for _, one := range []struct {
		name, settled string
		is            directionFound
		taken         bool
	}{{"stripe", settled.Across, found.Across, true}, {"motif", settled.Along, found.Along, found.Along.Mirror >= mirrors}} {
		switch {
		case !one.taken || one.settled == "plain":
		case one.settled != "":
			to.Set(one.name, one.settled)
		case one.is.Period != nil:
			to.Set(one.name, one.is.Period.Value()+" in")
		}
	}
	return "/new?" + to.Encode()
}
