package flat

import (
	"math"

	"cornerwise/calc/photo/picture"
)

// A Flat is fabric seen from straight above, PPI pixels to the inch. Origin is where
// its first pixel lies, in inches from the sheet's first corner. Out is true where
// nothing of the fabric is seen: beyond the picture, or under the sheet.
type Flat struct {
	W, H   int
	PPI    float64
	Origin Pt
	RGB    []uint8
	Out    []bool
}

const (
	mostPixels = 650_000 // of a flat picture
	mostReach  = 40      // inches from the sheet
	leastSize  = 0.6     // of fabric seen from afar, to the size it has at the sheet
	rim        = 0.3     // inches round the sheet that its shadow may darken
)

// Flatten draws what the photo shows at no more than ppi pixels to the inch, nor more than the
// photo has; the sheet, w by h inches, is left out with a rim.
func Flatten(photo *picture.Raster, view View, w, h, ppi float64) *Flat {
	sheet := Sheet(w, h)
	a, b := view.H.Scale(Pt{w / 2, h / 2})
	least := leastSize * min(a, b)
	lo, hi := seen(photo, view, sheet, least)
	wide, high := hi.X-lo.X, hi.Y-lo.Y
	ppi = min(ppi, max(a, b), math.Sqrt(mostPixels/(wide*high)))
	f := &Flat{W: max(1, int(wide*ppi)), H: max(1, int(high*ppi)), PPI: ppi, Origin: lo}
	f.RGB = make([]uint8, 3*f.W*f.H)
	f.Out = make([]bool, f.W*f.H)
	for y := range f.H {
		for x := range f.W {
			p := f.place(float64(x)+0.5, float64(y)+0.5)
			under := p.X > -rim && p.X < w+rim && p.Y > -rim && p.Y < h+rim
			f.Out[y*f.W+x] = under || !f.paint(photo, view, least, x, y)
		}
	}
	return f
}

// place is the inches of a place in the flat picture.
func (f *Flat) place(x, y float64) Pt { return Pt{f.Origin.X + x/f.PPI, f.Origin.Y + y/f.PPI} }

// paint takes the mean over one pixel's area, as many samples as it covers in the photo.
func (f *Flat) paint(photo *picture.Raster, view View, least float64, x, y int) bool {
	p := f.place(float64(x)+0.5, float64(y)+0.5)
	along, across := view.H.Scale(p)
	if min(along, across) < least {
		return false
	}
	n := min(4, max(1, int(math.Ceil(max(along, across)/f.PPI-0.2))))
	var sum [3]float64
	for sy := range n {
		for sx := range n {
			at := f.place(float64(x)+(float64(sx)+0.5)/float64(n), float64(y)+(float64(sy)+0.5)/float64(n))
			q, ok := view.At(at)
			if !ok {
				return false
			}
			c, ok := photo.At(q.X, q.Y)
			if !ok {
				return false
			}
			for k := range 3 {
				sum[k] += c[k]
			}
		}
	}
	for k := range 3 {
		f.RGB[3*(y*f.W+x)+k] = uint8(sum[k]/float64(n*n) + 0.5)
	}
	return true
}

// seen is the box of inches that the photo shows, no farther than mostReach.
func seen(photo *picture.Raster, view View, sheet Quad, least float64) (lo, hi Pt) {
	lo, hi = sheet[0], sheet[2]
	const step = 0.5
	for x := -float64(mostReach); x <= mostReach; x += step {
		for y := -float64(mostReach); y <= mostReach; y += step {
			q, ok := view.At(Pt{x, y})
			if !ok || q.X < 0 || q.Y < 0 || q.X >= float64(photo.W) || q.Y >= float64(photo.H) {
				continue
			}
			if a, b := view.H.Scale(Pt{x, y}); min(a, b) < least {
				continue
			}
			lo = Pt{min(lo.X, x), min(lo.Y, y)}
			hi = Pt{max(hi.X, x), max(hi.Y, y)}
		}
	}
	return lo, hi
}
