package web

import (
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
		"borders[0].name", "dark line", "borders[0].cut", "4", "borders[0].cloth.runs", "crosswise",
		"borders[1].cut", "14", "borders[1].cutTopBottom", "16", "borders[1].stripe", "2,8", "seam", "", "spare", "  "))
	got, err := calc.ParsePlan(f.plan())
	if err != nil {
		t.Fatalf("ParsePlan(%s): %v", f.plan(), err)
	}
	want, err := calc.ParsePlan([]byte(`{"title": "Reed bank", "unit": "cm", "center": {"width": "92.7", "length": "120"},
		"borders": [{"name": "dark line", "cut": "4", "cloth": {"runs": "crosswise"}}, {"cut": "14", "cutTopBottom": "16", "stripe": "2.8"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	a, b := calc.NewSheet(got), calc.NewSheet(want)
	if got.Borders[0].Cloth.Runs != "crosswise" || a.Title != b.Title || a.Raw.Width.Shown() != b.Raw.Width.Shown() ||
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
		"one moves inwards":                        {"a b c", "up-3", "a c b"},
		"the innermost can't":                      {"a b c", "up-1", "a b c"},
		"one moves outwards":                       {"a b c", "down-1", "b a c"},
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
	f := readForm(sent("center.width", "wide", "center.length", "", "borders[0].cut", "0", "borders[0].cloth.shrink", "80", "seam", "9"))
	_, err := calc.ParsePlan(f.plan())
	f.blame(err.(calc.Faults))
	var at []string
	for field, said := range f.Faults {
		at = append(at, field)
		if !strings.HasPrefix(said, "This ") && !strings.HasPrefix(said, `"`) || !strings.HasSuffix(said, ".") {
			t.Errorf("the fault of %s is %q, want a sentence", field, said)
		}
	}
	want := map[string]bool{"center.width": true, "center.length": true, "borders[0].cut": true, "borders[0].cloth.shrink": true, "seam": true}
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
		preview(form)
	})
}
