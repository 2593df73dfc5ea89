//go:build !windows

package window

// ClosesWithUs tells whether the window was opened for this program alone, by a double click, and
// closes when the program ends. Here none does: a Mac's Terminal keeps it, and elsewhere there is
// none.
func ClosesWithUs() bool { return false }

// Colors has the window take the signs by which the picture of a code is drawn.
func Colors() {}

// LetGo closes the window where it was opened for this program alone.
func LetGo() {}
