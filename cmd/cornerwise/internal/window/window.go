// Package window is about the window in which the program runs.
package window

import (
	"io"
	"os"

	"golang.org/x/term"
)

// Shows tells whether what is written there is seen by a person in a window.
func Shows(w io.Writer) bool {
	file, ok := w.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}
