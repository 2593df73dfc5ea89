package photo

import (
	"context"
	"math"
	"runtime"

	"cornerwise/calc/photo/flat"
	"cornerwise/calc/photo/repeat"
)

// A Flat is what a photo tells of its fabric.
type Flat struct {
	Corners [4]Point // moved onto the sheet's edges
	Found   bool     // whether the edges were found; else Corners are as touched
	Doubt   string   // what speaks against the sheet, in whole sentences; empty: nothing
	Along   Direction
	Across  Direction

	// Tile is one repeat as a JPEG of at most 40 KB, x along the strip, y across it: of a plain
	// direction any 2 in; where no repeat is sure what is in view, at most 12 in.
	Tile                  []byte
	TileAlong, TileAcross float64 // inches that it shows
	// Where in the tile an axis lies about which the print mirrors, inches from its left and
	// top; 0 where it has none.
	AxisAlong, AxisAcross float64

	// Pair is two repeats beside each other in each direction as a JPEG of at most 80 KB, as
	// far as they are in view.
	Pair                  []byte
	PairAlong, PairAcross float64 // inches that it shows
}

const flatPPI = 64 // pixels to the inch, at most

// Flat looks at the fabric. Errors are ErrCorners with a sentence, and the context's.
func (p *Photo) Flat(ctx context.Context, a Asked) (Flat, error) { return p.Cut(ctx, a, 0, 0) }

// Cut is Flat with the tile of a repeat that a person has settled: so many inches along and
// across; 0 is as found.
func (p *Photo) Cut(ctx context.Context, a Asked, along, across float64) (Flat, error) {
	if err := a.check(p.Size()); err != nil {
		return Flat{}, err
	}
	for _, period := range []float64{along, across} {
		if period != 0 && !(period >= leastPeriod && period <= mostPeriod) {
			return Flat{}, cornerFault("A repeat must be 1/20 to 60 in (0.2 to 152 cm) long. " +
				"Enter its length again.")
		}
	}
	done, err := wait(ctx)
	if err != nil {
		return Flat{}, err
	}
	defer done()
	l, view, err := p.look(a)
	if err != nil {
		return Flat{}, err
	}
	f := Flat{Corners: l.asAsked(view.Corners), Found: view.Share > 0, Doubt: doubtOf(l, view)}
	// What reading and looking left would else be collected only once the heap has doubled.
	runtime.GC()
	seen := flat.Flatten(p.raster, view, l.along, l.across, flatPPI)
	found := repeat.Find(seen)
	f.Along, f.Across = direction(found.Along), direction(found.Across)
	if words := reserve(l, view, f.Doubt); words != "" {
		f.Along, f.Across = f.Along.doubted(words), f.Across.doubted(words)
	}
	runtime.GC()
	c := cutter{p.raster, view, seen, found, f.Along, f.Across, along, across}
	c.tile(&f)
	c.pair(&f)
	return f, nil
}

const (
	leastPeriod = 0.05 // inches
	mostPeriod  = 60
)

// look finds how the photo sees the sheet.
func (p *Photo) look(a Asked) (laid, flat.View, error) {
	l := a.lay()
	view, err := flat.Look(p.raster, l.corners, l.along, l.across, reach(p, l.corners))
	if err != nil {
		return l, view, cornerFault("The four corners are not those of a sheet. Touch them again.")
	}
	if shape := view.Shape(); a.Either &&
		shapeOff(shape, l.across, l.along) < shapeOff(shape, l.along, l.across) {
		l.along, l.across = l.across, l.along
		view, err = view.Of(l.along, l.across)
		if err != nil {
			return l, view, cornerFault("The four corners are not those of a sheet. Touch them again.")
		}
	}
	return l, view, nil
}

// reach is how far from a touch an edge is looked for, in pixels: a fingertip's slip, and not so
// far that a small sheet's other side comes near.
func reach(p *Photo, q flat.Quad) float64 {
	w, h := p.Size()
	least := math.Inf(1)
	for i := range q {
		least = min(least, math.Hypot(q[i].X-q[(i+1)%4].X, q[i].Y-q[(i+1)%4].Y))
	}
	return min(40*float64(max(w, h))/2400, least/6)
}
