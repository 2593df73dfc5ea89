package photo

import "cornerwise/calc/photo/repeat"

// reasons are why a repeat is not sure.
var reasons = map[repeat.Why]string{
	repeat.Few: "Fewer than two repeats are in view. Take the photograph from farther away, or " +
		"measure one repeat.",
	repeat.Turned: "The print lies aslant to the sheet. Lay the sheet square to the print, and " +
		"take the photograph again.",
	repeat.Weave: "What repeats here is so fine that it may be the weave only.",
	repeat.Alike: "Several lengths fit alike. Look whether each repeat is the same as the next.",
	repeat.Differ: "The repeats in view are not quite the same. Look whether every other one " +
		"differs, or a crease or a shadow lies on the fabric.",
	repeat.Faint: "The repeats in view are not much like each other. Look whether it is one.",
	repeat.Bent: "The lines of the print do not come out straight, so the scale may be off. " +
		"Check the length with a ruler.",
	repeat.Uneven: "In different parts of the picture the repeat comes out at different lengths. " +
		"Lay the fabric flat, hold the camera straight above it, and check with a ruler.",
}

// words tells a person what was found in one direction, and why it is not sure.
func words(a repeat.Axis) string {
	switch a.Kind {
	case repeat.Plain:
		return "The fabric is the same all along."
	case repeat.Sure:
		return "The print repeats, each time the same."
	case repeat.None:
		return "No repeat was found. Perhaps less than two are in view."
	}
	return reasons[a.Why]
}

const (
	wordsNotFound = "The sheet's edges were not found, so the scale is no better than the touches. " +
		"Check the length with a ruler."
	wordsUnclear = "The sheet's edges are hard to see, so the scale may be off. " +
		"Check the length with a ruler."
	wordsDoubt = "The sheet's size is in doubt, and with it this length."
)
