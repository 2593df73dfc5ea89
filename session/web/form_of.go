package web

import (
	"encoding/json"
	"fmt"
	"strings"
)

// formOf is a plan as it was written, in the form.
func formOf(source json.RawMessage) planForm {
	f := newForm()
	var plan map[string]any
	if json.Unmarshal(source, &plan) != nil {
		return f
	}
	f.Title, f.Unit = text(plan, "title"), text(plan, "unit")
	if f.Unit == "" {
		f.Unit = newForm().Unit
	}
	f.Seam, f.Spare = text(plan, "seam"), text(plan, "spare")
	center := object(plan, "center")
	f.Width, f.Length = text(center, "width"), text(center, "length")
	coping := object(plan, "coping")
	f.CopingEdges, f.CopingCut = text(coping, "edges"), text(coping, "cut")
	limits := object(plan, "limits")
	for name, value := range f.limits() {
		*value = text(limits, name)
	}
	f.Borders = nil
	borders, _ := plan["borders"].([]any)
	for _, one := range borders {
		border, _ := one.(map[string]any)
		var b borderForm
		fabric := object(border, "fabric")
		for name, value := range b.fields() {
			if of, ok := strings.CutPrefix(name, "fabric."); ok {
				*value = text(fabric, of)
				continue
			}
			*value = text(border, name)
		}
		lines, _ := border["lines"].([]any)
		for _, one := range lines {
			line, _ := one.(map[string]any)
			var l lineForm
			for name, value := range l.fields() {
				*value = text(line, name)
			}
			b.Lines = append(b.Lines, l)
		}
		f.Borders = append(f.Borders, b)
	}
	return f
}

func object(o map[string]any, name string) map[string]any {
	is, _ := o[name].(map[string]any)
	return is
}

// text is a field as it is typed; a plan may hold numbers where a form has text.
func text(o map[string]any, name string) string {
	switch v := o[name].(type) {
	case nil:
		return ""
	case string:
		return v
	case float64:
		return fmt.Sprint(v)
	}
	return ""
}
