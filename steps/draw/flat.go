package draw

import "cornerwise/calc"

// Strips lie on their fabric as the cutting page lays them, right side up: along the selvage
// with the inner edge left, across the fabric with the inner edge at the top. The table's
// places count from the strip's inner edge and its middle: where it is upright, x from the
// inner edge and y from the middle, down; where it is level, x from the middle and y down
// from the inner edge. The strip's own places are x along it and y outward from its inner edge.

// flat is the frame from a strip's own places to the table's.
func (q Quilt) flat(edge string, up bool) frame {
	way := 1.0
	if q.on(edge).mirrors() {
		way = -1
	}
	if up {
		return frame{0, -way, 1, 0, 0, 0}
	}
	return frame{way, 0, 0, 1, 0, 0}
}

// Of a one-way print a strip may lie the other way round on the cutting page, which has its
// heads all one way; it is shown from its other end.

// headsDown tells a strip that flat lays on its head, of a print that stands up on every edge: the
// left one. Where words name a side of it, it is shown with its heads up.
func (q Quilt) headsDown(s Scene, up bool) bool {
	return up && s.Kind == StripScene && s.Edge == "left" && q.Plan.Borders[s.Border-1].Fabric.Heads == calc.Up
}

// halfTurned is a frame of the table's places in which a strip that lies upright lies the other
// way round.
func halfTurned(flat frame, wide float64) frame { return frame{-1, 0, 0, -1, wide, 0}.of(flat) }

// layStrip lays what of a strip lies in an outline, which is in the strip's own places.
func (q Quilt) layStrip(p *pen, border int, edge string, f frame, outline []pt) {
	own := q.on(edge).of(move(0, q.seams(edgesOf(edge))[border-1]-q.seam()))
	q.layOne(p, layer{part: edge, border: border, at: f.of(inverse(own)), outline: own.all(outline)})
}

// liesUpright tells whether the strip of a scene lies upright on the cutting page.
func (q Quilt) liesUpright(s Scene) bool {
	if s.Kind == CopingScene {
		return q.Sheet.Coping.Fabric.Pick != "crosswise"
	}
	way, lengthwise := q.wayOf(s.Border - 1)
	fabric := q.Plan.Borders[s.Border-1].Fabric
	switch {
	case fabric.Heads != "":
		return fabric.Heads.AlongOn(edgesOf(s.Edge))
	case way == nil: // it fits no fabric: as the plan wants it
		return fabric.Runs != "crosswise"
	}
	return lengthwise
}
