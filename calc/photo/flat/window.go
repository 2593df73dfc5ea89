package flat

import "math"

// Axes are the directions of a print in the sheet's inches: radians by which what runs along is
// turned from x, and what runs across from y.
type Axes struct{ U, V float64 }

// Step is the inches that lie so far along and across.
func (a Axes) Step(along, across float64) Pt {
	return Pt{along*math.Cos(a.U) - across*math.Sin(a.V), along*math.Sin(a.U) + across*math.Cos(a.V)}
}

// Window is where w by h inches of the print are seen whole, nearest the middle: the place of
// the window's first corner. least is the share of its places that must be seen; 1 is all.
func (f *Flat) Window(a Axes, w, h, least float64) (from Pt, ok bool) {
	const n = 16
	var steps []Pt
	for i := range n + 1 {
		for j := range n + 1 {
			s := a.Step(w*float64(i)/n, h*float64(j)/n)
			steps = append(steps, Pt{s.X * f.PPI, s.Y * f.PPI})
		}
	}
	whole := func(x, y float64) bool {
		missed := 0
		for _, s := range steps {
			if !f.shows(int(x+s.X), int(y+s.Y)) {
				missed++
				if float64(missed) > (1-least)*float64(len(steps)) {
					return false
				}
			}
		}
		return true
	}
	best := math.Inf(1)
	mid := a.Step(w/2, h/2)
	step := max(4, float64(max(f.W, f.H))/160)
	for y := -step; y < float64(f.H); y += step {
		for x := -step; x < float64(f.W); x += step {
			d := math.Hypot(x+mid.X*f.PPI-float64(f.W)/2, y+mid.Y*f.PPI-float64(f.H)/2)
			if d < best && whole(x, y) {
				best, from, ok = d, f.place(x, y), true
			}
		}
	}
	return from, ok
}

// shows tells whether fabric is seen at a pixel.
func (f *Flat) shows(x, y int) bool {
	return x >= 0 && y >= 0 && x < f.W && y < f.H && !f.Out[y*f.W+x]
}

// showsAt tells the same of inches.
func (f *Flat) showsAt(p Pt) bool {
	return f.shows(int(math.Floor((p.X-f.Origin.X)*f.PPI)), int(math.Floor((p.Y-f.Origin.Y)*f.PPI)))
}

// Back is how far along and across inches lie.
func (a Axes) Back(p Pt) (along, across float64) {
	cu, su, cv, sv := math.Cos(a.U), math.Sin(a.U), math.Cos(a.V), math.Sin(a.V)
	n := cu*cv + su*sv
	return (p.X*cv + p.Y*sv) / n, (p.Y*cu - p.X*su) / n
}
