package calc_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"cornerwise/calc"
)

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"36 1/2", "36-1/2", "36½", "36.5", "92,7 cm", "365 mm", "1 yd", `36 1/2"`, "", "-1", "1e9", "3½6", "1/0", "⁄", "3′", "999999,999999 m", "\xff"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, written string, metric bool) {
		u := calc.Inch
		if metric {
			u = calc.Centimeter
		}
		l, err := calc.ParseLength(written, u)
		if err != nil {
			if m := err.Error(); len(m) > 400 || strings.ContainsAny(m, "\r\n\x00") {
				t.Errorf("ParseLength(%q): the message is not one short line: %q", written, m)
			}
			return
		}
		if l.Sign() < 0 {
			t.Errorf("ParseLength(%q, %s) = %s in, under 0", written, u, l.Value(calc.Inch))
		}
		if !strings.ContainsFunc(written, func(c rune) bool {
			return '0' <= c && c <= '9' || strings.ContainsRune("½¼¾⅛⅜⅝⅞⅓⅔⅙⅚⅕⅖⅗⅘", c)
		}) {
			t.Errorf("ParseLength(%q, %s) = %s in, out of no digit", written, u, l.Value(calc.Inch))
		}
		if calc.Of(9e5, 1, calc.Centimeter).Less(l) {
			return // shown, it has more digits than are read
		}
		for _, r := range roundings {
			checkReadsBack(t, l, u, r)
		}
	})
}

func FuzzParsePlan(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte(one("36 1/2", "48 1/2", "5 1/2", "4")))
	f.Add([]byte(`{"unit":"cm","seam":0.000001,"center":{"width":1,"length":2540},"borders":[{"cut":0.01,"cutTopBottom":508}]}`))
	f.Add([]byte(`{"center":{"width":60.5,"length":"80.5"},"borders":[{"cut":5.5,"motif":6,"start":"1/8","lines":[{"name":"navy","width":"3/4","color":"#1f3a5f"},{"width":".5","color":"#FFFFFF"}]}],"coping":{"edges":"sides","cut":null}}`))
	f.Add([]byte(`{"borders":[{}],"center":{},"x":[[[]]]}`))
	f.Add([]byte(`[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := calc.ParsePlan(data)
		if err != nil {
			var faults calc.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("ParsePlan(%q) = %v, which is not Faults", data, err)
			}
			checkFaults(t, faults)
			return
		}
		s := calc.NewSheet(p)
		if text, err := json.Marshal(s); err != nil || !json.Valid(text) {
			t.Errorf("ParsePlan(%q): its sheet is %q, %v", data, text, err)
		}
		if len(s.Strips) != 2*len(p.Borders) {
			t.Errorf("ParsePlan(%q): %d strips for %d borders", data, len(s.Strips), len(p.Borders))
		}
		for _, strip := range s.Strips {
			if strip.CutLength.Length.Less(strip.LeastLength.Length) {
				t.Errorf("ParsePlan(%q): cut %s, least %s", data, strip.CutLength.Value(), strip.LeastLength.Value())
			}
		}
	})
}
