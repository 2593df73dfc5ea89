package calc

import "math"

// Marks are the distances from a strip's middle, each way.
type Marks struct {
	ToEnd Figure `json:"toEnd"` // to the center's raw corner
	ToDot Figure `json:"toDot"` // to the dot, a seam allowance in from it
}

func newMarks(p Plan, e Edges) Marks {
	half := p.Center.along(e).Half()
	return Marks{
		ToEnd: Figure{half, p.Unit, Nearest},
		ToDot: Figure{half.Sub(p.Seam), p.Unit, Nearest},
	}
}

// A Corner is one of the four miters; all four are alike.
type Corner struct {
	// The angle between a strip's inner seam and its miter. Its tangent is the
	// finished width of the strip's own band over the neighbor's.
	AngleSides     Degrees `json:"angleSides"`
	AngleTopBottom Degrees `json:"angleTopBottom"`
	// FinishedLine is the miter seam from inner to outer finished corner.
	FinishedLine Figure `json:"finishedLine"`
	// The line drawn from the dot to that strip's raw outer edge.
	DrawnLineSides     Figure `json:"drawnLineSides"`
	DrawnLineTopBottom Figure `json:"drawnLineTopBottom"`
	// Where that line meets the strip's raw outer edge: so far along it from the point square
	// across from the dot. For an angle that no ruler has.
	OutAlongSides     Figure `json:"outAlongSides"`
	OutAlongTopBottom Figure `json:"outAlongTopBottom"`
}

// Equal tells whether the bands are equal, so that every miter is at 45 degrees.
func (c Corner) Equal() bool {
	return c.DrawnLineSides.Length.Equal(c.DrawnLineTopBottom.Length)
}

// sewn is how long a miter is sewn, from the dot: to the raw edge of the strip that has the
// shorter line.
func (c Corner) sewn() Figure {
	if c.DrawnLineTopBottom.Length.Less(c.DrawnLineSides.Length) {
		return c.DrawnLineTopBottom
	}
	return c.DrawnLineSides
}

// sewnOff is by how much a miter of this length is longer than it is sewn, under 0 when
// shorter; 0 from the one strip's raw edge to the other's.
func (c Corner) sewnOff(line Length) Length {
	least, most := c.sewn().Length, longer(c.DrawnLineSides.Length, c.DrawnLineTopBottom.Length)
	switch {
	case line.Less(least):
		return line.Sub(least)
	case most.Less(line):
		return line.Sub(most)
	}
	return Length{}
}

func newCorner(p Plan, bands Pair[Band]) Corner {
	s, t := bands.Sides.Finished.Length, bands.TopBottom.Finished.Length
	line := Hypot(s, t)
	// From the dot the strip's raw outer edge is an allowance beyond its finished one.
	drawn := func(own Length) Figure {
		return Figure{line.Add(line.Scale(p.Seam, own)), p.Unit, Nearest}
	}
	// Along a strip of finished width own the miter runs next for every own outward.
	along := func(own, next Length) Figure {
		return Figure{own.Add(p.Seam).Scale(next, own), p.Unit, Nearest}
	}
	return Corner{
		AngleSides:         angle(s, t),
		AngleTopBottom:     angle(t, s),
		FinishedLine:       Figure{line, p.Unit, Nearest},
		DrawnLineSides:     drawn(s),
		DrawnLineTopBottom: drawn(t),
		OutAlongSides:      along(s, t),
		OutAlongTopBottom:  along(t, s),
	}
}

func angle(own, next Length) Degrees {
	if own.Equal(next) {
		return 45
	}
	return Degrees(math.Atan2(own.Float(Inch), next.Float(Inch)) * 180 / math.Pi)
}
