package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

// Quarter is corner n of the quilt as it lies, for the map of corners: four of
// them side by side are the whole. How far the corner is shows by which of its
// marks the page lets be seen: q-miter, q-pins, q-eye, q-cut. The seams carry the
// tick that sews them. It is to scale, but for bands too narrow and quilts too long
// to be told apart at the size of a finger.
func (q Quilt) Quarter(n int) string {
	const high = 100
	raw := func(f calc.Figure) float64 { return f.Length.Float(calc.Inch) }
	wide := high * between(0.6, raw(q.Sheet.Raw.Width)/raw(q.Sheet.Raw.Length), 1.4)
	side := wide * between(0.42, 2*raw(q.Sheet.Bands.Sides.Finished)/raw(q.Sheet.Raw.Width), 0.6)
	end := high * between(0.42, 2*raw(q.Sheet.Bands.TopBottom.Finished)/raw(q.Sheet.Raw.Length), 0.6)

	left, top := n == 1 || n == 4, n <= 2
	at := func(x, y float64) string { // from the outer corner inward
		if !left {
			x = wide - x
		}
		if !top {
			y = high - y
		}
		return fmt.Sprintf("%.1f %.1f", x, y)
	}
	sideTick, endTick := "sew.right.sewn", "sew.bottom.sewn"
	if left {
		sideTick = "sew.left.sewn"
	}
	if top {
		endTick = "sew.top.sewn"
	}
	mx, my := side/2, end/2                          // the middle of the miter
	length := math.Hypot(side, end)                  // its length,
	ux, uy := side/length, end/length                // its direction
	across := func(t, by float64) (string, string) { // and a stroke across it
		x, y := side*t, end*t
		return at(x-uy*by, y+ux*by), at(x+uy*by, y-ux*by)
	}
	pinA, pinB := across(0.34, 12)
	pinC, pinD := across(0.7, 12)
	cutA, cutB := at(4+uy*9, 4-ux*9+5), at(side+uy*9, end-ux*9)

	return fmt.Sprintf(`<svg class="quarter" width="%.0f" height="%d" viewBox="0 0 %.1f %d" aria-hidden="true">`+
		`<rect class="q-fabric" width="%.1f" height="%d"/><path class="q-center" d="M%sL%sL%sL%sz"/>`+
		`<path class="q-raw" d="M%sL%sL%s"/><path class="q-seam" data-tick="%s" d="M%sL%s"/><path class="q-seam" data-tick="%s" d="M%sL%s"/>`+
		`<path class="q-miter" d="M%sL%s"/><path class="q-pins" d="M%sL%sM%sL%s"/><path class="q-cut" d="M%sL%s"/>`+
		`<g class="q-eye"><circle cx="%s"/><circle class="q-spot" cx="%s"/></g></svg>`,
		wide, high, wide, high,
		wide, high, at(side, end), at(wide, end), at(wide, high), at(side, high),
		at(1.5, high), at(1.5, 1.5), at(wide, 1.5), sideTick, at(side, end), at(side, high), endTick, at(side, end), at(wide, end),
		at(2, 2), at(side, end), pinA, pinB, pinC, pinD, cutA, cutB,
		circle(at(mx, my), 13), circle(at(mx, my), 5))
}

// circle writes the rest of a circle's attributes after cx=".
func circle(at string, r float64) string {
	var x, y float64
	fmt.Sscan(at, &x, &y)
	return fmt.Sprintf(`%.1f" cy="%.1f" r="%.0f`, x, y, r)
}

func between(least, x, most float64) float64 { return math.Max(least, math.Min(x, most)) }
