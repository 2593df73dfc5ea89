package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"cornerwise/calc"
)

func sent(pairs ...string) url.Values {
	v := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		v.Set(pairs[i], pairs[i+1])
	}
	return v
}

func TestAFormBecomesThePlanThatItShows(t *testing.T) {
	f := readForm(sent("title", " Reed bank ", "unit", "cm", "center.width", "92,7", "center.length", "1,2 m",
		"borders[0].name", "dark line", "borders[0].cut", "4", "borders[0].fabric.runs", "crosswise",
		"borders[1].cut", "14", "borders[1].cutTopBottom", "16", "borders[1].stripe", "2,8", "seam", "", "spare", "  "))
	got, err := calc.ParsePlan(f.plan())
	if err != nil {
		t.Fatalf("ParsePlan(%s): %v", f.plan(), err)
	}
	want, err := calc.ParsePlan([]byte(`{"title": "Reed bank", "unit": "cm", "center": {"width": "92.7", "length": "120"},
		"borders": [{"name": "dark line", "cut": "4", "fabric": {"runs": "crosswise"}}, {"cut": "14", "cutTopBottom": "16", "stripe": "2.8"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	a, b := calc.NewSheet(got), calc.NewSheet(want)
	if got.Borders[0].Fabric.Runs != "crosswise" || a.Title != b.Title || a.Raw.Width.Shown() != b.Raw.Width.Shown() ||
		a.Strips[3].CutLength.Shown() != b.Strips[3].CutLength.Shown() || !got.Seam.Equal(want.Seam) {
		t.Errorf("the form's plan is %s, want the plan as typed", f.plan())
	}
}

func TestBordersAreAddedTakenAwayAndMoved(t *testing.T) {
	for name, c := range map[string]struct{ before, do, want string }{
		"one is added outside":                     {"a b", "add", "a b -"},
		"a thirteenth is not added":                {"a b c d e f g h i j k l", "add", "a b c d e f g h i j k l"},
		"the second is taken away":                 {"a b c", "remove-2", "a c"},
		"the only one stays":                       {"a", "remove-1", "a"},
		"one moves inward":                         {"a b c", "up-3", "a c b"},
		"the innermost can't":                      {"a b c", "up-1", "a b c"},
		"one moves outward":                        {"a b c", "down-1", "b a c"},
		"the outermost can't":                      {"a b c", "down-3", "a b c"},
		"a border that is not there stays unmoved": {"a b", "remove-9", "a b"},
		"nonsense does nothing":                    {"a b", "dance-1-x", "a b"},
		"no number does nothing":                   {"a b", "up", "a b"},
	} {
		var f planForm
		for _, n := range strings.Fields(c.before) {
			f.Borders = append(f.Borders, borderForm{Name: n})
		}
		f.edit(c.do)
		var got []string
		for _, b := range f.Borders {
			if b.Name == "" {
				b.Name = "-"
			}
			got = append(got, b.Name)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: edit(%q) of %s gives %s, want %s", name, c.do, c.before, s, c.want)
		}
	}
}

func TestEachFaultStandsAtItsInput(t *testing.T) {
	f := readForm(sent("center.width", "wide", "center.length", "", "borders[0].cut", "0", "borders[0].fabric.shrink", "80", "seam", "9"))
	_, err := calc.ParsePlan(f.plan())
	f.blame(err.(calc.Faults))
	var at []string
	for field, said := range f.Faults {
		at = append(at, field)
		if !strings.HasPrefix(said, "This ") && !strings.HasPrefix(said, `"`) || !strings.HasSuffix(said, ".") {
			t.Errorf("the fault of %s is %q, want a sentence", field, said)
		}
	}
	want := map[string]bool{"center.width": true, "center.length": true, "borders[0].cut": true, "borders[0].fabric.shrink": true, "seam": true}
	got := map[string]bool{}
	for _, a := range at {
		got[a] = true
	}
	if !reflect.DeepEqual(got, want) || len(f.Rest) > 0 {
		t.Errorf("faults stand at %v and elsewhere %v, want at %v", got, f.Rest, want)
	}
}

func FuzzForm(f *testing.F) {
	f.Add("center.width=36&borders[0].cut=5+1/2&do=up-2")
	f.Add("unit=cm&seam=%00&borders[0].cut=%ff")
	f.Fuzz(func(t *testing.T, body string) {
		v, err := url.ParseQuery(body)
		if err != nil {
			return
		}
		form := readForm(v)
		form.edit(v.Get("do"))
		preview(context.Background(), form)
	})
}

func TestButtonsOfTheFormDoWhatTheySay(t *testing.T) {
	striped := planForm{Unit: "in", Borders: []borderForm{{Cut: "5", Stripe: "1 1/8"}, {}}}
	for _, c := range []struct {
		do   string
		want func(planForm) string
		says string
	}{
		{"coping-sides", func(f planForm) string { return f.CopingEdges }, "sides"},
		{"coping-topBottom", func(f planForm) string { return f.CopingEdges }, "topBottom"},
		{"coping-none", func(f planForm) string { return f.CopingEdges }, ""},
		{"coping-moon", func(f planForm) string { return f.CopingEdges }, ""},
		{"fit-1-6 1/2 in|", func(f planForm) string { return f.Borders[0].Cut + ";" + f.Borders[0].CutTopBottom }, "6 1/2 in;"},
		{"fit-1-6 1/2 in|8 in", func(f planForm) string { return f.Borders[0].Cut + ";" + f.Borders[0].CutTopBottom }, "6 1/2 in;8 in"},
		// Ticking has 5, 1, 1 and 1 of 8 parts: of 1 1/8 they are 45/64 and 9/64.
		{"stripe-1-ticking", func(f planForm) string {
			return f.Borders[0].Stripe + ": " + f.Borders[0].Lines[0].Width + ", " + f.Borders[0].Lines[3].Width
		}, "1 1/8: 45/64, 9/64"},
		{"stripe-2-awning", func(f planForm) string { return f.Borders[1].Stripe + ": " + f.Borders[1].Lines[1].Width }, "1: 1/2"},
		{"stripe-1-moonlit", func(f planForm) string { return f.Borders[0].Stripe }, "1 1/8"},
		{"line-2", func(f planForm) string { return f.Borders[1].Lines[0].Color }, lineColors[0]},
		{"unline-1-9", func(f planForm) string { return f.Borders[0].Cut }, "5"},
	} {
		f := striped
		f.Borders = append([]borderForm(nil), striped.Borders...)
		f.edit(c.do)
		if got := c.want(f); got != c.says {
			t.Errorf("edit(%q): got %q, want %q", c.do, got, c.says)
		}
	}
	f := striped
	f.edit("stripe-1-ticking")
	f.edit("unline-1-2")
	if b := f.Borders[0]; len(b.Lines) != 3 || b.Lines[1].Name != "cream" {
		t.Errorf("the second line taken away leaves %v", b.Lines)
	}
}

// What is sent with lines and coping strips is the plan that it shows; an empty row is
// no line, and a fault of a later line stands at its own row.
func TestLinesAndCopingOfTheForm(t *testing.T) {
	f := readForm(sent("center.width", "60 1/2", "center.length", "80 1/2", "coping.edges", "sides",
		"borders[0].cut", "6 1/2", "borders[0].motif", "6", "borders[0].lines[0].name", "navy", "borders[0].lines[0].width", "1", "borders[0].lines[0].color", "#23395b",
		"borders[0].lines[1].name", "", "borders[0].lines[1].width", "", "borders[0].lines[1].color", "#000000",
		"borders[0].lines[2].name", "", "borders[0].lines[2].width", "1/2", "borders[0].lines[2].color", "#a8432f"))
	p, err := calc.ParsePlan(f.plan())
	if err != nil {
		t.Fatalf("ParsePlan(%s): %v", f.plan(), err)
	}
	if len(p.Borders[0].Lines) != 2 || p.Borders[0].Stripe.Value(calc.Inch) != "1.5" || p.Coping == nil || p.Center.Width.Value(calc.Inch) != "62.5" {
		t.Errorf("the form's plan is %s: %d lines, stripe %s, center %s wide", f.plan(), len(p.Borders[0].Lines), p.Borders[0].Stripe.Value(calc.Inch), p.Center.Width.Value(calc.Inch))
	}
	f.Borders[0].Lines[2].Width = "wide"
	_, err = calc.ParsePlan(f.plan())
	f.blame(err.(calc.Faults))
	if len(f.Rest) > 0 || f.Faults["borders[0].lines[2].width"] == "" {
		t.Errorf("a fault of the third row stands at %v, and elsewhere %v", f.Faults, f.Rest)
	}
}

func TestASizeThatIsWantedInTheForm(t *testing.T) {
	for _, c := range []struct {
		name  string
		pairs []string
		fault string // the input that is to blame, "" for none
		want  string
	}{
		{"nothing wanted", nil, "", ""},
		{"a bed, without a width of the border yet", []string{"wanted.bed", "queen"}, "", "84 in x 92 in, 3 ways"},
		{"a bed with a drop in the other unit", []string{"wanted.bed", "twin", "wanted.drop", "25.4 cm"}, "", "59 in x 85 in, 0 ways"},
		{"own figures", []string{"wanted.width", "72 1/2", "wanted.length", "92.5", "borders[0].cut", "nonsense"}, "", "72 1/2 in x 92 1/2 in, 1 ways"},
		{"half of it", []string{"wanted.width", "72"}, "wanted.length", ""},
		{"unreadable", []string{"wanted.width", "wide", "wanted.length", "90"}, "wanted.width", ""},
		{"nothing at all wide", []string{"wanted.width", "0", "wanted.length", "90"}, "wanted.width", ""},
		{"far too long", []string{"wanted.width", "90", "wanted.length", "5000"}, "wanted.length", ""},
		{"no drop", []string{"wanted.bed", "king", "wanted.drop", "0"}, "", "76 in x 80 in, 0 ways"},
	} {
		f := readForm(sent(append([]string{"center.width", "60 1/2", "center.length", "80 1/2", "borders[0].cut", ""}, c.pairs...)...))
		v, faults := f.wanted()
		got := ""
		if v != nil {
			got = v.Size.Width.Shown() + " x " + v.Size.Length.Shown() + fmt.Sprintf(", %d ways", len(v.Fits))
			if (len(v.Fits) == 0) != (v.Cant != "") {
				t.Errorf("%s: %d ways, and %q", c.name, len(v.Fits), v.Cant)
			}
		}
		if got != c.want || (c.fault == "") != (len(faults) == 0) || c.fault != "" && faults[c.fault] == "" {
			t.Errorf("%s: got %q with faults %v, want %q and a fault at %q", c.name, got, faults, c.want, c.fault)
		}
	}
}

// Beside its inputs the form says what a stripe and a piece of fabric come to.
func TestWhatInputsComeTo(t *testing.T) {
	v := preview(context.Background(), readForm(sent("center.width", "60", "center.length", "60", "spare", "0", "borders[0].cut", "5", "borders[0].stripe", "1 1/4",
		"borders[0].hand.width", "42", "borders[0].hand.length", "72",
		"borders[1].cut", "2", "borders[1].hand.width", "x", "borders[1].hand.length", "9")))
	if v.Sheet == nil {
		t.Fatalf("no sheet: %v", v.Faults)
	}
	for in, want := range map[string]string{
		"borders[0].stripe":      "7 lie across the fabric, 5 in from line to line; nothing between two is waste.",
		"borders[0].hand.length": "For this border it is 3 in too short", // 60 + 2 x 6 1/2 and 2 to even are 75
	} {
		if !strings.Contains(v.Beside[in], want) {
			t.Errorf("beside %s stands %q, want %q", in, v.Beside[in], want)
		}
	}
	if v.Said["borders[1].hand.length"] == "" {
		t.Errorf("a piece that can't be read is not told: %v", v.Said)
	}
}

// The form's live answer, four borders with all that it can be asked.
func BenchmarkPreview(b *testing.B) {
	pairs := []string{"center.width", "60 1/2", "center.length", "80 1/2", "wanted.bed", "queen"}
	for i := range 4 {
		pairs = append(pairs, input(i, "cut"), "3 1/2", input(i, "stripe"), "1 1/8", input(i, "motif"), "6", input(i, "hand.width"), "42", input(i, "hand.length"), "90")
	}
	f := readForm(sent(pairs...))
	if v := preview(context.Background(), f); v.Sheet == nil || len(v.Prints) != 4 {
		b.Fatalf("the preview has faults %v", v.Faults)
	}
	for b.Loop() {
		preview(context.Background(), f)
	}
}

// A plan that was written under another name of a field is the same plan in the form.
func TestTheFormReadsAFieldUnderItsOtherNames(t *testing.T) {
	plan := `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","%s":{"usableWidth":"42"}}]}`
	was := formOf(json.RawMessage(fmt.Sprintf(plan, "fabric")))
	is := formOf(json.RawMessage(fmt.Sprintf(plan, "fabric")))
	if !reflect.DeepEqual(is, was) || *is.Borders[0].fields()["fabric.usableWidth"] != "42" {
		t.Errorf("the form is %+v, want %+v", is, was)
	}
}

// A print with a direction is entered in the form, and what is wrong with it stands at its input.
func TestAOneWayPrintInTheForm(t *testing.T) {
	of := func(way, heads, runs string) planForm {
		return readForm(sent("center.width", "60 1/2", "center.length", "80 1/2", "borders[0].cut", "6 1/2",
			"borders[0].fabric.way", way, "borders[0].fabric.heads", heads, "borders[0].fabric.runs", runs))
	}
	f := of("one-way", "up", "")
	p, err := calc.ParsePlan(f.plan())
	if err != nil || p.Borders[0].Fabric.Heads != calc.Up {
		t.Fatalf("ParsePlan(%s): %v, heads %q; want up", f.plan(), err, p.Borders[0].Fabric.Heads)
	}
	if again := formOf(f.plan()); again.Borders[0].Way != "one-way" || again.Borders[0].Heads != "up" {
		t.Errorf("the plan read back: %+v", again.Borders[0])
	}
	for field, f := range map[string]planForm{
		"borders[0].fabric.heads": of("one-way", "", ""),
		"borders[0].fabric.runs":  of("one-way", "up", "crosswise"),
	} {
		_, err := calc.ParsePlan(f.plan())
		f.blame(err.(calc.Faults))
		if len(f.Rest) > 0 || f.Faults[field] == "" {
			t.Errorf("%s: the fault stands at %v, and elsewhere %v", field, f.Faults, f.Rest)
		}
	}
	if f := of("", "inwards", ""); f.Borders[0].Heads != "inwards" {
		t.Errorf("heads alone: %+v", f.Borders[0])
	}
}
