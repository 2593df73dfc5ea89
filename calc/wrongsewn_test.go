package calc_test

import (
	"strings"
	"testing"

	"cornerwise/calc"
)

// answered is what a trouble comes to on this plan.
func answered(t *testing.T, p calc.Plan, id string, in calc.Entered, lengths map[string]string) calc.Answer {
	t.Helper()
	in.Lengths = map[string]calc.Length{}
	for ask, l := range lengths {
		in.Lengths[ask] = length(t, l)
	}
	x, _ := calc.TroubleOf(id)
	return x.Answer(p, calc.NewSheet(p), in, calc.DefaultLimits(p.Unit))
}

// (derived) Trimmed 1/4 in from its miter a tail reaches 1/4 × √2 − 1/4 = 0.104 in past the
// dot. A band of 47 for 48 1/2 wants 3/4 in at each end.
func TestATrimmedBandIsNotMarkedLonger(t *testing.T) {
	p := planOf(t, one("36 1/2", "48 1/2", "5 1/2", "5 1/2"))
	for name, c := range map[string]struct {
		band    string
		trimmed bool
		title   string
	}{
		"not trimmed yet":                {"47", false, "Mark and pin again"},
		"trimmed, and too short":         {"47", true, "A new strip"},
		"trimmed, and too long by 1 1/2": {"50", true, "Mark and pin again"},
	} {
		a := answered(t, p, "band-length", calc.Entered{Edges: calc.Sides, Mitered: true, Trimmed: c.trimmed}, map[string]string{"band": c.band})
		if len(a.Ways) != 1 || a.Ways[0].Title != c.title {
			t.Errorf("%s: %+v; want %q", name, a.Ways, c.title)
		}
	}
	a := answered(t, p, "band-length", calc.Entered{Edges: calc.Sides, Mitered: true, Trimmed: true}, map[string]string{"band": "47"})
	if !strings.Contains(a.Say[1], "reach 1/8 in past the dots, and 3/4 in more is wanted") {
		t.Errorf("trimmed, and too short: %q; want what is there and what is wanted", a.Say)
	}
}

// The center lies on top, or its dots are hidden; where the band is the fuller one it lies
// below.
func TestTheCenterLiesOnTopWhereABandIsEased(t *testing.T) {
	p := planOf(t, one("36 1/2", "48 1/2", "5 1/2", "5 1/2"))
	for band, says := range map[string]string{"48": "Sew with the center on top; ease it in", "49": "with the fuller layer below"} {
		if a := answered(t, p, "band-length", calc.Entered{Edges: calc.Sides}, map[string]string{"band": band}); a.Kind != calc.Ease || !strings.Contains(a.Say[1], says) {
			t.Errorf("a band of %s: %s %q; want %q", band, a.Kind, a.Say, says)
		}
	}
}

// Both outer edges 1/2 in longer than the middle: square, and not flat. 1/4 in eases in 20 in
// (cp), 0.556 in in 44 1/2.
func TestATopThatIsSquareMayNotLieFlat(t *testing.T) {
	p := planOf(t, one("34 1/2", "62", "5 1/2", "5 1/2"))
	top := map[string]string{"top-width-top": "45", "top-width-middle": "44 1/2", "top-width-bottom": "45",
		"top-length-left": "72", "top-length-middle": "72", "top-length-right": "72", "top-diagonal-1": "84 7/8", "top-diagonal-2": "84 7/8"}
	a := answered(t, p, "out-of-square", calc.Entered{}, top)
	if a.Kind != calc.Ease || !strings.Contains(strings.Join(a.Say, " "), "top and bottom edges are 1/2 in longer than the middle") {
		t.Errorf("45, 44 1/2, 45: %s %q; want its edges told beside its middle", a.Kind, a.Say)
	}
	top["top-width-middle"] = "45"
	if a = answered(t, p, "out-of-square", calc.Entered{}, top); a.Kind != calc.Rectangle || len(a.Say) != 1 {
		t.Errorf("45 three times: %s %q; want a true rectangle and no more", a.Kind, a.Say)
	}
}

// A strip that is sewn on is not told to be left off. Short and narrow, the ways out are told
// of once, and a piece joined to it is as wide as it is.
func TestAShortStripThatIsSewnOn(t *testing.T) {
	p := planOf(t, one("36", "36", "4", "2"))
	in := calc.Entered{Border: 1, Edges: calc.Sides}
	for sewn, want := range map[bool]bool{false: true, true: false} {
		in.Sewn = sewn
		a := answered(t, p, "short-strip", in, map[string]string{"length": "30", "width": "3 7/8"})
		said := strings.Join(a.Say, " ")
		if strings.Contains(said, "Do not sew it on") != want || strings.Count(said, "Choose a way out") != 1 {
			t.Errorf("sewn %v: %q", sewn, a.Say)
		}
		joined, _ := wayOf(a.Ways, "joined")
		if got := figure(t, joined, "piece, wide").Shown(); got != "3 7/8 in" {
			t.Errorf("a piece for a strip 3 7/8 in wide is %s wide", got)
		}
	}
}

// 59 3/4 for 60.7 is 15/16 in off: no whole inch, and no thousandths. A seam of 7.5 mm is told
// so, not as a centimeter's hundredths. (derived)
func TestFiguresAreToldAsARulerHasThem(t *testing.T) {
	question, _ := usual.Doubt(length(t, "60.700082"), length(t, "59 3/4"))
	if question != "59 3/4 in is almost an inch less than the plan's 60 11/16 in. Did the tape begin at 0?" {
		t.Errorf("59 3/4 for 60.7: %q", question)
	}
	p := planOf(t, `{"unit":"cm","center":{"width":"90","length":"120"},"borders":[{"cut":"12"}]}`)
	a := answered(t, p, "allowance", calc.Entered{}, map[string]string{"across": calc.NewSeamTest(p).Across.Length.Sub(calc.Of(2, 10, calc.Centimeter)).Value(calc.Centimeter) + " cm"})
	if !strings.Contains(a.Say[0], "instead of 7.5 mm") {
		t.Errorf("a fat seam in centimeters: %q; want 7.5 mm", a.Say)
	}
	for _, f := range a.Figures {
		if f.Name == "four seams of it" {
			t.Errorf("a top of two seams: %+v; want nothing of four", a.Figures)
		}
	}
}
