package draw

import "math"

// A pt is a point: in inches on fabric, in drawing units after a frame.
type pt struct{ x, y float64 }

func (a pt) plus(b pt) pt          { return pt{a.x + b.x, a.y + b.y} }
func (a pt) minus(b pt) pt         { return pt{a.x - b.x, a.y - b.y} }
func (a pt) times(k float64) pt    { return pt{a.x * k, a.y * k} }
func (a pt) long() float64         { return math.Hypot(a.x, a.y) }
func (a pt) unit() pt              { return a.times(1 / a.long()) }
func (a pt) to(b pt, t float64) pt { return a.plus(b.minus(a).times(t)) }

// A frame maps points: (x, y) to (ax + cy + e, bx + dy + f), as SVG's matrix does.
type frame struct{ a, b, c, d, e, f float64 }

func move(x, y float64) frame { return frame{1, 0, 0, 1, x, y} }
func scale(k float64) frame   { return frame{k, 0, 0, k, 0, 0} }

func (f frame) at(x, y float64) pt {
	return pt{f.a*x + f.c*y + f.e, f.b*x + f.d*y + f.f}
}

func (f frame) all(points []pt) []pt {
	out := make([]pt, len(points))
	for i, p := range points {
		out[i] = f.at(p.x, p.y)
	}
	return out
}

// of is the frame that maps by g first, then by f.
func (f frame) of(g frame) frame {
	o := f.at(g.e, g.f)
	return frame{
		f.a*g.a + f.c*g.b, f.b*g.a + f.d*g.b,
		f.a*g.c + f.c*g.d, f.b*g.c + f.d*g.d,
		o.x, o.y,
	}
}

// scale is how many drawing units an inch has.
func (f frame) scale() float64 { return math.Hypot(f.a, f.b) }

// facing turns a mark that points along x so that it points along d.
func facing(d pt) frame {
	d = d.unit()
	return frame{d.x, d.y, -d.y, d.x, 0, 0}
}

// mirror reflects in the line through the origin along d.
func mirror(d pt) frame {
	d = d.unit()
	c, s := d.x*d.x-d.y*d.y, 2*d.x*d.y
	return frame{c, s, s, -c, 0, 0}
}

// A box is an upright rectangle.
type box struct{ left, top, right, bottom float64 }

func (b box) corners() []pt {
	return []pt{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}
}
func (b box) middle() pt { return pt{(b.left + b.right) / 2, (b.top + b.bottom) / 2} }

// holds tells whether a point lies in the box.
func (b box) holds(at pt) bool {
	return at.x > b.left && at.x < b.right && at.y > b.top && at.y < b.bottom
}

// middleFrame scales by k, and brings a point to the middle of the box.
func (b box) middleFrame(k float64, at pt) frame {
	m := b.middle()
	return move(m.x, m.y).of(scale(k)).of(move(-at.x, -at.y))
}

// fit centers something w wide and h high in the box, as large as it goes: the
// frame maps from its middle.
func (b box) fit(w, h float64) frame {
	k := min((b.right-b.left)/w, (b.bottom-b.top)/h)
	m := b.middle()
	return frame{k, 0, 0, k, m.x, m.y}
}

// side is what of an outline lies where nx·x + ny·y <= most.
func side(outline []pt, nx, ny, most float64) []pt {
	var out []pt
	for i, b := range outline {
		a := outline[(i+len(outline)-1)%len(outline)]
		da, db := nx*a.x+ny*a.y-most, nx*b.x+ny*b.y-most
		if da*db < 0 {
			out = append(out, a.to(b, da/(da-db)))
		}
		if db <= 0 {
			out = append(out, b)
		}
	}
	return out
}

// in is what of an outline lies in the box.
func (b box) in(outline []pt) []pt {
	outline = side(outline, 1, 0, b.right)
	outline = side(outline, -1, 0, -b.left)
	outline = side(outline, 0, 1, b.bottom)
	return side(outline, 0, -1, -b.top)
}

// line is what of the line from a to c lies in the box; false when nothing does.
func (b box) line(a, c pt) (pt, pt, bool) {
	from, to := 0.0, 1.0
	for _, edge := range [][2]float64{
		{a.x - c.x, a.x - b.left}, {c.x - a.x, b.right - a.x},
		{a.y - c.y, a.y - b.top}, {c.y - a.y, b.bottom - a.y},
	} {
		switch per, room := edge[0], edge[1]; {
		case per == 0 && room < 0:
			return a, c, false
		case per < 0:
			from = max(from, room/per)
		case per > 0:
			to = min(to, room/per)
		}
	}
	return a.to(c, from), a.to(c, to), from < to
}

func clamp(x, least, most float64) float64 { return max(least, min(x, most)) }

// inverse undoes a frame.
func inverse(f frame) frame {
	d := f.a*f.d - f.b*f.c
	g := frame{f.d / d, -f.b / d, -f.c / d, f.a / d, 0, 0}
	o := g.at(f.e, f.f)
	g.e, g.f = -o.x, -o.y
	return g
}
