package web

import (
	"encoding/json"
	"math"

	"cornerwise/calc"
	"cornerwise/calc/photo"
)

// A swatch is one repeat of a fabric, cut from a photo, with what was settled of it. It is a file
// that is never changed; a plan names it. Lengths are inches.
type swatch struct {
	Photo   string            `json:"photo"`
	Sheet   photo.Sheet       `json:"sheet"`
	Corners [4][2]float64     `json:"corners"` // on the sheet's edges, in the photo's pixels
	Down    bool              `json:"down"`    // the strip runs down the picture, else to the right
	Repeat  bothWays[float64] `json:"repeat"`  // 0: the same all along
	Size    bothWays[float64] `json:"size"`    // of the tile
	Axis    bothWays[float64] `json:"axis"`    // about which the print mirrors, from the tile's left and top
	Tile    []byte            `json:"tile"`    // JPEG, x along the strip, y across it from its inner edge
}

// bothWays has one thing along the strip and one across it.
type bothWays[T any] struct {
	Along  T `json:"along"`
	Across T `json:"across"`
}

// How many inches a tile may show in each direction: a swatch may have been imported.
const leastTile, mostTile = 0.05, 100

// readSwatch is a swatch as it was kept; false where it is none that can be drawn.
func readSwatch(data []byte) (w swatch, ok bool) {
	if json.Unmarshal(data, &w) != nil || len(w.Tile) == 0 {
		return swatch{}, false
	}
	for _, size := range []float64{w.Size.Along, w.Size.Across} {
		if !(size >= leastTile && size <= mostTile) {
			return swatch{}, false
		}
	}
	return w, true
}

// lengthOf is inches as measured in a picture, to 1/10,000 in.
func lengthOf(inches float64) calc.Length {
	return calc.Of(int64(math.Round(inches*1e4)), 1e4, calc.Inch)
}
