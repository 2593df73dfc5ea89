package photo

import "cornerwise/calc/photo/repeat"

// words tells a person what was found in one direction, and why it is not sure.
func words(a repeat.Axis) string {
	switch a.Kind {
	case repeat.Plain:
		return "The fabric is the same all along."
	case repeat.Sure:
		return "The print repeats."
	case repeat.None:
		return "No repeat was found."
	}
	return "Perhaps the print repeats. Look whether this length is right."
}

const (
	wordsNotFound = "The sheet's edges were not found, so the scale is no better than the touches. " +
		"Check the length with a ruler."
	wordsDoubt = "The sheet's size is in doubt, and with it this length."
)
