package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"cornerwise/calc"
)

// bandOf is one line of a stripe in its own color, #rrggbb: a style sheet can't know
// it, and an attribute is no inline style.
func bandOf(x, y, w, h float64, color string) string {
	return fmt.Sprintf(`<rect fill="%s" x="%s" y="%s" width="%s" height="%s"/>`, color, num(x, 4), num(y, 4), num(w, 4), num(h, 4))
}

// lined paints the lines of a stripe one after the other from y = 0, from x = -wide
// to wide. Outline is how thick a line is rimmed that could not be told from the
// paper; the style sheet shows the rim only in the look that needs it.
func lined(lines []calc.Line, wide, outline float64) string {
	var fills, rims strings.Builder
	y := 0.0
	for _, l := range lines {
		high := in(l.Width)
		fills.WriteString(bandOf(-wide, y, 2*wide, high, l.Color))
		if class := rimOf(l.Color); class != "" {
			thick := min(outline, high/6)
			rims.WriteString(rect(-wide, y, 2*wide, thick, class))
			rims.WriteString(rect(-wide, y+high-thick, 2*wide, thick, class))
		}
		y += high
	}
	return fills.String() + rims.String()
}

// The grounds that fabric is drawn on, as drawing.css has them.
const (
	lightGround = "#fffdf7"
	darkGround  = "#202329"
)

// rimOf is the class of the rim that a color needs on the light ground or on the
// dark one: none where it stands out by 1.6 to 1 from both.
func rimOf(color string) string {
	const near = 1.6
	switch {
	case contrast(color, lightGround) < near:
		return "onlight"
	case contrast(color, darkGround) < near:
		return "ondark"
	}
	return ""
}

// contrast of two colors as WCAG 2.2 defines it, 1 to 21.
func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(color string) float64 {
	if len(color) != 7 {
		return 0
	}
	n, _ := strconv.ParseUint(color[1:], 16, 32)
	var sum float64
	for i, share := range []float64{0.0722, 0.7152, 0.2126} {
		c := float64(n>>(8*i)&255) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += share * c
	}
	return sum
}

// widest is the color that most of the stripe has: the fabric's where its lines are
// too fine to be drawn.
func widest(lines []calc.Line) string {
	widest := lines[0]
	for _, l := range lines[1:] {
		if widest.Width.Less(l.Width) {
			widest = l
		}
	}
	return widest.Color
}

// hasLines tells whether any border is drawn in the person's own colors.
func (q Quilt) hasLines() bool {
	for _, b := range q.Plan.Borders {
		if len(b.Lines) > 0 {
			return true
		}
	}
	return false
}
