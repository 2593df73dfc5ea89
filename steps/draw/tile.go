package draw

import (
	"fmt"
	"html"
	"math"
	"strings"
)

// A Tile is a picture of one repeat of a border's fabric as a photo shows it: its right side, x
// along the strip, y from the strip's inner edge outward.
type Tile struct {
	Address       string  // of the picture; "": the border has none
	Along, Across float64 // inches that it shows
	Axis          float64 // inches from its left to where the print mirrors
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
