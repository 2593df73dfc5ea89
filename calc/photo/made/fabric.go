package made

import "math"

// A Truth is how a print repeats in one direction. All lengths are inches.
type Truth struct {
	Period float64 // 0: none, or none that fits
	Plain  bool    // the same all along
	Doubt  bool    // nobody could be sure of it: too little in view, or aslant
	Mirror bool    // it mirrors about Axis, and half a period on
	Axis   float64
}

// A Fabric is a print: its color at u inches along the strip and v across it.
type Fabric struct {
	Name          string
	Along, Across Truth
	At            func(u, v float64) Color
}

// wrap is x brought into 0 to p.
func wrap(x, p float64) float64 {
	x = math.Mod(x, p)
	if x < 0 {
		x += p
	}
	return x
}

// turned is the fabric laid aslant, by so many degrees.
func (f Fabric) turned(name string, degrees float64) Fabric {
	c, s := math.Cos(degrees*math.Pi/180), math.Sin(degrees*math.Pi/180)
	at := f.At
	return Fabric{Name: name, Along: Truth{Doubt: true}, Across: Truth{Doubt: true},
		At: func(u, v float64) Color { return at(c*u+s*v, -s*u+c*v) }}
}

// Fabrics are the prints of one seed.
func Fabrics(seed uint64) []Fabric {
	d := newDraw(seed)
	d.stripes()
	d.checks()
	d.florals()
	d.nearRepeats()
	d.withoutRepeat()
	return d.all
}
