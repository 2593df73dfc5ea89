package calc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// finished is a plan whose bands finish at these widths, in inches.
func finished(t rapid.TB, sides, topBottom string) string {
	t.Helper()
	cut := func(width string) string {
		return length(t, width).Add(length(t, "1/2")).Value(calc.Inch)
	}
	return fmt.Sprintf(`{"center":{"width":"30","length":"40"},"borders":[{"cut":%q,"cutTopBottom":%q}]}`, cut(sides), cut(topBottom))
}

func TestCornerAngles(t *testing.T) {
	for _, c := range []struct{ sides, topBottom, angleSides, angleTopBottom, source string }{
		{"3/4", "1 1/16", "35.2176", "54.7824", "Bee Happy Graphics, 2022 (picture frames): 35.2"},
		{"5", "5", "45.0000", "45.0000", "(derived)"},
		{"1", "2", "26.5651", "63.4349", "(derived) atan 1/2"},
		{"2", "3", "33.6901", "56.3099", "(derived) atan 2/3"},
		{"3", "4", "36.8699", "53.1301", "(derived) atan 3/4"},
		{"5", "12", "22.6199", "67.3801", "(derived) atan 5/12"},
		{"4", "3", "53.1301", "36.8699", "(derived) atan 4/3"},
	} {
		corner := sheetOf(t, finished(t, c.sides, c.topBottom)).Corner
		if s, tb := corner.AngleSides.String(), corner.AngleTopBottom.String(); s != c.angleSides || tb != c.angleTopBottom {
			t.Errorf("bands finished %s and %s: angles %s and %s; want %s and %s (%s)",
				c.sides, c.topBottom, s, tb, c.angleSides, c.angleTopBottom, c.source)
		}
		if got, want := corner.Equal(), c.sides == c.topBottom; got != want {
			t.Errorf("bands finished %s and %s: Equal() = %t; want %t", c.sides, c.topBottom, got, want)
		}
	}
}

func TestCornerLinesAreExactWhereTheyCan(t *testing.T) {
	// 3-4-5 and 5-12-13 (derived). The line drawn goes an allowance further out:
	// 5 x (3 + 1/4) / 3 on the sides, 5 x (4 + 1/4) / 4 on top and bottom.
	for _, c := range []struct{ sides, topBottom, line, drawnSides, drawnTopBottom string }{
		{"3", "4", "5", "5.416667", "5.3125"},
		{"5", "12", "13", "13.65", "13.270833"},
		{"12", "5", "13", "13.270833", "13.65"},
		{"1", "1", "1.414214", "1.767767", "1.767767"},
	} {
		corner := sheetOf(t, finished(t, c.sides, c.topBottom)).Corner
		got := [3]string{corner.FinishedLine.Value(), corner.DrawnLineSides.Value(), corner.DrawnLineTopBottom.Value()}
		if want := [3]string{c.line, c.drawnSides, c.drawnTopBottom}; got != want {
			t.Errorf("bands finished %s and %s: finished line, drawn on sides, on top and bottom %v; want %v",
				c.sides, c.topBottom, got, want)
		}
	}
}

// Any corner: the two angles make a right one, and each line, taken apart at its
// angle, is as wide as what it crosses.
func TestCornersClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sheetOf(t, plans(4).Draw(t, "plan"))
		c := s.Corner
		if sum := float64(c.AngleSides + c.AngleTopBottom); !near(sum, 90, 1e-9) {
			t.Errorf("angles %s and %s add to %g; want 90", c.AngleSides, c.AngleTopBottom, sum)
		}
		seam := s.Seam.Length.Float(calc.Inch)
		for _, e := range []struct {
			angle calc.Degrees
			drawn calc.Figure
			edges calc.Edges
		}{{c.AngleSides, c.DrawnLineSides, calc.Sides}, {c.AngleTopBottom, c.DrawnLineTopBottom, calc.TopBottom}} {
			sin, width := math.Sin(float64(e.angle)*math.Pi/180), s.Bands.On(e.edges).Finished.Length.Float(calc.Inch)
			if got := c.FinishedLine.Length.Float(calc.Inch) * sin; !near(got, width, 1e-9) {
				t.Errorf("%s: the finished line rises %g; want the band's finished width %g", e.edges, got, width)
			}
			if got := e.drawn.Length.Float(calc.Inch) * sin; !near(got, width+seam, 1e-9) {
				t.Errorf("%s: the drawn line rises %g; want the finished width and the seam allowance, %g", e.edges, got, width+seam)
			}
		}
	})
}

func TestBorderSeamThatJumpsAtTheMiterIsNoted(t *testing.T) {
	const plan = `{"center":{"width":"30","length":"40"},"borders":[{"name":"rope","cut":%q,"cutTopBottom":%q},{"name":"sail","cut":"5 1/2","cutTopBottom":%q}]}`
	// Finished 1 of 6 on the sides and 1 of 7 on top and bottom: on a miter of
	// √85 the two seams arrive √85 x (1/6 − 1/7) = 0.2195 apart, up to 1/16: 1/4 (derived).
	notes := sheetOf(t, fmt.Sprintf(plan, "1 1/2", "1 1/2", "6 1/2")).Notes
	if len(notes) != 1 || !strings.Contains(notes[0], "between rope and sail jumps by about 1/4 in") {
		t.Errorf("notes %q; want one of the seam between rope and sail, 1/4 in", notes)
	}
	// Twice as wide on top and bottom in both borders: 2 of 12, the same share.
	if notes := sheetOf(t, fmt.Sprintf(plan, "1 1/2", "2 1/2", "10 1/2")).Notes; strings.Contains(strings.Join(notes, " "), "jumps") {
		t.Errorf("bands in proportion: notes %q; want none of a seam that jumps", notes)
	}
}

// From dot to raw outer edge and along it to the line's end are the sides of a right triangle
// whose hypotenuse is the line (derived).
func TestTheLinesEndLiesOnTheOuterEdge(t *testing.T) {
	for _, c := range []struct{ sides, topBottom, outSides, outTopBottom string }{
		{"4", "6", "6 3/8 in", "4 3/16 in"}, // 4 1/4 x 6/4; 6 1/4 x 4/6 = 4 1/6
		{"3", "4", "4 5/16 in", "3 3/16 in"},
		{"5", "5", "5 1/4 in", "5 1/4 in"},
	} {
		corner := sheetOf(t, finished(t, c.sides, c.topBottom)).Corner
		if s, tb := corner.OutAlongSides.Shown(), corner.OutAlongTopBottom.Shown(); s != c.outSides || tb != c.outTopBottom {
			t.Errorf("bands finished %s and %s: the lines end %s and %s along; want %s and %s", c.sides, c.topBottom, s, tb, c.outSides, c.outTopBottom)
		}
		line, along := corner.DrawnLineSides.Length.Float(calc.Inch), corner.OutAlongSides.Length.Float(calc.Inch)
		out := length(t, c.sides).Float(calc.Inch) + 0.25
		if math.Abs(math.Hypot(out, along)-line) > 1e-9 {
			t.Errorf("bands finished %s and %s: out %v and along %v, but the line is %v", c.sides, c.topBottom, out, along, line)
		}
	}
}
