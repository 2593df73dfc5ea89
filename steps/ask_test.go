package steps_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

// refusedOn tells whether an error is a Refusal about a field, with a message.
func refusedOn(err error, field, says string) bool {
	r, ok := err.(*steps.Refusal)
	return ok && r.Field == field && strings.Contains(r.Message, says)
}

func TestWhatAnOpHoldsIsLimited(t *testing.T) {
	values := func(n int) map[string]string {
		all := map[string]string{}
		for i := range n {
			all[fmt.Sprint("ask-", i)] = "1"
		}
		return all
	}
	long := func(n int) string { return strings.Repeat("é", n) }
	for name, c := range map[string]struct {
		op    steps.Op
		field string // "": it is taken
		says  string
	}{
		"an id of 100":         {steps.Op{ID: long(100), Kind: steps.KindSeen}, "", ""},
		"an id of 101":         {steps.Op{ID: long(101), Kind: steps.KindSeen}, "op", "1 to 100 plain characters"},
		"no id":                {steps.Op{Kind: steps.KindSeen}, "op", ""},
		"an id with a line":    {steps.Op{ID: "a\nb", Kind: steps.KindSeen}, "op", ""},
		"an id with a delete":  {steps.Op{ID: "a\x7fb", Kind: steps.KindSeen}, "op", ""},
		"an id that is broken": {steps.Op{ID: "a\xff", Kind: steps.KindSeen}, "op", ""},
		"an id with a blank":   {steps.Op{ID: "a b", Kind: steps.KindSeen}, "", ""},
		"20 values":            {steps.Op{ID: "1", Kind: steps.KindSeen, Values: values(20)}, "", ""},
		"21 values":            {steps.Op{ID: "1", Kind: steps.KindSeen, Values: values(21)}, "values", "That is 21 values; at most 20"},
		"a note of 1000":       {steps.Op{ID: "1", Kind: steps.KindNote, Text: long(1000)}, "", ""},
		"a note of 1001":       {steps.Op{ID: "1", Kind: steps.KindNote, Text: long(1001)}, "text", "That is 1001 characters; at most 1000"},
		"a note of lines":      {steps.Op{ID: "1", Kind: steps.KindNote, Text: "a\r\n\tb"}, "", ""},
		"a reason too long":    {steps.Op{ID: "1", Kind: steps.KindRedo, Why: long(1001)}, "why", ""},
		"a number too long":    {steps.Op{ID: "1", Kind: steps.KindSeen, Number: long(1001)}, "number", ""},
		"a number with a bell": {steps.Op{ID: "1", Kind: steps.KindSeen, Number: "\a"}, "number", "can't be shown"},
		"a measure of blanks":  {steps.Op{ID: "1", Kind: steps.KindMeasure, Value: strings.Repeat(" ", 201)}, "value", "That is 201 characters; at most 200"},
		"a tick too long":      {steps.Op{ID: "1", Kind: steps.KindRedo, Tick: long(201)}, "tick", ""},
		"a value too long":     {steps.Op{ID: "1", Kind: steps.KindMend, Values: map[string]string{"top": long(200)}}, "values", ""},
		"a long name of one":   {steps.Op{ID: "1", Kind: steps.KindMend, Values: map[string]string{long(200): ""}}, "values", ""},
		"a plan of 64 KiB":     {steps.Op{ID: "1", Kind: steps.KindPlan, Plan: make([]byte, steps.MaxOp)}, "", ""},
		"a larger plan":        {steps.Op{ID: "1", Kind: steps.KindPlan, Plan: make([]byte, steps.MaxOp+1)}, "plan", "at most 65536"},
		"a tick without done":  {steps.Op{ID: "1", Kind: steps.KindTick}, "done", ""},
		"no kind of op":        {steps.Op{ID: "1", Kind: "dance"}, "kind", `"dance" is no kind of op`},
	} {
		if err := c.op.Check(); c.field == "" && err != nil || c.field != "" && !refusedOn(err, c.field, c.says) {
			t.Errorf("%s: Check gives %v, want it about %q with %q", name, err, c.field, c.says)
		}
	}
}

// What an op's kind has no use for would be kept for ever and sent to every device.
func TestAnOpHasNoFieldsOfAnotherKind(t *testing.T) {
	done := true
	full := steps.Op{Tick: "x", Measure: "x", Value: "x", Step: "x", Text: "x", Why: "x", Number: "x", Of: "x", Wrong: "x", Way: "x",
		Edge: "x", Edges: "x", Border: 1, Corner: 1, Done: &done, Plan: json.RawMessage("{}"), Values: map[string]string{"x": "x"}}
	w := begin(t, plans["one border"])
	for _, kind := range []string{steps.KindPlan, steps.KindTick, steps.KindMeasure, steps.KindHere, steps.KindNote, steps.KindRedo,
		steps.KindSeen, steps.KindMend, steps.KindUndo} {
		own := map[string]bool{}
		for op := full; ; {
			op.ID, op.Kind = "1", kind
			_, _, err := try(w, op)
			r, ok := err.(*steps.Refusal)
			if !ok || r.Code != steps.BadOp || !strings.HasSuffix(r.Message, "Leave it out.") {
				break // what is left belongs to it
			}
			own[r.Field] = true
			clear := reflect.ValueOf(&op).Elem()
			for i := range clear.NumField() {
				if name, _, _ := strings.Cut(clear.Type().Field(i).Tag.Get("json"), ","); name == r.Field {
					clear.Field(i).SetZero()
				}
			}
		}
		if n := len(own); n < 10 {
			t.Errorf("%s: only %d fields are refused, %v", kind, n, own)
		}
		if kind == steps.KindNote && (own["text"] || own["step"]) {
			t.Errorf("note: its own fields are refused: %v", own)
		}
	}
}

// A refusal names the first three of what is missing, and how many more.
func TestARefusalNamesWhatIsMissing(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "center.pressed")
	_, _, err := try(w, tickOp("center.trimmed", true))
	if !refusedOn(err, "tick", "Not yet: first measure near the top (Three widths); measure across the middle (Three widths); "+
		"measure near the bottom (Three widths); and 9 more.") {
		t.Errorf("trimming at once: got %v", err)
	}
	_, _, err = try(w, tickOp("width.top", true))
	if err != nil {
		t.Errorf("measuring: got %v, want it taken", err)
	}
	_, _, err = try(walk(t, w, "width.middle"), tickOp("center.pressed", false))
	if !refusedOn(err, "tick", "Work that needs this is done: steady the edges (The center); measure near the top (Three widths); measure across the middle (Three widths). If") {
		t.Errorf("opening the press: got %v", err)
	}
	w = walk(t, begin(t, plans["one border"]), "")
	_, _, err = try(w, steps.Op{Kind: steps.KindMeasure, Measure: "first-pair", Value: "topBottom"})
	r, ok := err.(*steps.Refusal)
	if !ok || len(r.Missing) != 4 || !strings.Contains(r.Message, "; and 1 more. The pair that comes first") {
		t.Errorf("the other pair first, at the end: got %v, want four pinned edges, one not named", err)
	}
}

// What is told of a trouble must be there: the last border and corner are, the next are not.
func TestAnAnswerIsOfWhatIsThere(t *testing.T) {
	w := begin(t, plans["two borders"])
	for name, c := range map[string]struct {
		about steps.About
		field string
	}{
		"the first border": {steps.About{Border: 1}, ""}, "the last border": {steps.About{Border: 2}, ""},
		"no border": {steps.About{}, ""}, "a border too far": {steps.About{Border: 3}, "border"}, "a border below": {steps.About{Border: -1}, "border"},
		"corner 1": {steps.About{Corner: 1}, ""}, "corner 4": {steps.About{Corner: 4}, ""},
		"corner 5": {steps.About{Corner: 5}, "corner"}, "a corner below": {steps.About{Corner: -1}, "corner"},
		"an edge": {steps.About{Edge: "bottom"}, ""}, "no edge": {steps.About{Edge: "Bottom"}, "edge"},
		"the sides": {steps.About{Edges: calc.Sides}, ""}, "top and bottom": {steps.About{Edges: calc.TopBottom}, ""},
		"no pair": {steps.About{Edges: "left"}, "edges"},
	} {
		_, err := steps.Answer(w, "pleat", steps.Asked{About: c.about})
		if c.field == "" && err != nil || c.field != "" && !refusedOn(err, c.field, "") {
			t.Errorf("%s: got %v, want it refused on %q", name, err, c.field)
		}
	}
}

func TestAMeasureIsALengthThatFabricCanHave(t *testing.T) {
	w := begin(t, plans["in centimeters"])
	for value, says := range map[string]string{
		"": "", " 12 ": "", "2540": "", "2540,1": "The measure is over 2540 cm, more than any top has.",
		"0": "The measure is 0. Leave it empty", "wide": `The measure "wide" is not a length`,
	} {
		next, _, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: "edge-left", Value: value})
		if says != "" && !refusedOn(err, "value", says) || says == "" && err != nil {
			t.Errorf("%q: got %v, want %q", value, err, says)
		}
		if says == "" && valued(t, next, "edge-left").Value != strings.TrimSpace(value) {
			t.Errorf("%q is kept as %q", value, valued(t, next, "edge-left").Value)
		}
	}
	_, _, err := try(w, steps.Op{Kind: steps.KindMeasure, Measure: "look-1", Value: "fine"})
	if !refusedOn(err, "value", `"fine" is not one of the choices here: flat, pucker, gap.`) {
		t.Errorf("a look that is none: got %v", err)
	}
}

// The words of the last thing done, for each kind of op.
func TestTheLastThingDoneInWords(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "miter.1.lined")
	for words, op := range map[string]steps.Op{
		"Line pinned, corner 1":                    tickOp("miter.1.pinned", true),
		"Open again: draw the line, corner 1":      tickOp("miter.1.lined", false),
		"To do again: fold the corner, corner 1":   redoOp("miter.1.folded"),
		"Noted: three widths":                      {Kind: steps.KindNote, Step: "widths", Text: " wavy "},
		"Left edge, seam, mark to mark: 48":        {Kind: steps.KindMeasure, Measure: "edge-left", Value: "48"},
		"Corner 1, top left, what you see: Pucker": {Kind: steps.KindMeasure, Measure: "look-1", Value: "pucker"},
		"Plan changed":                             {Kind: steps.KindPlan, Plan: json.RawMessage(strings.Replace(plans["one border"], `"ticking"`, `"reeds"`, 1))},
	} {
		if got := do(t, w, op).Last.Text; got != words {
			t.Errorf("%s: the last thing done is %q, want %q", op.Kind, got, words)
		}
	}
	noted := do(t, w, steps.Op{Kind: steps.KindNote, Step: "widths", Text: "wavy"})
	if got := do(t, noted, steps.Op{Kind: steps.KindNote, Step: "widths"}).Last.Text; got != "Note taken away: three widths" {
		t.Errorf("no note any more: the last thing done is %q", got)
	}
	if again := do(t, noted, steps.Op{Kind: steps.KindNote, Step: "widths", Text: "wavy "}); again != noted {
		t.Error("the same note again: want the same work")
	}
	measured := entered(t, w, "edge-left", "48")
	if got := entered(t, measured, "edge-left", "").Last.Text; got != "Left edge, seam, mark to mark: taken away" {
		t.Errorf("no measure any more: the last thing done is %q", got)
	}
	if at := do(t, w, steps.Op{Kind: steps.KindHere, Step: "widths"}); at.Here != "widths" || at.Last != w.Last {
		t.Errorf("gone to another step: work is at %s, and undo would take back %+v", at.Here, at.Last)
	}
	if tick := tickOf(t, w, "miter.1.lined"); tick.Lower() != "draw the line" {
		t.Errorf("within a sentence it is %q", tick.Lower())
	}
}

// How many ticks another plan opens is told: one in the singular.
func TestAPlanTellsHowManyTicksItOpens(t *testing.T) {
	start := begin(t, string(onePlan("48 1/2", "5 1/2", "1/4")))
	change := steps.Op{Kind: steps.KindPlan, Plan: onePlan("48 1/2", "5 1/2", "3/8")}
	for last, want := range map[string]string{
		"size.settled": "Plan changed", "mark.dot.1": "Plan changed: ", "mark.dot.2": "Plan changed: ",
	} {
		r, err := steps.Replanned(walk(t, start, last), change.Plan)
		if err != nil {
			t.Fatal(err)
		}
		switch n := len(r.Opened); {
		case n == 1:
			want += "1 tick is open again"
		case n > 1:
			want += fmt.Sprintf("%d ticks are open again", n)
		}
		if got := do(t, walk(t, start, last), change).Last.Text; got != want {
			t.Errorf("done to %s: the last thing done is %q, want %q", last, got, want)
		}
	}
}
