package draw

import (
	"fmt"
	"html"
	"math"
	"strings"

	"cornerwise/calc"
)

// A Tile is a picture of one repeat of a border's fabric as a photo shows it: its right side, x
// along the strip, y from the strip's inner edge outward.
type Tile struct {
	Address       string  // of the picture; "": the border has none
	Along, Across float64 // inches that it shows
	Axis          float64 // inches from its left to where the print mirrors
	Down          bool    // the strip runs down the photo, whose top is the tile's left
}

// lies is how the tile of a border lies on a strip, whose frame counts x along it and y outward,
// and mirrors on two of the four edges. The tile is turned, and never seen mirrored. A print with
// its heads up lies on every edge as the photo shows it, one with its heads outwards upside down:
// a photo is taken with its heads up.
func (q Quilt) lies(i int, e calc.Edges, mirrors bool) frame {
	turned := move(0, 0)
	if mirrors {
		turned = likePage
	}
	switch q.Plan.Borders[i].Fabric.Heads {
	case calc.Outwards:
		return turned.of(frame{-1, 0, 0, -1, 0, 0})
	case calc.Up:
		edge := map[calc.Edges]map[bool]string{calc.Sides: {false: "left", true: "right"}, calc.TopBottom: {false: "bottom", true: "top"}}[e][mirrors]
		on := q.on(edge)
		turned = inverse(frame{on.a, on.b, on.c, on.d, 0, 0})
		if q.tile(i).Down {
			turned = turned.of(frame{0, 1, -1, 0, 0, 0})
		}
	}
	return turned
}

// photographed tells whether the fabric of border i is drawn from a photo.
func (q Quilt) photographed(i int) bool { return q.Plan.Borders[i].HasSwatch() }

func (q Quilt) tile(i int) Tile {
	if i < len(q.Tiles) {
		return q.Tiles[i]
	}
	return Tile{}
}

// tiled is the pattern of a border from its tile, which is moved so that the mirror axis lies at
// x = 0 and the strip's inner raw edge at y = 0. While the picture is not there the ground shows.
func (q Quilt) tiled(i int) string {
	t := q.tile(i)
	var s strings.Builder
	s.WriteString(rect(-t.Along/2, 0, t.Along, t.Across, q.ground(i)))
	for x := math.Mod(-t.Axis, t.Along) - t.Along; x < t.Along/2; x += t.Along {
		if x > -1.5*t.Along {
			s.WriteString(q.picture(t, x))
		}
	}
	return pattern(fmt.Sprintf("stripe-%d", i+1), -in(q.Plan.Borders[i].Start), t.Along, t.Across, s.String())
}

// picture is the tile with its left at x, a little larger: no gap shows between two.
func (q Quilt) picture(t Tile, x float64) string {
	const more = 1.004
	return fmt.Sprintf(`<image xlink:href="%s" x="%s" width="%s" height="%s" preserveAspectRatio="none"/>`,
		html.EscapeString(t.Address), num(x, 4), num(t.Along*more, 4), num(t.Across*more, 4))
}
