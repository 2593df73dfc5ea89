package calc_test

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"cornerwise/calc"
)

// A good plan with every field, to spoil one at a time.
const whole = `{"title":"Harbour lanterns","unit":"in","seam":"1/4",
"center":{"width":"36 1/2","length":"48 1/2"},
"borders":[{"name":"dark line","cut":"1 1/2"},
{"name":"ticking","cut":"5 1/2","cutTopBottom":"6 1/2","stripe":"1 1/8","motif":"6",
"fabric":{"name":"bolt","usableWidth":"42","runs":"lengthwise","join":"straight","even":"2","shrink":"3"}}],
"spare":"4"}`

// A field is read under every name that it has, or had once, and once only.
func TestAFieldIsReadUnderItsOtherNames(t *testing.T) {
	plan := func(fields string) string {
		return `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2",` + fields + `}]}`
	}
	want, err := calc.ParsePlan([]byte(plan(`"fabric":{"usableWidth":"42"}`)))
	if err != nil {
		t.Fatal(err)
	}
	got, err := calc.ParsePlan([]byte(plan(`"fabric":{"usableWidth":"42"}`)))
	if err != nil || !got.Borders[0].Fabric.UsableWidth.Equal(want.Borders[0].Fabric.UsableWidth) {
		t.Errorf("under its other name: got %+v, %v, want %+v", got.Borders[0].Fabric, err, want.Borders[0].Fabric)
	}
	_, err = calc.ParsePlan([]byte(plan(`"fabric":{"usableWidth":"42"},"fabric":{"usableWidth":"41"}`)))
	if err == nil || !strings.Contains(err.Error(), "is given twice") {
		t.Errorf("under both names: got %v, want that it is given twice", err)
	}
}

func TestPlanIsReadWhole(t *testing.T) {
	p, err := calc.ParsePlan([]byte(whole))
	if err != nil {
		t.Fatalf("ParsePlan(whole) = %v", err)
	}
	b := p.Borders[1]
	got := fmt.Sprint(p.Title, "|", p.Unit, "|", p.Seam.Value("in"), "|", p.Center.Width.Value("in"), "|", p.Center.Length.Value("in"), "|",
		p.Spare.Value("in"), "|", p.Borders[0].Name, "|", p.Borders[0].CutTopBottom.Value("in"), "|", b.Name, "|", b.Cut.Value("in"), "|",
		b.CutTopBottom.Value("in"), "|", b.Stripe.Value("in"), "|", b.Motif.Value("in"), "|", b.Fabric.Name, "|", b.Fabric.UsableWidth.Value("in"), "|",
		b.Fabric.Runs, "|", b.Fabric.Join, "|", b.Fabric.Even.Value("in"), "|", b.Fabric.Shrink)
	const want = "Harbour lanterns|in|0.25|36.5|48.5|4|dark line|1.5|ticking|5.5|6.5|1.125|6|bolt|42|lengthwise|straight|2|3"
	if got != want {
		t.Errorf("ParsePlan(whole) = %s\nwant %s", got, want)
	}
}

func TestWhatIsLeftOutHasItsUsualValue(t *testing.T) {
	for _, c := range []struct{ unit, seam, spare, usable, even string }{
		{"in", "0.25", "4", "40", "2"},
		{"cm", "0.75", "10", "102", "5"},
	} {
		// null is a field left out.
		for _, null := range []string{"", `,"seam":null,"spare":null,"title":null`} {
			p, err := calc.ParsePlan([]byte(`{"unit":"` + c.unit + `","center":{"width":"90","length":"91"},"borders":[{"cut":"5"},{"cut":"5","stripe":"1","fabric":{"even":null}}]` + null + `}`))
			if err != nil {
				t.Fatalf("ParsePlan in %s = %v", c.unit, err)
			}
			u, b := calc.Unit(c.unit), p.Borders[0]
			got := []string{p.Seam.Value(u), p.Spare.Value(u), b.Fabric.UsableWidth.Value(u), b.Fabric.Even.Value(u), b.CutTopBottom.Value(u), b.Fabric.Join, b.Fabric.Shrink, b.Fabric.Runs, p.Borders[1].Fabric.Join}
			want := []string{c.seam, c.spare, c.usable, c.even, "5", "diagonal", "0", "", "none"}
			if strings.Join(got, "|") != strings.Join(want, "|") {
				t.Errorf("left out in %s: %q; want %q", c.unit, got, want)
			}
		}
	}
}

func TestOneSpoiledFieldIsOneFaultThatNamesIt(t *testing.T) {
	lengths := []struct{ name, old, field string }{
		{"seam", `"seam":"1/4"`, "seam"},
		{"center width", `"width":"36 1/2"`, "center.width"},
		{"center length", `"length":"48 1/2"`, "center.length"},
		{"cut", `"cut":"1 1/2"`, "borders[0].cut"},
		{"cut on top and bottom", `"cutTopBottom":"6 1/2"`, "borders[1].cutTopBottom"},
		{"stripe", `"stripe":"1 1/8"`, "borders[1].stripe"},
		{"motif", `"motif":"6"`, "borders[1].motif"},
		{"usable width", `"usableWidth":"42"`, "borders[1].fabric.usableWidth"},
		{"evening", `"even":"2"`, "borders[1].fabric.even"},
		{"spare", `"spare":"4"`, "spare"},
	}
	for _, l := range lengths {
		key := l.old[:strings.Index(l.old, ":")+1]
		for _, bad := range []struct{ name, value, says string }{
			{"nonsense", `"wide"`, "not a length"},
			{"empty", `""`, "is empty"},
			{"negative", `"-3"`, "less than nothing"},
			{"negative, as a number", `-3`, "less than nothing"},
			{"in a unit that is none", `"3 px"`, "not a length"},
			{"too large", `"90000"`, "the most that is reckoned is"},
			{"too large, in another unit", `"900 m"`, "the most that is reckoned is"},
			{"a huge number", `1e999999`, "not a length"},
			{"a very long number", `"` + strings.Repeat("9", 5000) + `"`, "longer than 40 characters"},
			{"an object", `{"cut":"3"}`, "must be a length in quotes"},
			{"an array", `["3"]`, "must be a length in quotes"},
			{"true", `true`, "must be a length in quotes"},
			{"over nothing", `"3/0"`, "over nothing"},
			{"a control character", `"3\u0000"`, "not a length"},
			{"half a surrogate", `"3\ud800"`, "not a length"},
		} {
			expectFault(t, l.name+", "+bad.name, spoil(t, l.old, key+bad.value), l.field, bad.says)
		}
		expectFault(t, l.name+", twice", spoil(t, l.old, l.old+","+l.old), l.field, "given twice")
		if l.field != "spare" && l.field != "borders[1].fabric.even" {
			expectFault(t, l.name+", 0", spoil(t, l.old, key+`"0"`), l.field, "is 0; it must be more")
		} else if _, err := calc.ParsePlan([]byte(spoil(t, l.old, key+`"0"`))); err != nil {
			t.Errorf("%s of 0: %v; want none, 0 will do", l.name, err)
		}
	}

	for _, c := range []struct{ name, old, spoiled, field, says string }{
		{"unit: millimeters", `"unit":"in"`, `"unit":"mm"`, "unit", "must be one of in, cm"},
		{"unit: a number", `"unit":"in"`, `"unit":1`, "unit", "must be one of in, cm"},
		{"unit: capitals", `"unit":"in"`, `"unit":"IN"`, "unit", "must be one of in, cm"},
		{"runs: a way that is none", `"runs":"lengthwise"`, `"runs":"bias"`, "borders[1].fabric.runs", "one of lengthwise, crosswise"},
		{"join: one that is none", `"join":"straight"`, `"join":[]`, "borders[1].fabric.join", "one of none, straight, diagonal"},
		{"shrink: nonsense", `"shrink":"3"`, `"shrink":"some"`, "borders[1].fabric.shrink", "from 0 to 50"},
		{"shrink: negative", `"shrink":"3"`, `"shrink":-1`, "borders[1].fabric.shrink", "from 0 to 50"},
		{"shrink: too much", `"shrink":"3"`, `"shrink":"51 %"`, "borders[1].fabric.shrink", "from 0 to 50"},
		{"shrink: a huge number", `"shrink":"3"`, `"shrink":1e9`, "borders[1].fabric.shrink", "from 0 to 50"},
		{"shrink: with an exponent", `"shrink":"3"`, `"shrink":"1e1"`, "borders[1].fabric.shrink", "from 0 to 50"},
		{"shrink: nine characters", `"shrink":"3"`, `"shrink":"3.0000000"`, "borders[1].fabric.shrink", "from 0 to 50"},
		{"title: a number", `"title":"Harbour lanterns"`, `"title":7`, "title", "text in quotes"},
		{"title: too long", `"title":"Harbour lanterns"`, `"title":"` + strings.Repeat("w", 81) + `"`, "title", "at most 80"},
		{"title: an escape of the terminal", `"title":"Harbour lanterns"`, `"title":"\u001b[2J"`, "title", "can't be shown"},
		{"title: the same in one character", `"title":"Harbour lanterns"`, `"title":"\u009b2J"`, "title", "can't be shown"},
		{"name: an object", `"name":"dark line"`, `"name":{}`, "borders[0].name", "text in quotes"},
		{"name: too long", `"name":"dark line"`, `"name":"` + strings.Repeat("w", 41) + `"`, "borders[0].name", "at most 40"},
		{"name of the fabric: a list", `"name":"bolt"`, `"name":["bolt"]`, "borders[1].fabric.name", "text in quotes"},
		{"center: text", `{"width":"36 1/2","length":"48 1/2"}`, `"36 x 48"`, "center", "must be an object"},
		{"center: a list", `{"width":"36 1/2","length":"48 1/2"}`, `["36","48"]`, "center", "must be an object"},
		{"center: null", `{"width":"36 1/2","length":"48 1/2"}`, `null`, "center", "is missing"},
		{"center width: null", `"width":"36 1/2"`, `"width":null`, "center.width", "is missing"},
		{"center length: left out", `,"length":"48 1/2"`, ``, "center.length", "is missing"},
		{"center: no wider than two allowances", `"width":"36 1/2"`, `"width":"1/2"`, "center.width", "more than two seam allowances, 1/2 in"},
		{"center: narrower by less than a ruler shows", `"width":"36 1/2"`, `"width":"0.499"`, "center.width", "is 0.499 in"},
		{"cut: left out", `"cut":"1 1/2"`, `"motif":"3"`, "borders[0].cut", "is missing"},
		{"cut: null", `"cut":"1 1/2"`, `"cut":null`, "borders[0].cut", "is missing"},
		{"cut: no wider than two allowances", `"cut":"1 1/2"`, `"cut":"1/2"`, "borders[0].cut", "more than its two seam allowances, 1/2 in"},
		{"cut on top and bottom: the same", `"cutTopBottom":"6 1/2"`, `"cutTopBottom":"1 cm"`, "borders[1].cutTopBottom", "more than its two seam allowances"},
		{"border: text", `{"name":"dark line","cut":"1 1/2"}`, `"dark line"`, "borders[0]", "must be an object"},
		{"border: null", `{"name":"dark line","cut":"1 1/2"}`, `null`, "borders[0]", "must be an object"},
		{"fabric: a list", `"fabric":{"name":"bolt","usableWidth":"42","runs":"lengthwise","join":"straight","even":"2","shrink":"3"}`, `"fabric":[]`, "borders[1].fabric", "must be an object"},
		{"unknown in the plan", `"unit":"in"`, `"units":"in"`, "units", "use title, unit, seam, center, borders, spare"},
		{"unknown by its capital", `"unit":"in"`, `"Unit":"in"`, "Unit", "not a field"},
		{"unknown in the center", `"width":"36 1/2",`, `"width":"36 1/2","height":"1",`, "center.height", "use width, length"},
		{"unknown in a border", `"motif":"6"`, `"repeat":"6"`, "borders[1].repeat", "use name, cut, cutTopBottom"},
		{"unknown in the fabric", `"even":"2"`, `"evening":"2"`, "borders[1].fabric.evening", "use name, usableWidth"},
		{"unknown, nothing at all", `"unit":"in"`, `"":"in"`, `""`, "not a field"},
		{"unknown, over two lines", `"unit":"in"`, `"a\nb: c":"in"`, `"a\nb: c"`, "not a field"},
		{"unknown, very long", `"unit":"in"`, `"` + strings.Repeat("u", 9000) + `":1`, `"` + strings.Repeat("u", 40) + `…"`, "not a field"},
		{"unknown, and deep", `"unit":"in"`, `"deep":` + strings.Repeat("[", 9000) + strings.Repeat("]", 9000), "deep", "not a field"},
		{"borders twice", `"spare":"4"`, `"borders":[{"cut":"2"}]`, "borders", "given twice"},
	} {
		expectFault(t, c.name, spoil(t, c.old, c.spoiled), c.field, c.says)
	}
}

func TestBordersThatAreNone(t *testing.T) {
	with := func(borders string) string {
		return `{"center":{"width":"30","length":"40"},"borders":` + borders + `}`
	}
	many := func(n int) string { return "[" + strings.TrimSuffix(strings.Repeat(`{"cut":"2"},`, n), ",") + "]" }
	for _, c := range []struct{ name, borders, says string }{
		{"none", `[]`, "has 0; give 1 to 12"},
		{"null", `null`, "is missing; give 1 to 12"},
		{"13", many(13), "has 13; give 1 to 12"},
		{"1,000", many(1000), "has 1000; give 1 to 12"},
		{"an object", `{"cut":"2"}`, "must be a list of 1 to 12"},
		{"text", `"2"`, "must be a list"},
		{"a number", `2`, "must be a list"},
	} {
		expectFault(t, "borders: "+c.name, with(c.borders), "borders", c.says)
	}
	expectFault(t, "borders: left out", `{"center":{"width":"30","length":"40"}}`, "borders", "is missing")
	if _, err := calc.ParsePlan([]byte(with(many(12)))); err != nil {
		t.Errorf("12 borders: %v; want none", err)
	}
}

func TestTextThatIsNoPlan(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"nothing", ``, "can't be read as JSON at line 1"},
		{"white space", "\n\n ", "can't be read as JSON at line 3"},
		{"words", `thirty by forty`, "can't be read as JSON"},
		{"cut off", whole[:200], "can't be read as JSON at line 4"},
		{"a comma missing", strings.Replace(whole, `"seam":"1/4",`, `"seam":"1/4"`, 1), "can't be read as JSON at line 2"},
		{"two plans", whole + whole, "can't be read as JSON at line 6"},
		{"not text at all", "\xff\xfe\x00", "can't be read as JSON"},
		{"a number", `36.5`, "must be an object"},
		{"text", `"plan"`, "must be an object"},
		{"null", `null`, "must be an object"},
		{"a list", `[` + whole + `]`, "must be an object"},
		{"deep", strings.Repeat(`{"borders":`, 100000), "can't be read as JSON"},
		{"deep and closed", strings.Repeat(`[`, 100000) + strings.Repeat(`]`, 100000), "can't be read as JSON"},
	} {
		expectFault(t, c.name, c.text, "plan", c.says)
	}
}

func TestEveryFaultIsTold(t *testing.T) {
	_, err := calc.ParsePlan([]byte(`{"unit":"el","center":{"width":"x"},"borders":[{"cut":"0"},{"cut":"y","name":4}],"spare":"-1","note":""}`))
	var faults calc.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("ParsePlan = %v; want Faults", err)
	}
	var fields []string
	for _, f := range faults {
		fields = append(fields, f.Field)
	}
	const want = "note unit center.width center.length borders[0].cut borders[1].name borders[1].cut spare"
	if got := strings.Join(fields, " "); got != want {
		t.Errorf("faults of %s; want %s", got, want)
	}
	many := `{` + strings.TrimSuffix(strings.Repeat(`"x":1,`, 5000), ",") + `}`
	if _, err := calc.ParsePlan([]byte(many)); !errors.As(err, &faults) || len(faults) > 40 {
		t.Errorf("5,000 unknown fields: %d faults; want 40 at most", len(faults))
	}
}

// spoil is the whole plan with one place in it changed.
func spoil(t *testing.T, old, spoiled string) string {
	t.Helper()
	if strings.Count(whole, old) != 1 {
		t.Fatalf("the plan to spoil has %q %d times", old, strings.Count(whole, old))
	}
	return strings.Replace(whole, old, spoiled, 1)
}

func expectFault(t *testing.T, name, plan, field, says string) {
	t.Helper()
	_, err := calc.ParsePlan([]byte(plan))
	var faults calc.Faults
	if !errors.As(err, &faults) || len(faults) != 1 {
		t.Errorf("%s: ParsePlan = %v; want one fault, of %s", name, err, field)
		return
	}
	if faults[0].Field != field || !strings.Contains(faults[0].Message, says) {
		t.Errorf("%s: %s\nwant field %s and %q", name, err, field, says)
	}
	checkFaults(t, faults)
}

// goFault is what text from the language or a library looks like.
var goFault = regexp.MustCompile(`%!|json:|strconv|invalid character|unmarshal|panic`)

// checkFaults holds for every fault: one line, with what is wrong and what would do.
func checkFaults(t testing.TB, faults calc.Faults) {
	t.Helper()
	if len(faults) < 1 || len(faults) > 40 {
		t.Errorf("%d faults; want 1 to 40", len(faults))
	}
	for _, f := range faults {
		line := f.Field + ": " + f.Message
		if f.Field == "" || len(f.Message) < 10 || len(line) > 600 || strings.ContainsFunc(line, func(c rune) bool { return c < ' ' || c == 0x7f }) {
			t.Errorf("a fault is not one short line: %q", line)
		}
		if goFault.MatchString(strings.TrimPrefix(line, f.Field)) {
			t.Errorf("a fault speaks of the program, not of the plan: %q", line)
		}
	}
}

// What a plan may hold it may hold to the full.
func TestWhatIsReadAtItsLimit(t *testing.T) {
	title, name := strings.Repeat("t", 80), strings.Repeat("n", 40)
	p := planOf(t, `{"title":"`+title+`","seam":"2","center":{"width":"1000","length":"1000"},"spare":"200",
		"borders":[{"name":"`+name+`","cut":"200","stripe":"200","motif":"200","fabric":{"shrink":"3.000000","usableWidth":"1000","even":"1000"}}]}`)
	if p.Title != title || p.Borders[0].Name != name || p.Borders[0].Fabric.Shrink != "3" {
		t.Errorf("title %q, name %q, shrink %q; want all as entered", p.Title, p.Borders[0].Name, p.Borders[0].Fabric.Shrink)
	}
	if p := planOf(t, `{"center":{"width":"20","length":"20"},"borders":[{"cut":"4","fabric":{"shrink":"50"}}]}`); p.Borders[0].Fabric.Shrink != "50" {
		t.Errorf("shrink 50: %q", p.Borders[0].Fabric.Shrink)
	}
}
