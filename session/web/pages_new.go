package web

import (
	"errors"
	"html/template"
	"net/http"

	"cornerwise/calc"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// A fieldView is one input of the form with what stands around it.
type fieldView struct {
	Name, Label, Value, Hint, Fault string
	Length                          bool // a length: it gets fractions to tap
}

type newView struct {
	planForm
	Borders []borderView
	Preview previewView
	First   string // the input to begin with: the first that has a fault
	More    bool   // a border can be added
}

type borderView struct {
	borderForm
	N               int
	First, Last     bool
	Only            bool
	Differs         bool // top and bottom are cut otherwise
	Print, ClothSet bool
	fault           func(string) string
}

// Field is an input of this border, for the template.
func (b borderView) Field(name, label, value, hint string, length bool) fieldView {
	in := input(b.N-1, name)
	return fieldView{Name: in, Label: label, Value: value, Hint: hint, Fault: b.fault(in), Length: length}
}

// In is the name of an input of this border.
func (b borderView) In(name string) string { return input(b.N-1, name) }

// Field is an input of the plan, for the template.
func (v newView) Field(name, label, value, hint string, length bool) fieldView {
	return fieldView{Name: name, Label: label, Value: value, Hint: hint, Fault: v.Faults[name], Length: length}
}

type previewView struct {
	Sheet  *calc.Sheet
	Pic    template.HTML
	Faults calc.Faults
	Said   map[string]string // the faults by input, as sentences
	Offers []offer
}

// preview works the form out; a plan that can't be made has faults and no sheet.
func preview(f planForm) previewView {
	plan, err := calc.ParsePlan(f.plan())
	if err != nil {
		var faults calc.Faults
		errors.As(err, &faults)
		f.blame(faults)
		return previewView{Faults: faults, Said: f.Faults}
	}
	sheet := calc.NewSheet(plan)
	q := draw.Quilt{Plan: plan, Sheet: sheet}
	return previewView{Sheet: &sheet, Pic: template.HTML(q.Defs() + q.Draw(draw.Scene{Kind: draw.PlanScene})), Offers: offers(plan)}
}

func (s *Server) showForm(w http.ResponseWriter, r *http.Request, status int, f planForm) {
	v := newView{planForm: f, Preview: preview(f), More: len(f.Borders) < calc.MaxBorders}
	fault := func(in string) string { return f.Faults[in] }
	for i, b := range f.Borders {
		has := func(names ...string) bool {
			for _, n := range names {
				if f.Faults[input(i, n)] != "" {
					return true
				}
			}
			return false
		}
		v.Borders = append(v.Borders, borderView{
			borderForm: b, N: i + 1, First: i == 0, Last: i == len(f.Borders)-1, Only: len(f.Borders) == 1, fault: fault,
			Differs: b.CutTopBottom != "" || has("cutTopBottom"),
			Print:   b.Stripe+b.Motif != "" || has("stripe", "motif"),
			ClothSet: b.ClothName+b.UsableWidth+b.Runs+b.Join+b.Even+b.Shrink != "" ||
				has("cloth.name", "cloth.usableWidth", "cloth.runs", "cloth.join", "cloth.even", "cloth.shrink"),
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

func (s *Server) newPage(w http.ResponseWriter, r *http.Request) {
	s.showForm(w, r, http.StatusOK, newForm())
}

// sentForm reads the form of a request; false when it was answered with why not.
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
	head, err := s.Store.Create(r.Context(), f.plan())
	var refusal *steps.Refusal
	switch {
	case errors.As(err, &refusal) && len(refusal.Faults) > 0:
		f.blame(refusal.Faults)
		s.showForm(w, r, http.StatusUnprocessableEntity, f)
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
	if f, ok := s.sentForm(w, r); ok {
		s.show(w, r, http.StatusOK, "preview", preview(f))
	}
}

// readValues reads the values of a posted form; false when it was answered.
func (s *Server) readValues(w http.ResponseWriter, r *http.Request) bool {
	r.Body = http.MaxBytesReader(w, r.Body, bodyLimit)
	err := r.ParseForm()
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		err = &problem{status: http.StatusRequestEntityTooLarge, Code: "too-large",
			Message: "This is too large: at most 1 MiB is taken here. Nothing was changed."}
	case err != nil:
		err = &problem{status: http.StatusBadRequest, Code: "bad-form",
			Message: "The form came broken, and nothing was changed. Go back and send it again."}
	default:
		return true
	}
	s.refuse(w, r, err)
	return false
}
