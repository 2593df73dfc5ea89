package repeat

import (
	"math"

	"cornerwise/calc/photo/flat"
)

// Found is what a picture shows.
type Found struct {
	Turn, Lean    float64 // radians: of the print in the frame, and off square
	Along, Across Axis
}

// Find looks at a flat picture, its width along the strip.
func Find(f *flat.Flat) Found {
	p := even(f)
	a := p.direction()
	straight := p.turned(a)
	along, across := rowLags(straight), rowLags(straight.flipped())
	first := Found{Along: along.axis(across.print), Across: across.axis(along.print)}
	// The repeat itself tells the direction more finely than lines do.
	b := axes{a.u + straight.slope(first.Along), a.v - straight.flipped().slope(first.Across)}
	if first.Along.Kind == Plain {
		b.u = a.u
		if first.Across.Kind == Plain || first.Across.Kind == None {
			b = a
		} else {
			b.v = a.u // stripes: square to themselves
		}
	} else if first.Across.Kind == Plain {
		b.v = b.u
	}
	if math.Abs(b.u-a.u) > 0.0007 || math.Abs(b.v-a.v) > 0.0007 {
		a = b
		straight = p.turned(a)
		along, across = rowLags(straight), rowLags(straight.flipped())
	}
	found := Found{Turn: a.u, Lean: a.v - a.u, Along: along.axis(across.print), Across: across.axis(along.print)}
	straight.mirror(&found.Along)
	straight.flipped().mirror(&found.Across)
	// A sheet laid by eye is squarer than this: other lines were followed.
	if math.Abs(found.Turn) > sureTurn {
		for _, a := range []*Axis{&found.Along, &found.Across} {
			if a.Kind == Sure {
				a.Kind = Look
			}
		}
	}
	return found
}
