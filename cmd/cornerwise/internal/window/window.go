// Package window is about the window in which the program runs.
package window

import (
	"io"
	"os"
)

// Shows tells whether what is written there is seen by a person in a window.
func Shows(w io.Writer) bool {
	file, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := file.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
