package draw_test

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// printed are the places that prints are laid from: the frame of each filling with
// a pattern, in order.
func printed(t *testing.T, svg, pattern string) []matrix {
	t.Helper()
	var all []matrix
	for _, m := range regexp.MustCompile(`fill="url\(#`+pattern+`\)" transform="matrix\(([^)]*)\)`).FindAllStringSubmatch(svg, -1) {
		var f matrix
		copy(f[:], numbers(t, m[1]))
		all = append(all, f)
	}
	return all
}

// The lines of a stripe stand in the pattern in the order of the plan, from the
// line that the strip starts on.
func TestAStripeIsDrawnAsThePlanHasIt(t *testing.T) {
	q := quilts(t)["lines of its own"]
	defs := q.Defs()
	start := strings.Index(defs, `<pattern id="stripe-2"`)
	if start < 0 {
		t.Fatalf("the Defs have no pattern stripe-2")
	}
	tile := defs[start : start+strings.Index(defs[start:], "</pattern>")]
	if !strings.Contains(tile, ` y="-0.25"`) { // the plan's start
		t.Errorf("the stripe does not begin 1/4 in before the inner edge: %s", tile)
	}
	var got []string
	for _, m := range regexp.MustCompile(`fill="(#[0-9a-f]+)" x="[^"]*" y="([^"]*)" width="[^"]*" height="([^"]*)"`).FindAllStringSubmatch(tile, -1) {
		got = append(got, strings.Join(m[1:], " "))
	}
	want := []string{"#22375c 0 0.375", "#fbf5e6 0.375 0.125", "#a8322a 0.5 0.125", "#fbf5e6 0.625 0.375", "#23262c 1 0.125"}
	if strings.Join(got, ", ") != strings.Join(want, ", ") {
		t.Errorf("lines: got %q, want %q (color, place, width)", got, want)
	}
}

// Where the bands are equal each line of the stripe comes to the miter at the same
// place from both strips; where they differ some line visibly does not.
func TestLinesTurnTheCornerWhereTheBandsAreEqual(t *testing.T) {
	for name, c := range map[string]struct {
		pattern string
		meets   bool
	}{"lines of its own": {"stripe-2", true}, "lines on unequal bands": {"stripe-1", false}} {
		q := quilts(t)[name]
		b := q.Plan.Borders[len(q.Plan.Borders)-1]
		for corner := 1; corner <= 4; corner++ {
			svg := q.Draw(draw.Scene{Kind: draw.CornerScene, Act: "look", Corner: corner})
			frames := printed(t, svg, c.pattern) // the strip beneath, then the one on it
			if len(frames) != 2 {
				t.Fatalf("%s, corner %d: %d strips have their stripe, want 2", name, corner, len(frames))
			}
			if corner%2 == 0 { // top or bottom, then side
				frames[0], frames[1] = frames[1], frames[0]
			}
			_, marks := read(t, svg)
			eye := only(t, marks, "circle", "loupe").places // around the dot
			dot := [2]float64{(eye[0][0] + eye[1][0]) / 2, (eye[0][1] + eye[1][1]) / 2}
			k := math.Hypot(frames[0][0], frames[0][1])
			wide := q.Sheet.Bands.Sides.Finished.Length.Float(calc.Inch) * k
			high := q.Sheet.Bands.TopBottom.Finished.Length.Float(calc.Inch) * k
			worst := 0.0
			for y := q.Plan.Seam.Float(calc.Inch); y < b.Cut.Float(calc.Inch); y += 0.125 {
				onTop := math.Abs(frames[0].at(0, y)[1]-dot[1]) / high // share of the miter
				onSide := math.Abs(frames[1].at(0, y)[0]-dot[0]) / wide
				worst = max(worst, math.Abs(onTop-onSide)*math.Hypot(wide, high))
			}
			if c.meets && worst > 0.3 || !c.meets && worst < 10 {
				t.Errorf("%s, corner %d: lines come to the miter up to %.1f apart, meets should be %v", name, corner, worst, c.meets)
			}
		}
	}
}

// A color that is lost on the paper of one look has a rim that shows in that look.
func TestColorsLikeThePaperAreRimmed(t *testing.T) {
	css, err := os.ReadFile("../../static/drawing.css")
	if err != nil {
		t.Fatal(err)
	}
	sheets := regexp.MustCompile(`--sheet: (#[0-9a-f]{6})`).FindAllSubmatch(css, -1) // light, dark, dark
	if len(sheets) < 2 {
		t.Fatalf("drawing.css has %d papers, want a light and a dark one", len(sheets))
	}
	repeat := calc.Of(1, 1, calc.Inch)
	for color, want := range map[string]string{
		string(sheets[0][1]): "onlight", string(sheets[1][1]): "ondark", "#ffffff": "onlight", "#000000": "ondark", "#a8322a": "",
	} {
		svg := draw.Swatch([]calc.Line{{Width: repeat, Color: color}}, repeat)
		for _, class := range []string{"onlight", "ondark"} {
			if got := strings.Contains(svg, `class="`+class+`"`); got != (class == want) {
				t.Errorf("Swatch of %s: has a rim %q is %v, want %v", color, class, got, class == want)
			}
		}
	}
}

func TestASwatchNamesItsLines(t *testing.T) {
	label, marks := read(t, draw.Swatch(ticking(), calc.Of(9, 8, calc.Inch)))
	if want := "Stripe of navy, cream, red, cream, ink"; label != want {
		t.Errorf("Swatch: label is %q, want %q", label, want)
	}
	if len(marks) < 10 {
		t.Errorf("Swatch: %d marks, want two repeats of 5 lines", len(marks))
	}
	if got := draw.Swatch(nil, calc.Of(1, 1, calc.Inch)); got != "" {
		t.Errorf("Swatch of no lines: got %q, want nothing", got)
	}
}
