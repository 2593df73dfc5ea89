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
	p, room := newPlane(f.W, f.H, f.PPI), newPlane(f.W, f.H, f.PPI)
	even(p, room.ch[0], f, fitLight(f, nil))
	a, rough := p.thinned(2, 2).settle(p.direction())
	even(p, room.ch[0], f, fitLight(f, steps(f, a, rough)))
	found := Found{Turn: a.u, Lean: a.v - a.u}
	found.Along = p.turned(room, a, false).look(rough[1])
	found.Across = p.turned(room, a, true).look(rough[0])
	if p.thinned(4, 4).aslant(a, found.Along, found.Across) {
		found.Along.turnedAway()
		found.Across.turnedAway()
	}
	// A sheet laid by eye is squarer than this: other lines were followed.
	if math.Abs(found.Turn) > sureTurn {
		found.Along.turnedAway()
		found.Across.turnedAway()
	}
	found.Along.besideUneven(found.Across)
	found.Across.besideUneven(found.Along)
	found.Along.besideNothing(found.Across)
	found.Across.besideNothing(found.Along)
	return found
}

// besideUneven keeps a repeat from being sure where the picture's scale keeps the other one from
// it: both have the same.
func (a *Axis) besideUneven(other Axis) {
	if a.Kind == Sure && other.Why == Uneven && other.Apart < 1 {
		a.Kind, a.Why = Look, Uneven
	}
}

// besideNothing keeps lines from being sure that are not the same all along, nor repeat there:
// they do not come out straight, and then the lens was told wrongly.
func (a *Axis) besideNothing(other Axis) {
	if a.Kind == Sure && other.Kind == None {
		a.Kind, a.Why = Look, Bent
	}
}

// steps are the repeats as they lie in the flat picture, in its pixels.
func steps(f *flat.Flat, a axes, rough [2]side) (out []flat.Pt) {
	turn := flat.Axes{U: a.u, V: a.v}
	for i, s := range rough {
		if s.Period == 0 {
			continue
		}
		step := turn.Step(s.Period, 0)
		if i == 1 {
			step = turn.Step(0, s.Period)
		}
		out = append(out, flat.Pt{X: step.X * f.PPI, Y: step.Y * f.PPI})
	}
	return out
}

func (a *Axis) turnedAway() {
	if a.Kind == Sure {
		a.Kind, a.Why = Look, Turned
	}
}

// A side is what is known of a direction after a rough look.
type side struct {
	Axis
	print float64
}

// settle makes the directions finer by the repeat itself, and tells what is roughly there.
func (p *plane) settle(a axes) (axes, [2]side) {
	room := newPlane(p.w, p.h, p.ppi)
	l := rowLags(p.turned(room, a, false), 1)
	c := rowLags(p.turned(room, a, true), 1)
	sides := [2]side{{l.axis(c.print, nil), l.print}, {c.axis(l.print, nil), c.print}}
	slopeAcross := room.slope(sides[1].Axis)
	slopeAlong := p.turned(room, a, false).slope(sides[0].Axis)
	b := axes{a.u + slopeAlong, a.v - slopeAcross}
	plain := [2]bool{sides[0].Kind == Plain, sides[1].Kind == Plain}
	switch {
	case plain[0] && (plain[1] || sides[1].Kind == None):
		b = a
	case plain[0]: // stripes: square to themselves
		b = axes{a.u, a.u}
	case plain[1]:
		b.v = b.u
	}
	return b, sides
}

// look finds the repeat along the rows of a plane that lies along its print.
func (p *plane) look(other side) Axis {
	l := rowLags(p, 2)
	a := l.axis(other.print, newMate(p, other.Axis))
	p.thinned(2, 2).mirror(&a)
	return a
}
