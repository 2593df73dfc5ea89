package web

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strings"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// A planForm is the plan as it is being written: text, whatever it is. Its inputs
// are named by their path in the plan's JSON, and so are its faults.
type planForm struct {
	// Of is the session whose plan is changed, and OpID the op that does; "" for a new one.
	Of, OpID string

	Title, Unit, Seam, Width, Length, Spare string
	Borders                                 []borderForm
	CopingEdges, CopingCut                  string
	Apart, Mend, Diagonals, Seen            string            // limits of the plan's own
	Wanted                                  wantedForm        // not of the plan: what leads to it
	Faults                                  map[string]string // by input
	Rest                                    []calc.Fault      // of no one input
	Refused                                 string            // why it was not taken as it stands

	tiles func(calc.Plan) []draw.Tile // pictures of fabrics, for drawings; nil: none
}

type borderForm struct {
	Name, Cut, CutTopBottom, Stripe, Start, Motif, Lengths string
	Photo                                                  string // the id of a swatch

	Lines []lineForm // of one repeat of the stripe

	FabricName, UsableWidth, Runs, Join, Even, Shrink string
	Across, FirstLine                                 string // where its stripe lies
	Way, Heads                                        string // of a print with a direction

	HandWidth, HandLength string // a piece of fabric at hand; not of the plan
}

// A lineForm is one line of a stripe.
type lineForm struct{ Name, Width, Color string }

func (f *planForm) limits() map[string]*string {
	return map[string]*string{"apart": &f.Apart, "mend": &f.Mend, "diagonals": &f.Diagonals, "seen": &f.Seen}
}

// newForm is the form as it is first met. What is left empty follows the unit.
func newForm() planForm {
	return planForm{Unit: string(calc.Inch), Borders: []borderForm{{}}}
}

// input is the name of a border's input; i counts from 0.
func input(i int, name string) string { return fmt.Sprintf("borders[%d].%s", i, name) }

func (b *borderForm) fields() map[string]*string {
	return map[string]*string{
		"name": &b.Name, "cut": &b.Cut, "cutTopBottom": &b.CutTopBottom,
		"stripe": &b.Stripe, "start": &b.Start, "motif": &b.Motif, "lengths": &b.Lengths,
		"photo":       &b.Photo,
		"fabric.name": &b.FabricName, "fabric.usableWidth": &b.UsableWidth, "fabric.runs": &b.Runs,
		"fabric.across": &b.Across, "fabric.first": &b.FirstLine,
		"fabric.way": &b.Way, "fabric.heads": &b.Heads,
		"fabric.join": &b.Join, "fabric.even": &b.Even, "fabric.shrink": &b.Shrink,
	}
}

func (l *lineForm) fields() map[string]*string {
	return map[string]*string{"name": &l.Name, "width": &l.Width, "color": &l.Color}
}

// lineInput is the name of an input of a line; i and j count from 0.
func lineInput(i, j int, name string) string { return input(i, fmt.Sprintf("lines[%d].%s", j, name)) }

// readForm takes what was sent, as it was typed.
func readForm(sent url.Values) planForm {
	f := planForm{
		Of: sent.Get("of"), OpID: sent.Get("op"),
		Title: sent.Get("title"), Unit: sent.Get("unit"), Seam: sent.Get("seam"),
		Width: sent.Get("center.width"), Length: sent.Get("center.length"), Spare: sent.Get("spare"),
		CopingEdges: sent.Get("coping.edges"), CopingCut: sent.Get("coping.cut"), Wanted: readWanted(sent),
	}
	for name, value := range f.limits() {
		*value = sent.Get("limits." + name)
	}
	for i := 0; i < calc.MaxBorders && sent.Has(input(i, "cut")); i++ {
		var b borderForm
		for name, value := range b.fields() {
			*value = sent.Get(input(i, name))
		}
		b.HandWidth, b.HandLength = sent.Get(input(i, "hand.width")), sent.Get(input(i, "hand.length"))
		for j := 0; j < calc.MaxLines && sent.Has(lineInput(i, j, "width")); j++ {
			var l lineForm
			for name, value := range l.fields() {
				*value = sent.Get(lineInput(i, j, name))
			}
			b.Lines = append(b.Lines, l)
		}
		f.Borders = append(f.Borders, b)
	}
	return f
}

// plan is the form as the plan's JSON: an input left empty is a field left out.
func (f planForm) plan() []byte {
	borders := make([]map[string]any, len(f.Borders))
	for i := range f.Borders {
		b, fabric := map[string]any{}, map[string]any{}
		for name, value := range f.Borders[i].fields() {
			if of, ok := strings.CutPrefix(name, "fabric."); ok {
				put(fabric, of, *value)
				continue
			}
			put(b, name, *value)
		}
		if len(fabric) > 0 {
			b["fabric"] = fabric
		}
		if lines := f.Borders[i].lines(); len(lines) > 0 {
			b["lines"] = lines
		}
		borders[i] = b
	}
	center := map[string]any{}
	put(center, "width", f.Width)
	put(center, "length", f.Length)
	plan := map[string]any{"center": center, "borders": borders}
	if f.CopingEdges != "" {
		coping := map[string]any{}
		put(coping, "edges", f.CopingEdges)
		put(coping, "cut", f.CopingCut)
		plan["coping"] = coping
	}
	limits := map[string]any{}
	for name, value := range f.limits() {
		put(limits, name, *value)
	}
	if len(limits) > 0 {
		plan["limits"] = limits
	}
	put(plan, "title", f.Title)
	put(plan, "unit", f.Unit)
	put(plan, "seam", f.Seam)
	put(plan, "spare", f.Spare)
	data, err := json.Marshal(plan)
	if err != nil {
		panic(err) // maps of strings are always JSON
	}
	return data
}

// lines are the lines of the plan's JSON: those that have a width. A row that was
// added and not filled in yet is no line.
func (b *borderForm) lines() []map[string]any {
	var all []map[string]any
	for j := range b.Lines {
		if strings.TrimSpace(b.Lines[j].Width) == "" {
			continue
		}
		line := map[string]any{}
		for name, value := range b.Lines[j].fields() {
			put(line, name, *value)
		}
		all = append(all, line)
	}
	return all
}

func put(o map[string]any, name, value string) {
	if value = strings.TrimSpace(value); value != "" {
		o[name] = value
	}
}

// blame puts each fault to the input that it is about.
func (f *planForm) blame(faults calc.Faults) {
	f.Faults = map[string]string{}
	inputs := map[string]bool{"title": true, "unit": true, "seam": true, "spare": true,
		"center.width": true, "center.length": true, "coping.edges": true, "coping.cut": true}
	moved := map[string]string{"coping": "coping.edges"}
	for name := range f.limits() {
		inputs["limits."+name] = true
	}
	for i, b := range f.Borders {
		for name := range b.fields() {
			inputs[input(i, name)] = true
		}
		moved[input(i, "lines")] = input(i, "stripe")
		n := 0 // of the plan's lines, which leave empty rows out
		for j, l := range b.Lines {
			if strings.TrimSpace(l.Width) == "" {
				continue
			}
			for name := range l.fields() {
				inputs[lineInput(i, j, name)] = true
				moved[lineInput(i, n, name)] = lineInput(i, j, name)
			}
			n++
		}
	}
	for _, fault := range faults {
		if to := moved[fault.Field]; to != "" {
			fault.Field = to
		}
		if inputs[fault.Field] {
			f.Faults[fault.Field] = sentenceOf(fault.Message)
			continue
		}
		f.Rest = append(f.Rest, fault)
	}
}

// sentenceOf makes a fault, which goes on from its field's name, stand alone.
func sentenceOf(message string) string {
	message = strings.TrimSuffix(message, ".") + "."
	if strings.HasPrefix(message, `"`) { // it begins with what was typed
		return message
	}
	return "This " + message
}
