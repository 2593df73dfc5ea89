package draw

import (
	"fmt"
	"math"

	"cornerwise/calc"
)

func (q Quilt) corner(p *pen, s Scene) string {
	return fmt.Sprintf("Corner %d, %s", s.Corner, cornerWords[s.Corner]) + q.cornerAct(p, s)
}

func (q Quilt) cornerAct(p *pen, s Scene) string {
	switch s.Act {
	case "fold", "match":
		return q.fold(p, s)
	case "turn":
		return q.allowanceTurned(p, s)
	case "line-sides", "line-topBottom":
		return q.spread(p, s)
	case "line", "pin":
		return q.folded(p, s)
	case "sew":
		return q.miterSewn(p, s)
	case "trim":
		return q.miterTrimmed(p, s)
	case "open", "behind":
		return q.behind(p, s)
	case "square":
		return q.outerSquared(p, s)
	}
	return q.opened(p, s)
}

// degrees shows an angle: 45°, 33.7°.
func degrees(d float64) string {
	if math.Abs(d-math.Round(d)) < 0.0005 {
		return fmt.Sprintf("%.0f°", d)
	}
	return fmt.Sprintf("%.1f°", d)
}

// angle is the sheet's angle between a strip's seam and its miter.
func (q Quilt) angle(e calc.Edges) float64 {
	if e == calc.TopBottom {
		return float64(q.Sheet.Corner.AngleTopBottom)
	}
	return float64(q.Sheet.Corner.AngleSides)
}

// drawn is the sheet's line from the dot to a strip's raw outer edge.
func (q Quilt) drawn(e calc.Edges) calc.Figure {
	if e == calc.TopBottom {
		return q.Sheet.Corner.DrawnLineTopBottom
	}
	return q.Sheet.Corner.DrawnLineSides
}

// tail is how far the strips on e hang beyond the dot.
func (q Quilt) tail(e calc.Edges) float64 { return q.half(e) - q.along(e) }
