package calc_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"cornerwise/calc"
)

// Figures of the sheet without a reckoning, and why; * stands for any beginning.
var notReckoned = []struct{ path, why string }{
	{"seam", "from the plan"},
	{"pieced.width", "from the plan"},
	{"pieced.length", "from the plan"},
	{"center.width", "from the plan where no coping strips make it wider"},
	{"center.length", "from the plan where no coping strips make it longer"},
	{"strips[].cutWidth", "from the plan"},
	{"*.addToWidth.along", "the center's own side; not in the JSON"},
	{"*.addToLength.along", "the center's own side; not in the JSON"},
	{"*.layout[].x", "found by search; the cutting page has its picture"},
	{"*.layout[].y", "found by search; the cutting page has its picture"},
	{"*.layout[].width", "the strip's cut width, or a part of its cut length"},
	{"*.layout[].length", "the strip's cut length, or a part of it"},
}

// figuresOf calls f with every figure within v and where it stands in the sheet's JSON.
func figuresOf(v reflect.Value, path string, f func(path string, figure calc.Figure)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			figuresOf(v.Elem(), path, f)
		}
		return
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			figuresOf(v.Index(i), fmt.Sprintf("%s[%d]", path, i), f)
		}
		return
	case reflect.Map, reflect.Interface:
		panic(path + ": figures in a " + v.Type().String() + " would not be found")
	case reflect.Struct:
	default:
		return
	}
	switch x := v.Interface().(type) {
	case calc.Figure:
		f(path, x)
		return
	case calc.Match:
		if !x.Possible { // then the JSON has no figures
			return
		}
	}
	for i := range v.NumField() {
		field := v.Type().Field(i)
		name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
		if name == "" {
			name = strings.ToLower(field.Name[:1]) + field.Name[1:]
		}
		switch {
		case !field.IsExported():
		case field.Anonymous && field.Tag == "", v.Type() == reflect.TypeFor[calc.Addition]() && field.Name == "Total":
			figuresOf(v.Field(i), path, f)
		default:
			figuresOf(v.Field(i), strings.TrimPrefix(path+"."+name, "."), f)
		}
	}
}

// Every figure of the sheet is reckoned in words, once, but for the few that are named
// above; each reckoning is of a figure that the sheet has; and where it begins with a sum,
// the sum, worked out here from the words alone, gives that figure.
func TestEveryFigureIsReckonedInWords(t *testing.T) {
	files, err := filepath.Glob("../testdata/plans/*.json")
	if err != nil {
		t.Fatal(err)
	}
	sums, without := 0, map[string]bool{}
	for _, file := range files {
		if strings.HasSuffix(file, ".sheet.json") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p := planOf(t, string(text))
		s := calc.NewSheet(p)
		var sheet any
		data, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &sheet); err != nil {
			t.Fatal(err)
		}
		reckoned := map[string]bool{}
		for _, r := range s.Reckonings(p) {
			if reckoned[r.Path] {
				t.Errorf("%s, %s: reckoned twice", filepath.Base(file), r.Path)
			}
			reckoned[r.Path] = true
			if shown, _ := at(sheet, r.Path+".shown").(string); shown != r.Shown() {
				t.Errorf("%s, %s: the sheet has %q, the reckoning %q", filepath.Base(file), r.Path, shown, r.Shown())
			}
			if r.How == "" || r.Name == "" {
				t.Errorf("%s, %s: nothing is said", filepath.Base(file), r.Path)
			}
			got, ok := summed(r.How)
			if !ok {
				continue
			}
			sums++
			// What is bought, and the ruler's next line, are more than the sum by less
			// than one line; and the numbers in the words are on the ruler themselves.
			more := 0.05 * (1 + math.Abs(got)/40)
			if strings.Contains(r.How, "1/8 yd") {
				more = 4.5
			} else if strings.Contains(r.How, "0.1 m") {
				more = 10
			} else if p.Unit == calc.Inch {
				more += 0.125
			}
			if want := r.Length.Float(p.Unit); want < got-0.1 || want > got+more {
				t.Errorf("%s, %s: %q comes to %g, and the figure is %g", filepath.Base(file), r.Path, r.How, got, want)
			}
		}
		figuresOf(reflect.ValueOf(s), "", func(path string, figure calc.Figure) {
			if reckoned[path] {
				return
			}
			if path == "center.width" && !figure.Length.Equal(p.Pieced.Width) || path == "center.length" && !figure.Length.Equal(p.Pieced.Length) {
				t.Errorf("%s, %s: the coping strips' share has no reckoning in words", filepath.Base(file), path)
			}
			general := regexp.MustCompile(`\[\d+\]`).ReplaceAllString(path, "[]")
			for _, x := range notReckoned {
				if end, open := strings.CutPrefix(x.path, "*"); general == x.path || open && strings.HasSuffix(general, end) {
					without[x.path] = true
					return
				}
			}
			t.Errorf("%s, %s: %s has no reckoning in words", filepath.Base(file), path, figure.Shown())
		})
	}
	if sums < 150 {
		t.Errorf("only %d sums were worked out", sums)
	}
	for _, x := range notReckoned {
		if !without[x.path] {
			t.Errorf("%s (%s) is in no sheet, or always reckoned", x.path, x.why)
		}
	}
}

// at is what lies at a path such as strips[0].cutLength.shown.
func at(v any, path string) any {
	for _, key := range strings.FieldsFunc(path, func(r rune) bool { return r == '.' || r == '[' || r == ']' }) {
		switch x := v.(type) {
		case map[string]any:
			v = x[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(x) {
				return nil
			}
			v = x[i]
		}
	}
	return v
}

// summed is what the sum at the beginning of a sentence, or after its colon, comes to.
func summed(how string) (float64, bool) {
	how = strings.TrimPrefix(how, "Half the center's side: ")
	how = strings.NewReplacer(" for squaring the ends", "", "%) for the wash", "%)").Replace(how)
	end := strings.IndexAny(how, ":=")
	if comma := strings.Index(how, ", "); comma >= 0 && (end < 0 || comma < end) {
		end = comma
	}
	if end < 0 {
		end = len(strings.TrimSuffix(how, "."))
	}
	s := &sum{text: strings.TrimSpace(how[:end])}
	if !strings.ContainsAny(s.text, "×÷+√") && !strings.Contains(s.text, " − ") {
		return 0, false
	}
	v := s.terms()
	return v, s.text == "" && !s.bad
}

// A sum is worked out from its text: + and −, × and ÷, roots, squares, brackets, and
// numbers as a quilter writes them.
type sum struct {
	text string
	bad  bool
}

func (s *sum) eat(sign string) bool {
	s.text = strings.TrimSpace(s.text)
	if !strings.HasPrefix(s.text, sign) {
		return false
	}
	s.text = strings.TrimSpace(strings.TrimPrefix(s.text, sign))
	return true
}

func (s *sum) terms() float64 {
	v := s.factors()
	for !s.bad {
		switch {
		case s.eat("+"):
			v += s.factors()
		case s.eat("−"):
			v -= s.factors()
		default:
			return v
		}
	}
	return v
}

func (s *sum) factors() float64 {
	v := s.one()
	for !s.bad {
		switch {
		case s.eat("×"):
			v *= s.one()
		case s.eat("÷"):
			v /= s.one()
		default:
			return v
		}
	}
	return v
}

var aNumber = regexp.MustCompile(`^(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)`)

func (s *sum) one() float64 {
	var v float64
	switch {
	case s.eat("√"):
		v = math.Sqrt(s.one())
	case s.eat("("):
		v = s.terms()
		s.bad = s.bad || !s.eat(")")
	default:
		word := aNumber.FindString(s.text)
		if word == "" {
			s.bad = true
			return 0
		}
		s.text = s.text[len(word):]
		for _, part := range strings.Fields(word) {
			n, d, cut := strings.Cut(part, "/")
			x, _ := strconv.ParseFloat(n, 64)
			if cut {
				y, _ := strconv.ParseFloat(d, 64)
				x /= y
			}
			v += x
		}
	}
	if s.eat("²") {
		v *= v
	}
	if s.eat("%") {
		v /= 100
	}
	return v
}

func TestASumIsWorkedOut(t *testing.T) {
	for how, want := range map[string]float64{
		"48 1/2 + 2 × 7 1/2 + 4: the side.": 67.5, "√(6² + 7²): from the finished widths of the two bands.": math.Sqrt(85),
		"(70 + 2 for squaring the ends) ÷ (1 − 4%) for the wash = 75 in, up to": 75, "Half the center's side: 36 1/2 ÷ 2.": 18.25,
	} {
		if got, ok := summed(how); !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %g, %t; want %g", how, got, ok, want)
		}
	}
	if _, ok := summed("From the plan."); ok {
		t.Error("From the plan. is a sum")
	}
}

// howOf is the reckoning of one figure.
func howOf(t *testing.T, plan, path string) string {
	t.Helper()
	p := planOf(t, plan)
	for _, r := range calc.NewSheet(p).Reckonings(p) {
		if r.Path == path {
			return r.How
		}
	}
	t.Errorf("%s has no %s", plan, path)
	return ""
}

func TestAReckoningSaysWhatItsFigureRestsOn(t *testing.T) {
	coped := func(coping string) string {
		return `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5 1/2","motif":"6"}],"coping":` + coping + `}`
	}
	const shared = `{"center":{"width":"40","length":"40"},"borders":[
		{"cut":"2","fabric":{"name":"dusk","usableWidth":"42","shrink":"3","even":"1"}},
		{"cut":"3","fabric":{"name":"dusk","usableWidth":"42","shrink":"2","even":"3"}},
		{"cut":"4","fabric":{"name":"dusk","usableWidth":"42","even":"2"}}]}`
	for _, c := range []struct{ name, plan, path, how string }{
		{"coping strips cut as the plan says", coped(`{"edges":"sides","cut":"2"}`), "coping.cutWidth", "From the plan."},
		{"coping strips that are reckoned", coped(`{"edges":"sides"}`), "coping.cutWidth", "2 ÷ 2 + 2 × 1/4: half of what both add, and the strip's two allowances."},
		{"what both add, as the plan says", coped(`{"edges":"sides","cut":"2"}`), "coping.total", "2 × (2 − 2 × 1/4): what both strips finish at."},
		{"what both add, reckoned", coped(`{"edges":"sides"}`), "coping.total", "2 × (1 1/2 − 2 × 1/4): what both strips finish at. With them the two sides of the center differ by whole repeats of 6 in."},
		{"the center with them", coped(`{"edges":"sides"}`), "center.width", "60 1/2 + 2: the center as pieced, and what both coping strips add."},
		{"the center with them, longer", coped(`{"edges":"topBottom"}`), "center.length", "80 1/2 + 4: the center as pieced, and what both coping strips add."},
		// 60 and 80 finished: 30 and 40 from the middle to the dot, of repeats of 6 with a
		// motif on the middle 0 and 4 past one; with the gap on the sides' 80, 40 and 3.
		{"how prints miss", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5","motif":"6"}]}`, "match[0].mismatch",
			"From a motif on the middle the dots of the sides fall 4 in past a motif; from a gap, those of top and bottom 3 in. No other way to center is better."},
		{"what is added", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5","motif":"6"}]}`, "match[0].addToWidth",
			"60 1/2 − 80 1/2 is brought to whole repeats of 6 in, with the least that is added."},
		{"the strip for it", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5","motif":"6"}]}`, "match[0].addToLength.copingStrip",
			"4 ÷ 2 + 2 × 1/4: half of what is added, and the strip's two allowances."},
		{"nothing is added", `{"center":{"width":"60 1/2","length":"60 1/2"},"borders":[{"cut":"5","motif":"6"}]}`, "match[0].addToWidth",
			"Nothing: the prints meet as they are."},
		{"no strip for it", `{"center":{"width":"60 1/2","length":"60 1/2"},"borders":[{"cut":"5","motif":"6"}]}`, "match[0].addToWidth.copingStrip",
			"Nothing: the prints meet as they are."},
		{"a layout that is the shortest", shared, "together[0].lengthwise.length", "The shortest layout that there is; the cutting page has its picture."},
		{"a layout that may not be", twelveLeast, "together[0].lengthwise.length", "The shortest layout found; the cutting page has its picture."},
		// One column each: 40 + 2 × 8 + 4 = 60. Of one fabric the worst holds: 3 and 3 percent;
		// 63 / 0.97 = 64.95, up to the ruler's next line.
		{"fabric of several borders", shared, "together[0].lengthwise.buy", "(60 + 3 for squaring the ends) ÷ (1 − 3%) for the wash = 65 in, up to the next 1/8 yd, 4 1/2 in."},
		{"fabric that does not shrink", shared, "fabric[2].lengthwise.buy", "60 + 2 for squaring the ends = 62 in, up to the next 1/8 yd, 4 1/2 in."},
		{"in centimeters", `{"unit":"cm","center":{"width":"80","length":"80"},"borders":[{"cut":"10","fabric":{"runs":"lengthwise"}}],"spare":"0"}`,
			"fabric[0].lengthwise.buy", "100 + 5 for squaring the ends = 105 cm, up to the next 0.1 m."},
		// A figure off the ruler's lines is told exactly where its decimals are few.
		{"a seam between the lines", `{"unit":"cm","center":{"width":"91","length":"120"},"borders":[{"cut":"10"}]}`, "marks.sides.toDot", "120 ÷ 2 − 0.75: a seam allowance in from the end."},
		{"six characters", `{"seam":"0.2501","center":{"width":"60","length":"60"},"borders":[{"cut":"5"}]}`, "marks.sides.toDot", "60 ÷ 2 − 0.2501: a seam allowance in from the end."},
		{"seven characters", `{"seam":"0.25001","center":{"width":"60","length":"60"},"borders":[{"cut":"5"}]}`, "marks.sides.toDot", "60 ÷ 2 − 1/4: a seam allowance in from the end."},
	} {
		if got := howOf(t, c.plan, c.path); got != c.how {
			t.Errorf("%s: %s: %q; want %q", c.name, c.path, got, c.how)
		}
	}
}
