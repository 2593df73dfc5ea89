package photo

import (
	"math"

	"cornerwise/calc/photo/flat"
)

// A natural logarithm of the sheet's shape by which it may be off: Letter and A4 are 0.089 apart.
const (
	shapeWithin      = 0.04
	shapeWithinSure  = 0.01 // else its edges were seen, but not well enough for the scale
	shapeWithinTouch = 0.15 // where the edges were not found
)

// shapeOff is how far the shape seen is off that of a sheet.
func shapeOff(shape, along, across float64) float64 {
	return math.Abs(math.Log(shape * along / across))
}

// reserve says why no length can be sure in the whole picture, empty where it may be.
func reserve(l laid, v flat.View, doubt string) string {
	switch {
	case doubt != "":
		return wordsDoubt
	case v.Share == 0:
		return wordsNotFound
	case !v.Clear() || shapeOff(v.Shape(), l.along, l.across) > shapeWithinSure:
		return wordsUnclear
	}
	return ""
}

// doubtOf says what speaks against the sheet, empty where nothing does.
func doubtOf(l laid, v flat.View) string {
	if l.against {
		return "The corners were touched against the clock. Touch them clockwise from the top " +
			"left, and look whether the picture is shown mirrored."
	}
	within := shapeWithin
	if v.Share == 0 {
		within = shapeWithinTouch
	}
	shape := v.Shape()
	off := shapeOff(shape, l.along, l.across)
	if off <= within {
		return ""
	}
	if shapeOff(shape, l.across, l.along) < min(off, within) {
		return "In the picture the sheet lies the other way: what was taken for its width seems " +
			"to be its length. Look at its size and at which corner is the first."
	}
	if v.Share > 0 {
		for _, paper := range []struct {
			name string
			Sheet
		}{{"Letter", Letter}, {"A4", A4}} {
			upright := shapeOff(shape, paper.Width, paper.Length)
			seen := min(upright, shapeOff(shape, paper.Length, paper.Width))
			if seen < min(off, within) {
				return "By its shape in the picture the sheet seems to be " + paper.name +
					" paper. Look which paper it is."
			}
		}
	}
	return "The sheet's shape in the picture does not fit its size. Look at its size and its corners."
}
