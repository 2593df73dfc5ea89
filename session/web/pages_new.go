package web

import (
	"crypto/rand"
	"errors"
	"html/template"
	"net/http"
	"net/url"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// A fieldView is one input of the form with what stands around it.
type fieldView struct {
	Name, Label, Value, Hint, Fault string
	Length                          bool   // a length: it gets fractions to tap
	Beside                          string // what it comes to
}

type newView struct {
	planForm
	Borders []borderView
	Preview previewView
	Beds    []calc.Mattress
	First   string // the input to begin with: the first that has a fault
	More    bool   // a border can be added
	Reads   bool   // this device may read it, and not change it
}

// What few need is folded away, until it holds a value or has a fault.

// OwnLimits tells that of the limits.
func (v newView) OwnLimits() bool {
	return v.Apart+v.Mend+v.Diagonals+v.Seen != "" ||
		v.faulty("limits.apart", "limits.mend", "limits.diagonals", "limits.seen")
}

// OwnSeam tells it of the seam allowance and the spare length.
func (v newView) OwnSeam() bool { return v.Seam+v.Spare != "" || v.faulty("seam", "spare") }

// Copes tells it of the coping strips.
func (v newView) Copes() bool {
	return v.CopingEdges+v.CopingCut != "" || v.faulty("coping.edges", "coping.cut")
}

func (v newView) faulty(inputs ...string) bool {
	for _, in := range inputs {
		if v.Fault(in) != "" {
			return true
		}
	}
	return false
}

// Fault is what is wrong with an input of the plan; "" for nothing.
func (v newView) Fault(name string) string { return v.Preview.Said[name] }

type borderView struct {
	borderForm
	N                int
	First, Last      bool
	Only             bool
	Differs          bool // top and bottom are cut otherwise
	Print, FabricSet bool
	Reads            bool
	Ready            []readyView // stripes to begin with
	MoreLines        bool        // a line can be added
	fault, beside    func(string) string
}

// A readyView is a ready-made stripe with a scrap of it.
type readyView struct {
	Name   string
	Swatch template.HTML
}

// readyViews are all of them, at a repeat that is drawn alike for each.
var readyViews = func() []readyView {
	var all []readyView
	for _, m := range calc.ReadyMades {
		repeat := calc.Of(1, 1, calc.Inch)
		all = append(all, readyView{m.Name, template.HTML(draw.Swatch(m.Lines(repeat), repeat))})
	}
	return all
}()

// Field is an input of this border, for the template.
func (b borderView) Field(name, label, value, hint string, length bool) fieldView {
	in := input(b.N-1, name)
	return fieldView{Name: in, Label: label, Value: value, Hint: hint,
		Fault: b.fault(in), Length: length, Beside: b.beside(in)}
}

// LineField is an input of one of its lines, which count from 0.
func (b borderView) LineField(j int, name, label, value string, length bool) fieldView {
	in := lineInput(b.N-1, j, name)
	return fieldView{Name: in, Label: label, Value: value, Fault: b.fault(in), Length: length}
}

// PhotoFault is what is wrong with the photo of its fabric.
func (b borderView) PhotoFault() string { return b.fault(b.In("photo")) }

// Tile is the address of one repeat of its fabric as a picture.
func (b borderView) Tile() string { return photosPath + "/" + url.PathEscape(b.Photo) }

// LineIn is the name of such an input.
func (b borderView) LineIn(j int, name string) string { return lineInput(b.N-1, j, name) }

// Fault is what is wrong with an input of this border; "" for nothing.
func (b borderView) Fault(name string) string { return b.fault(b.In(name)) }

// In is the name of an input of this border.
func (b borderView) In(name string) string { return input(b.N-1, name) }

// Field is an input of the plan, for the template.
func (v newView) Field(name, label, value, hint string, length bool) fieldView {
	return fieldView{Name: name, Label: label, Value: value, Hint: hint,
		Fault: v.Preview.Said[name], Length: length, Beside: v.Preview.Beside[name]}
}

func (s *Server) showForm(w http.ResponseWriter, r *http.Request, status int, f planForm) {
	first, err := s.previewFor(r, f)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	device := visitorOf(r).device
	v := newView{planForm: f, Preview: first, Beds: calc.Mattresses, More: len(f.Borders) < calc.MaxBorders,
		Reads: f.Of != "" && (device.Looks || device.Only != "")}
	if v.Reads {
		v.Preview.Replan = nil
	}
	if f.Faults == nil { // it was not sent yet: nothing is scolded but what leads to a plan
		v.Preview.Said = v.Preview.aside
	}
	said := v.Preview.Said
	fault := func(in string) string { return said[in] }
	beside := func(in string) string { return v.Preview.Beside[in] }
	for i, b := range f.Borders {
		has := func(names ...string) bool {
			for _, n := range names {
				if said[input(i, n)] != "" {
					return true
				}
			}
			return false
		}
		v.Borders = append(v.Borders, borderView{
			borderForm: b, N: i + 1, First: i == 0, Last: i == len(f.Borders)-1,
			Only: len(f.Borders) == 1, Reads: v.Reads, fault: fault, beside: beside,
			Ready: readyViews, MoreLines: len(b.Lines) < calc.MaxLines,
			Differs: b.CutTopBottom != "" || has("cutTopBottom"),
			Print: b.Photo+b.Stripe+b.Start+b.Motif+b.Across+b.FirstLine+b.Way+b.Heads != "" || len(b.Lines) > 0 ||
				has("photo", "stripe", "start", "motif", "fabric.across", "fabric.first", "fabric.way", "fabric.heads"),
			FabricSet: b.FabricName+b.UsableWidth+b.Lengths+b.Runs+b.Join+b.Even+b.Shrink+b.HandWidth+b.HandLength != "" ||
				has("lengths", "fabric.name", "fabric.usableWidth", "fabric.runs", "fabric.join", "fabric.even", "fabric.shrink"),
		})
	}
	if len(f.Faults) > 0 {
		for _, fault := range v.Preview.Faults {
			if f.Faults[fault.Field] != "" {
				v.First = fault.Field
				break
			}
		}
	}
	s.show(w, r, status, "new", v)
}

// previewFor is what the form comes to, reckoned in the visitor's lane.
func (s *Server) previewFor(r *http.Request, f planForm) (v previewView, err error) {
	letGo(r)
	f.tiles = func(plan calc.Plan) []draw.Tile {
		return s.tilesOf(plan, func(id string, _ swatch) string { return photosPath + "/" + id })
	}
	err = s.inLane(r, func() {
		v = preview(r.Context(), f)
		v.Replan = s.replan(f)
	})
	return v, err
}

// replan is what becomes of the work of the form's session; nil without one, or where
// the plan has faults, which are shown at their inputs.
func (s *Server) replan(f planForm) *steps.Replan {
	if f.Of == "" {
		return nil
	}
	snap, err := s.Store.Get(f.Of)
	if err != nil {
		return nil
	}
	r, err := steps.Replanned(snap.Work, f.plan())
	if err != nil {
		return nil
	}
	return &r
}

// planPage is a session's plan in the form, to be changed on the way.
func (s *Server) planPage(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	if err := s.opened(r.Context(), visitorOf(r), id); err != nil {
		s.refuse(w, r, err)
		return
	}
	snap, err := s.Store.Get(id)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	f := formOf(snap.Work.Source)
	f.Of, f.OpID = snap.ID, rand.Text()
	s.showForm(w, r, http.StatusOK, f)
}

// newPage is an empty form, or one with the fabric that the page of a photo leads on with.
func (s *Server) newPage(w http.ResponseWriter, r *http.Request) {
	f, asked := newForm(), r.URL.Query()
	first := &f.Borders[0]
	first.Photo, first.Stripe, first.Motif = asked.Get("photo"), asked.Get("stripe"), asked.Get("motif")
	s.showForm(w, r, http.StatusOK, f)
}

// sentForm reads the form of a request; false when it was refused.
func (s *Server) sentForm(w http.ResponseWriter, r *http.Request) (planForm, bool) {
	if !s.readValues(w, r) {
		return planForm{}, false
	}
	return readForm(r.PostForm), true
}

func (s *Server) makePlan(w http.ResponseWriter, r *http.Request) {
	f, ok := s.sentForm(w, r)
	if !ok {
		return
	}
	letGo(r)
	var head session.Head
	var err error
	if f.Of != "" {
		head.ID = f.Of
		_, err = s.takeFor(r.Context(), visitorOf(r), f.Of, steps.Op{ID: f.OpID, Kind: steps.KindPlan, Plan: f.plan()})
	} else {
		head, err = s.createFor(r, f.plan())
	}
	var refusal *steps.Refusal
	var spent *session.Spent
	switch {
	case errors.As(err, &refusal) && len(refusal.Faults) > 0:
		f.blame(refusal.Faults)
		s.showForm(w, r, http.StatusUnprocessableEntity, f)
	case errors.As(err, &spent): // the form goes on, with all that was typed
		p := askAtComputer(spent)
		s.record(r, p, err)
		f.Refused = p.Message
		s.showForm(w, r, p.status, f)
	case err != nil:
		s.refuse(w, r, err)
	default:
		http.Redirect(w, r, "/s/"+head.ID, http.StatusSeeOther)
	}
}

func (s *Server) editPlan(w http.ResponseWriter, r *http.Request) {
	if f, ok := s.sentForm(w, r); ok {
		f.edit(r.PostForm.Get("do"))
		s.showForm(w, r, http.StatusOK, f)
	}
}

func (s *Server) previewPlan(w http.ResponseWriter, r *http.Request) {
	f, ok := s.sentForm(w, r)
	if !ok {
		return
	}
	v, err := s.previewFor(r, f)
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	s.show(w, r, http.StatusOK, "preview", v)
}

// letGo is called once a form is read: its values may be many, and the lane may be waited for.
func letGo(r *http.Request) { r.Form, r.PostForm = nil, nil }

// readValues reads the values of a posted form; false when it was refused. A form may take
// long: who was forgotten meanwhile is refused too.
func (s *Server) readValues(w http.ResponseWriter, r *http.Request) bool {
	r.Body = http.MaxBytesReader(w, r.Body, bodyLimit)
	err := r.ParseForm()
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		err = tooLarge(bodyLimit)
	case err != nil:
		err = &problem{status: http.StatusBadRequest, Code: "bad-form",
			Message: "The form came broken, and nothing was changed. Go back and send it again."}
	default:
		err = visitorOf(r).forgotten()
	}
	if err != nil {
		s.refuse(w, r, err)
	}
	return err == nil
}
