package calc_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
)

// A seam at 1 of a band of 6 and 1 of 7, across a miter of √85: 9.2195 × (1/6 − 1/7) = 0.2195,
// up to a 1/16, whichever pair is the wider one.
func TestASeamThatJumpsSaysByHowMuch(t *testing.T) {
	for _, outer := range []string{`"cut":"5 1/2","cutTopBottom":"6 1/2"`, `"cut":"6 1/2","cutTopBottom":"5 1/2"`} {
		s := calc.NewSheet(planOf(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"dark line","cut":"1 1/2"},{"name":"ticking",`+outer+`}]}`))
		if notes := strings.Join(s.Notes, "\n"); !strings.Contains(notes, "The seam between dark line and ticking jumps by about 1/4 in") {
			t.Errorf("%s: notes\n%s\nwant a jump of about 1/4 in", outer, notes)
		}
	}
}

// A line y from the seam reaches the miter of bands S and T at the share y / S on the
// one strip and y / T on the other (derived): the same for every y only where S = T.
func TestWhereTheLinesOfAStripeCannotMeet(t *testing.T) {
	for _, c := range []struct{ name, borders, want string }{
		{"one width all round", `{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}`, ""},
		{"wider on top and bottom", `{"name":"ticking","cut":"5 1/2","cutTopBottom":"6 1/2","stripe":"1 1/8"}`, "ticking: the bands finish at 5 in on the sides and 6 in on top and bottom"},
		{"no stripe", `{"name":"ticking","cut":"5 1/2","cutTopBottom":"6 1/2"}`, ""},
		{"bands alike, the stripe further out on one pair", `{"name":"dark line","cut":"1 1/2","cutTopBottom":"2"},{"name":"ticking","cut":"5","cutTopBottom":"4 1/2","stripe":"1"}`,
			"ticking: it begins at 1 in on the sides and 1 1/2 in on top and bottom"},
	} {
		s := calc.NewSheet(planOf(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[`+c.borders+`]}`))
		got := ""
		for _, note := range s.Notes {
			if strings.Contains(note, "lines of the stripe") {
				got += note
			}
		}
		if (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: the sheet notes %q, want %q", c.name, got, c.want)
		}
	}
}
