package steps

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// MaxOp is how many bytes an op may have in JSON. The largest plan by hand has some 6,000.
const MaxOp = 64 << 10

// What an op may hold, in characters.
const (
	maxOpID  = 100
	maxText  = 1000
	maxShort = 200 // of an id, a measure, a word
	maxBy    = 100 // of a device's name
	// how many values an op for mend may hold
	maxValues = 20
)

// fieldsOf are the fields that a kind of op may have beside op and kind.
var fieldsOf = map[string][]string{
	KindPlan:    {"plan"},
	KindTick:    {"tick", "ticks", "done", "why", "number", "numbers"},
	KindMeasure: {"measure", "value", "done"},
	KindHere:    {"step"},
	KindNote:    {"step", "text"},
	KindLater:   {"tick", "why"},
	KindRedo:    {"tick", "why"},
	KindSeen:    {"step", "tick"},
	KindMend:    {"wrong", "way", "border", "edge", "edges", "corner", "values"},
	KindUndo:    {"of"},
}

// A field is one of an op.
type field struct {
	name  string
	there bool
	text  string // "" where it is no text
	limit int    // of the text, in characters
}

func (op Op) fields() []field {
	text := func(name, text string, limit int) field { return field{name, text != "", text, limit} }
	list := []field{
		text("tick", op.Tick, maxShort), text("measure", op.Measure, maxShort), text("value", op.Value, maxShort),
		text("step", op.Step, maxShort), text("text", op.Text, maxText), text("why", op.Why, maxText),
		text("number", op.Number, maxText), text("of", op.Of, maxShort), text("wrong", op.Wrong, maxShort),
		text("way", op.Way, maxShort), text("edge", op.Edge, maxShort), text("edges", string(op.Edges), maxShort),
		{name: "done", there: op.Done != nil}, {name: "plan", there: op.Plan != nil},
		{name: "border", there: op.Border != 0}, {name: "corner", there: op.Corner != 0},
	}
	for _, id := range op.Ticks {
		list = append(list, text("ticks", id, maxShort))
	}
	for id, number := range op.Numbers {
		list = append(list, text("numbers", id+" "+number, maxText))
	}
	for name, value := range op.Values {
		list = append(list, text("values", name+" "+value, maxShort))
	}
	return list
}

// Check refuses what no session could take, whatever it looks like and whenever it was. What
// is kept is kept for ever and sent to every device, so blanks count too.
func (op Op) Check() error {
	if op.ID == "" || utf8.RuneCountInString(op.ID) > maxOpID || !printable(op.ID) {
		return &Refusal{Code: BadOp, Field: "op", Message: fmt.Sprintf("The op needs an id of 1 to %d plain characters, a new one for every op.", maxOpID)}
	}
	if n := len(op.Values); n > maxValues {
		return &Refusal{Code: BadOp, Field: "values", Message: fmt.Sprintf("That is %d values; at most %d are looked at. Send those that are asked for.", n, maxValues)}
	}
	if n := max(len(op.Ticks), len(op.Numbers)); n > MaxTogether {
		return &Refusal{Code: BadOp, Field: "ticks", Message: fmt.Sprintf("That is %d ticks; at most %d are taken at once. Send them in parts.", n, MaxTogether)}
	}
	if n := len(op.Plan); n > MaxOp {
		return &Refusal{Code: BadOp, Field: "plan", Message: fmt.Sprintf("That is %d bytes; a plan has at most %d. Leave out what is no part of it.", n, MaxOp)}
	}
	for _, f := range op.fields() {
		if n := utf8.RuneCountInString(f.text); n > f.limit {
			return &Refusal{Code: BadOp, Field: f.name, Message: fmt.Sprintf("That is %d characters; at most %d are kept. Make it shorter.", n, f.limit)}
		}
		if !printable(strings.NewReplacer("\n", " ", "\t", " ", "\r", " ").Replace(f.text)) {
			return &Refusal{Code: BadOp, Field: f.name, Message: "That has a character that can't be shown. Write it in plain letters."}
		}
	}
	switch _, known := fieldsOf[op.Kind]; {
	case !known:
		return &Refusal{Code: BadOp, Field: "kind", Message: fmt.Sprintf("%.40q is no kind of op. Use tick, measure, here, note, later, redo, plan, seen, mend or undo.", op.Kind)}
	case op.Kind == KindTick && op.Done == nil:
		return &Refusal{Code: BadOp, Field: "done", Message: "A tick is done or open: send done as true or false."}
	case op.Kind == KindTick && op.Tick != "" && len(op.Ticks) > 0:
		return &Refusal{Code: BadOp, Field: "ticks", Message: "An op has one tick, or several as ticks. Send one of the two."}
	case op.Kind == KindMeasure && op.Done == nil && len(op.Ticks) > 0, op.Kind == KindMeasure && op.Done != nil && !*op.Done:
		return &Refusal{Code: BadOp, Field: "done", Message: "A measure does its tick or leaves it: send done as true, or not at all."}
	}
	return nil
}

// CheckBy refuses a name that no device was kept under, for histories that come from elsewhere.
func (e Entry) CheckBy() error {
	if n := utf8.RuneCountInString(e.By); n > maxBy || !printable(e.By) {
		return &Refusal{Code: BadOp, Field: "by", Message: fmt.Sprintf("The name of the device that did it has %d characters, or one that can't be shown; a name is at most %d plain ones.", n, maxBy)}
	}
	return nil
}

// checkKind refuses fields that this kind of op has no use for. It is asked of new ops only:
// what was taken once stays taken.
func (op Op) checkKind() error {
	for _, f := range op.fields() {
		if f.there && !slices.Contains(fieldsOf[op.Kind], f.name) {
			return &Refusal{Code: BadOp, Field: f.name, Message: fmt.Sprintf("An op of the kind %s has no %s. Leave it out.", op.Kind, f.name)}
		}
	}
	return nil
}
