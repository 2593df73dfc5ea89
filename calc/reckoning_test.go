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
	how = strings.NewReplacer(" for evening the ends", "", "%) for the wash", "%)").Replace(how)
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
		"(70 + 2 for evening the ends) ÷ (1 − 4%) for the wash = 75 in, up to": 75, "Half the center's side: 36 1/2 ÷ 2.": 18.25,
	} {
		if got, ok := summed(how); !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %g, %t; want %g", how, got, ok, want)
		}
	}
	if _, ok := summed("From the plan."); ok {
		t.Error("From the plan. is a sum")
	}
}
