package web

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"cornerwise/calc"
)

// A planForm is the plan as it is being written: text, whatever it is. Its inputs
// are named by their path in the plan's JSON, and so are its faults.
type planForm struct {
	Title, Unit, Seam, Width, Length, Spare string
	Borders                                 []borderForm
	Faults                                  map[string]string // by input
	Rest                                    []calc.Fault      // of no one input
}

type borderForm struct {
	Name, Cut, CutTopBottom, Stripe, Motif string

	ClothName, UsableWidth, Runs, Join, Even, Shrink string
}

// newForm is the form as it is first met.
func newForm() planForm {
	return planForm{Unit: string(calc.Inch), Seam: "1/4", Spare: "4", Borders: []borderForm{{}}}
}

// input is the name of a border's input; i counts from 0.
func input(i int, name string) string { return fmt.Sprintf("borders[%d].%s", i, name) }

func (b *borderForm) fields() map[string]*string {
	return map[string]*string{
		"name": &b.Name, "cut": &b.Cut, "cutTopBottom": &b.CutTopBottom, "stripe": &b.Stripe, "motif": &b.Motif,
		"cloth.name": &b.ClothName, "cloth.usableWidth": &b.UsableWidth, "cloth.runs": &b.Runs,
		"cloth.join": &b.Join, "cloth.even": &b.Even, "cloth.shrink": &b.Shrink,
	}
}

// readForm takes what was sent, as it was typed.
func readForm(sent url.Values) planForm {
	f := planForm{
		Title: sent.Get("title"), Unit: sent.Get("unit"), Seam: sent.Get("seam"),
		Width: sent.Get("center.width"), Length: sent.Get("center.length"), Spare: sent.Get("spare"),
	}
	for i := 0; i < calc.MaxBorders && sent.Has(input(i, "cut")); i++ {
		var b borderForm
		for name, value := range b.fields() {
			*value = sent.Get(input(i, name))
		}
		f.Borders = append(f.Borders, b)
	}
	return f
}

// plan is the form as the plan's JSON: an input left empty is a field left out.
func (f planForm) plan() []byte {
	borders := make([]map[string]any, len(f.Borders))
	for i := range f.Borders {
		b, cloth := map[string]any{}, map[string]any{}
		for name, value := range f.Borders[i].fields() {
			if of, ok := strings.CutPrefix(name, "cloth."); ok {
				put(cloth, of, *value)
				continue
			}
			put(b, name, *value)
		}
		if len(cloth) > 0 {
			b["cloth"] = cloth
		}
		borders[i] = b
	}
	center := map[string]any{}
	put(center, "width", f.Width)
	put(center, "length", f.Length)
	plan := map[string]any{"center": center, "borders": borders}
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

func put(o map[string]any, name, value string) {
	if value = strings.TrimSpace(value); value != "" {
		o[name] = value
	}
}

// blame puts each fault to the input that it is about.
func (f *planForm) blame(faults calc.Faults) {
	f.Faults = map[string]string{}
	inputs := map[string]bool{"title": true, "unit": true, "seam": true, "spare": true, "center.width": true, "center.length": true}
	for i := range f.Borders {
		for name := range f.Borders[i].fields() {
			inputs[input(i, name)] = true
		}
	}
	for _, fault := range faults {
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

// edit adds, takes away or moves a border, or takes another cut width for one: add,
// remove-2, up-2, down-2, cut-2-5 3/8 in, cutTopBottom-2-5 3/8 in.
func (f *planForm) edit(do string) {
	deed, at, _ := strings.Cut(do, "-")
	at, value, _ := strings.Cut(at, "-")
	n, _ := strconv.Atoi(at)
	i, last := n-1, len(f.Borders)-1
	switch {
	case deed == "add" && len(f.Borders) < calc.MaxBorders:
		f.Borders = append(f.Borders, borderForm{})
	case deed == "remove" && 0 <= i && i <= last && last > 0:
		f.Borders = append(f.Borders[:i], f.Borders[i+1:]...)
	case deed == "up" && 0 < i && i <= last:
		f.Borders[i-1], f.Borders[i] = f.Borders[i], f.Borders[i-1]
	case deed == "down" && 0 <= i && i < last:
		f.Borders[i], f.Borders[i+1] = f.Borders[i+1], f.Borders[i]
	case deed == "cut" && 0 <= i && i <= last:
		f.Borders[i].Cut = value
	case deed == "cutTopBottom" && 0 <= i && i <= last:
		f.Borders[i].CutTopBottom = value
	}
}
