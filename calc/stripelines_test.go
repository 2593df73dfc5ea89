package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"cornerwise/calc"
)

func lined(rest string) string {
	return `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2"` + rest + `}]}`
}

func TestLinesFillOneRepeat(t *testing.T) {
	for _, c := range []struct{ name, rest, stripe, lines, start string }{
		{"the stripe is their sum where it is left out",
			`,"lines":[{"name":"navy","width":"3/4","color":"#1F3A5F"},{"width":"3/8","color":"#f4efe6"}]`,
			"1.125", "navy 0.75 #1f3a5f, 0.375 #f4efe6", "0"},
		{"as the stripe says",
			`,"stripe":"1","start":"7/8","lines":[{"width":"1/3","color":"#000000"},{"width":"2/3","color":"#ffffff"}]`,
			"1", "0.333333 #000000, 0.666667 #ffffff", "0.875"},
		{"a start without lines", `,"stripe":"2","start":"0"`, "2", "", "0"},
		{"as many lines as there may be", `,"lines":[` + strings.TrimSuffix(strings.Repeat(`{"width":"1","color":"#000000"},`, 12), ",") + `]`,
			"12", strings.TrimSuffix(strings.Repeat("1 #000000, ", 12), ", "), "0"},
		{"as wide as is reckoned", `,"lines":[{"width":"150","color":"#000000"},{"width":"50","color":"#ffffff"}]`, "200", "150 #000000, 50 #ffffff", "0"},
		{"no stripe at all", `,"lines":null,"start":null`, "0", "", "0"},
	} {
		b := planOf(t, lined(c.rest)).Borders[0]
		var lines []string
		for _, l := range b.Lines {
			lines = append(lines, strings.TrimSpace(l.Name+" "+l.Width.Value(calc.Inch)+" "+l.Color))
		}
		got := [3]string{b.Stripe.Value(calc.Inch), strings.Join(lines, ", "), b.Start.Value(calc.Inch)}
		if want := [3]string{c.stripe, c.lines, c.start}; got != want {
			t.Errorf("%s: stripe, lines, start %q; want %q", c.name, got, want)
		}
	}
}

func TestLinesThatAreNone(t *testing.T) {
	const white = `{"width":"1/2","color":"#ffffff"}`
	many := strings.TrimSuffix(strings.Repeat(white+",", 13), ",")
	for _, c := range []struct{ name, rest, field, says string }{
		{"text", `,"lines":"navy"`, "borders[0].lines", "must be a list of 1 to 12"},
		{"none", `,"lines":[]`, "borders[0].lines", "must be a list of 1 to 12"},
		{"13", `,"lines":[` + many + `]`, "borders[0].lines", "must be a list of 1 to 12"},
		{"less than the repeat", `,"stripe":"1 1/8","lines":[` + white + `,` + white + `]`, "borders[0].lines",
			"add up to 1 in, and the stripe repeats every 1 1/8 in; 1/8 in is missing"},
		{"more than the repeat", `,"stripe":"3/4","lines":[` + white + `,` + white + `]`, "borders[0].lines",
			"add up to 1 in, and the stripe repeats every 3/4 in; that is 1/4 in too much"},
		{"a third is not 0.333", `,"stripe":"1","lines":[{"width":"1/3","color":"#000000"},{"width":"0.666","color":"#000000"}]`, "borders[0].lines", "is missing"},
		{"more than is reckoned", `,"lines":[{"width":"150","color":"#000000"},{"width":"60","color":"#000000"}]`, "borders[0].lines", "the most that is reckoned is 200 in"},
		{"no width", `,"lines":[{"color":"#ffffff"}]`, "borders[0].lines[0].width", "is missing"},
		{"a width of nothing", `,"lines":[` + white + `,{"width":"0","color":"#ffffff"}]`, "borders[0].lines[1].width", "must be more than 0"},
		{"no color", `,"lines":[{"width":"1"}]`, "borders[0].lines[0].color", "# and six digits"},
		{"a color by its name", `,"lines":[{"width":"1","color":"navy"}]`, "borders[0].lines[0].color", "# and six digits"},
		{"a color that closes the drawing", `,"lines":[{"width":"1","color":"#000\"/><b"}]`, "borders[0].lines[0].color", "# and six digits"},
		{"a color over two lines", `,"lines":[{"width":"1","color":"#000000\n"}]`, "borders[0].lines[0].color", "# and six digits"},
		{"a name too long", `,"lines":[{"width":"1","color":"#000000","name":"` + strings.Repeat("w", 41) + `"}]`, "borders[0].lines[0].name", "at most 40"},
		{"a field that is none", `,"lines":[{"width":"1","colour":"#000000","color":"#000000"}]`, "borders[0].lines[0].colour", "use name, width, color"},
		{"a start of a whole repeat", `,"stripe":"2","start":"2"`, "borders[0].start", "must be less than one repeat of the stripe, 2 in"},
		{"a start without a stripe", `,"start":"1"`, "borders[0].start", "needs a stripe"},
		{"a start before nothing", `,"stripe":"2","start":"-1"`, "borders[0].start", "less than nothing"},
		{"a start in a stripe that is wrong is not blamed", `,"stripe":"0","start":"1"`, "borders[0].stripe", "is 0"},
	} {
		expectFault(t, c.name, lined(c.rest), c.field, c.says)
	}
}

func TestPlanSpoiledInItsCoping(t *testing.T) {
	with := func(borders, coping string) string {
		return fmt.Sprintf(`{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[%s],"coping":%s}`, borders, coping)
	}
	const printed = `{"name":"lamps","cut":"5 1/2","motif":"6"}`
	for _, c := range []struct{ name, borders, coping, field, says string }{
		{"text", printed, `"sides"`, "coping", "must be an object"},
		{"no edges", printed, `{"cut":"2"}`, "coping.edges", "is missing"},
		{"edges that are none", printed, `{"edges":"left","cut":"2"}`, "coping.edges", "one of sides, topBottom"},
		{"no wider than two allowances", printed, `{"edges":"sides","cut":"1/2"}`, "coping.cut", "more than its two seam allowances, 1/2 in"},
		{"0", printed, `{"edges":"sides","cut":"0"}`, "coping.cut", "is 0"},
		{"wider than is reckoned", printed, `{"edges":"sides","cut":"201"}`, "coping.cut", "the most that is reckoned is 200 in"},
		{"an unknown field", printed, `{"edges":"sides","width":"2"}`, "coping.width", "use edges, cut"},
		{"no motif to bring to meet", `{"cut":"5 1/2"}`, `{"edges":"sides"}`, "coping", "no border has a motif"},
		{"bands that differ", `{"cut":"5 1/2","cutTopBottom":"6","motif":"6"}`, `{"edges":"sides"}`, "coping", "can't mirror there"},
		{"a print that meets already", `{"name":"lamps","cut":"5 1/2","motif":"4"}`, `{"edges":"sides"}`, "coping", "the print of lamps meets at the corners without"},
	} {
		expectFault(t, c.name, with(c.borders, c.coping), c.field, c.says)
	}
	big := `{"center":{"width":"900","length":"900"},"borders":[{"cut":"5"}],"coping":{"edges":"topBottom","cut":"60"}}`
	expectFault(t, "a center too large with them", big, "center.length", "is 1019 in with its coping strips; the most that is reckoned is 1000 in")
}
