package photo

import (
	"math"

	"cornerwise/calc/photo/flat"
	"cornerwise/calc/photo/picture"
	"cornerwise/calc/photo/repeat"
)

// A cutter cuts pieces out of a photo.
type cutter struct {
	photo         *picture.Raster
	view          flat.View
	seen          *flat.Flat
	found         repeat.Found
	along, across Direction
	// Settled by a person, in inches; 0: as found.
	settledAlong, settledAcross float64
}

const (
	plainInches = 2.0
	mostInches  = 12.0 // of what is shown where no repeat is sure
	mostTile    = 40 << 10
	mostPair    = 80 << 10
)

// length is how much to show in a direction, and the repeat to fill gaps by, 0 where none is.
func length(d Direction, settled, times float64) (inches, period float64) {
	switch {
	case settled > 0:
		return settled * times, settled
	case d.Kind == Sure:
		return d.Period * times, d.Period
	case d.Kind == Plain:
		return plainInches, plainInches / 8
	}
	return mostInches, 0
}

// piece finds where so many repeats are seen whole. Where no repeat binds it, it is made shorter
// until it fits; a repeat that is nowhere seen whole is put together from several.
func (c cutter) piece(times float64) flat.Piece {
	p := flat.Piece{Axes: flat.Axes{U: c.found.Turn, V: c.found.Turn + c.found.Lean}}
	p.Along, p.PeriodAlong = length(c.along, c.settledAlong, times)
	p.Across, p.PeriodAcross = length(c.across, c.settledAcross, times)
	bound := func(period float64) bool { return period > 0 && times == 1 }
	for {
		var ok bool
		if p.From, ok = c.seen.Window(p.Axes, p.Along, p.Across, 1); ok {
			return p
		}
		shorter := false
		for _, side := range []struct{ inches, period *float64 }{
			{&p.Along, &p.PeriodAlong}, {&p.Across, &p.PeriodAcross},
		} {
			if !bound(*side.period) && *side.inches > 1.2 {
				*side.inches *= 0.85
				shorter = true
			}
		}
		if !shorter {
			break
		}
	}
	for _, least := range []float64{0.8, 0.5, 0.2, 0.05} {
		var ok bool
		if p.From, ok = c.seen.Window(p.Axes, p.Along, p.Across, least); ok {
			break
		}
	}
	return p
}

func (c cutter) tile(f *Flat) {
	p := c.piece(1)
	f.Tile = c.draw(p, 420, mostTile)
	f.TileAlong, f.TileAcross = p.Along, p.Across
	mid := flat.Pt{
		X: c.seen.Origin.X + float64(c.seen.W)/2/c.seen.PPI,
		Y: c.seen.Origin.Y + float64(c.seen.H)/2/c.seen.PPI,
	}
	along, across := p.Axes.Back(flat.Pt{X: mid.X - p.From.X, Y: mid.Y - p.From.Y})
	f.AxisAlong = axisIn(c.found.Along, along)
	f.AxisAcross = axisIn(c.found.Across, across)
}

func (c cutter) pair(f *Flat) {
	p := c.piece(2)
	f.Pair = c.draw(p, 640, mostPair)
	f.PairAlong, f.PairAcross = p.Along, p.Across
}

// axisIn is the first mirror axis in a tile; mid is where the flat picture's middle lies in it.
func axisIn(a repeat.Axis, mid float64) float64 {
	if a.Mirror < mirrors || a.Period <= 0 {
		return 0
	}
	half := a.Period / 2
	at := math.Mod(mid+a.MirrorAt, half)
	if at <= 1e-6 {
		at += half
	}
	return at
}

const mirrors = 0.85

// draw codes a piece, its longer side at most so many pixels, in at most so many bytes.
func (c cutter) draw(p flat.Piece, side, most int) []byte {
	ppi := min(c.seen.PPI*1.25, float64(side)/max(p.Along, p.Across))
	for {
		w, h := max(8, int(p.Along*ppi+0.5)), max(8, int(p.Across*ppi+0.5))
		r := c.seen.Cut(c.photo, c.view, p, w, h)
		for quality := 85; quality >= 45; quality -= 10 {
			if out := r.JPEG(quality); len(out) <= most {
				return out
			}
		}
		ppi *= 0.8
	}
}
