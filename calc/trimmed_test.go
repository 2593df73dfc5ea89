package calc_test

import (
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
)

// trimmedTo is the answer once the center is left at this size.
func trimmedTo(t *testing.T, p calc.Plan, in calc.Entered, width, length_ string) calc.Answer {
	t.Helper()
	x, _ := calc.TroubleOf("center-trimmed")
	in.Lengths = map[string]calc.Length{"width": length(t, width), "length": length(t, length_)}
	return x.Answer(p, calc.NewSheet(p), in, calc.DefaultLimits(p.Unit))
}

// (derived) Prints that met on 44 1/2 x 56 1/2, 6 in to the repeat, miss on 43 1/2 by half
// of what came off, 1/2 in; 1/2 in on either side, cut 1 in, brings them back.
func TestPrintsMissOnATrimmedCenter(t *testing.T) {
	p := planOf(t, `{"center":{"width":"44 1/2","length":"56 1/2"},"borders":[{"name":"lanterns","cut":"6 1/2","motif":"6"}]}`)
	a := trimmedTo(t, p, calc.Entered{}, "43 1/2", "56 1/2")
	said := strings.Join(a.Say, " ")
	if a.Kind != string(calc.LookStripes) || !strings.Contains(said, "miss each other by 1/2 in at every corner") ||
		!strings.Contains(said, "on the sides, cut 1 in,") || !strings.Contains(said, "finishes at 1/2 in") {
		t.Errorf("trimmed by 1 in: %s %q, want the prints to miss by 1/2 in and coping strips of 1 in", a.Kind, a.Say)
	}
	a = trimmedTo(t, p, calc.Entered{}, "44 1/2", "55 1/2")
	if said = strings.Join(a.Say, " "); !strings.Contains(said, "on the top and bottom, cut 1 in,") {
		t.Errorf("1 in shorter: %q, want coping strips on top and bottom", a.Say)
	}
	a = trimmedTo(t, p, calc.Entered{}, "43 1/2", "55 1/2")
	if said = strings.Join(a.Say, " "); a.Kind != calc.Right || strings.Contains(said, "miss") {
		t.Errorf("trimmed alike both ways: %s %q, want the prints to meet", a.Kind, a.Say)
	}
}

// (derived) With coping strips on, the center is 48 1/2 across with them: trimmed to 48 its
// marks lie 24 in from the middle, and nothing is added once more.
func TestACopedCenterIsMeasuredWithItsStrips(t *testing.T) {
	p := planOf(t, `{"center":{"width":"44 1/2","length":"58 1/2"},"coping":{"edges":"sides","cut":"2 1/2"},"borders":[{"name":"vine","cut":"5 1/2"}]}`)
	if got := calc.NewSheet(p).Center.Width.Shown(); got != "48 1/2 in" {
		t.Fatalf("44 1/2 and two strips of 2 1/2 are %s, want 48 1/2 in", got)
	}
	a := trimmedTo(t, p, calc.Entered{Coped: true}, "48", "58 1/2")
	ends := calc.Figure{}
	for _, f := range a.Figures {
		if f.Name == "middle to end, top and bottom" {
			ends = f.Figure
		}
	}
	if a.Kind != calc.Right || ends.Shown() != "24 in" {
		t.Errorf("trimmed to 48 with its strips: %s, marks at %s; want right, 24 in", a.Kind, ends.Shown())
	}
	x, _ := calc.TroubleOf("center-trimmed")
	if got := x.Coped().Asks[0].Label; got != "Center's width now, with its coping strips" {
		t.Errorf("it asks for %q", got)
	}
}

// 30 in for 36 1/2 in is asked about. Two strips of a pair that are alike are told once.
func TestATrimThatIsHardToBelieveIsAskedAbout(t *testing.T) {
	p := planOf(t, one("36 1/2", "48 1/2", "5 1/2", "5 1/2"))
	cut := calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "63 1/2")}
	a := trimmedTo(t, p, calc.Entered{Strips: []calc.CutStrip{cut, cut}}, "30", "48 1/2")
	if !strings.Contains(a.Say[0], "30 in is 6 1/2 in less than the plan's 36 1/2 in") {
		t.Errorf("30 for 36 1/2: %q, want it asked about", a.Say)
	}
	told := slices.DeleteFunc(a.Say, func(s string) bool { return !strings.Contains(s, "sides") })
	if len(told) != 1 {
		t.Errorf("two strips alike: %q, want them told once", told)
	}
}
