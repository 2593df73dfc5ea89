package made

import (
	"math"
	"math/rand/v2"
)

// light is how bright the fabric is from place to place.
type light struct {
	shot         Shot
	turn         float64
	creases      []crease
	edgeX, edgeY float64 // across a shadow's edge
	edge         float64
}

// A crease is a fold pressed in: bright on one side, dark on the other.
type crease struct{ a, b, c, depth float64 }

func newLight(s Shot, rng *rand.Rand) light {
	l := light{shot: s, turn: rng.Float64() * 2 * math.Pi}
	for range s.Creases {
		t := rng.Float64() * math.Pi
		a, b := math.Cos(t), math.Sin(t)
		l.creases = append(l.creases, crease{a, b,
			a*(21+8*rng.NormFloat64()) + b*(21+6*rng.NormFloat64()), 0.15 + 0.2*rng.Float64()})
	}
	t := rng.Float64() * 2 * math.Pi
	l.edgeX, l.edgeY, l.edge = math.Cos(t), math.Sin(t), 0.25+0.15*rng.Float64()
	return l
}

// at is the light at a place of the frame, from -1/2 to 1/2.
func (l light) at(x, y float64) float64 {
	s := l.shot.Light
	b := 1 - s*(0.5+x*math.Cos(l.turn)+y*math.Sin(l.turn)) - s*0.5*(x*x+y*y)
	if l.shot.Shadow {
		d := (x*l.edgeX + y*l.edgeY - l.edge) / 0.03
		b *= 1 - 0.35/(1+math.Exp(-d))
	}
	return b
}

func (l light) creased(u, v float64) float64 {
	shade := 1.0
	for _, c := range l.creases {
		d := c.a*u + c.b*v - c.c
		shade *= 1 + c.depth*d/0.12*math.Exp(-d*d/0.03)
	}
	return shade
}
