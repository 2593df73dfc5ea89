package flat

import (
	"math"

	"cornerwise/calc/photo/picture"
)

// A Piece is a rectangle of the print: its first corner in inches, its size along and across.
// What is not seen of it is taken from where the print repeats, by PeriodAlong and PeriodAcross
// inches; 0 is no repeat.
type Piece struct {
	Axes                      Axes
	From                      Pt
	Along, Across             float64
	PeriodAlong, PeriodAcross float64
}

// Cut draws a piece straight from the photo, x along and y across, w by h pixels.
func (f *Flat) Cut(photo *picture.Raster, view View, p Piece, w, h int) *picture.Raster {
	m := picture.NewRaster(w, h)
	shifts := p.shifts(f)
	along, across := p.Along/float64(w), p.Across/float64(h)
	for y := range h {
		for x := range w {
			mid := p.Axes.Step((float64(x)+0.5)*along, (float64(y)+0.5)*across)
			at := Pt{p.From.X + mid.X, p.From.Y + mid.Y}
			for _, s := range shifts {
				moved := Pt{at.X + s.X, at.Y + s.Y}
				if f.showsAt(moved) {
					at = moved
					break
				}
			}
			var sum [3]float64
			n := 0.0
			for k := range 4 {
				s := p.Axes.Step((0.5*float64(k%2)-0.25)*along, (0.5*float64(k/2)-0.25)*across)
				q, ok := view.At(Pt{at.X + s.X, at.Y + s.Y})
				if c, in := photo.At(q.X, q.Y); ok && in {
					n++
					for i := range 3 {
						sum[i] += c[i]
					}
				}
			}
			for i := range 3 {
				m.Pix[3*(y*w+x)+i] = uint8(sum[i]/max(1, n) + 0.5)
			}
		}
	}
	return m
}

// shifts are the moves, nearest first, that lay the print on itself.
func (p Piece) shifts(f *Flat) []Pt {
	reach := func(period float64) int {
		if period <= 0 {
			return 0
		}
		return min(6, int(math.Hypot(float64(f.W), float64(f.H))/f.PPI/period))
	}
	a, b := reach(p.PeriodAlong), reach(p.PeriodAcross)
	out := []Pt{{}}
	for ring := 1; ring <= max(a, b); ring++ {
		for i := -min(a, ring); i <= min(a, ring); i++ {
			for j := -min(b, ring); j <= min(b, ring); j++ {
				if max(i, -i, j, -j) == ring {
					out = append(out, p.Axes.Step(float64(i)*p.PeriodAlong, float64(j)*p.PeriodAcross))
				}
			}
		}
	}
	return out
}
