package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// MakeFolder makes a folder and those above it where they are not there, for their owner
// only. It returns once its name is on the disk, also where it was there already: whoever
// made it may have been stopped before that.
func MakeFolder(path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	above := filepath.Dir(path)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) && above != path {
		if err := MakeFolder(above); err != nil {
			return err
		}
	}
	if err := os.MkdirAll(path, 0o700); err != nil {
		return err
	}
	return SyncFolder(above)
}
