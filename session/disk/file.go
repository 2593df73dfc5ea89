package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// halfMade ends the name of what is not whole yet: NAME.NUMBER.half-made.
const halfMade = ".half-made"

// MakeFile makes a file of what make writes to an empty one, which has another name in the
// same folder until it is whole and on the disk. What has the name already stays:
// fs.ErrExist. After an error nothing of it is left.
func MakeFile(path string, make func(half string) error) error {
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "make", Path: path, Err: fs.ErrExist}
	}
	file, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*"+halfMade)
	if err != nil {
		return err
	}
	half := file.Name()
	defer os.Remove(half)
	if err := file.Close(); err != nil {
		return err
	}
	err = make(half)
	if err == nil {
		err = SyncFile(half)
	}
	if err == nil {
		err = Name(half, path)
	}
	if _, gone := os.Lstat(half); err != nil && errors.Is(gone, fs.ErrNotExist) {
		return &fs.PathError{Op: "make", Path: path, Err: fs.ErrExist} // another makes it, and removed this one
	}
	return err
}

// Name gives a file another name in its folder, which nothing has yet; where something has
// it, fs.ErrExist. It returns once the name is on the disk; after an error it has its own name.
func Name(file, name string) error {
	err := os.Link(file, name)
	switch {
	case err == nil:
		os.Remove(file)
	case errors.Is(err, fs.ErrExist), errors.Is(err, fs.ErrNotExist):
		return err
	default: // some file systems know no second name
		if _, err := os.Lstat(name); err == nil {
			return &fs.PathError{Op: "name", Path: name, Err: fs.ErrExist}
		}
		if err := os.Rename(file, name); err != nil {
			return err
		}
	}
	if err := SyncFolder(filepath.Dir(name)); err != nil {
		return errors.Join(err, os.Rename(name, file))
	}
	return nil
}

// RemoveHalves removes what a MakeFile of the path left when its program was stopped. One that
// is under way then fails.
func RemoveHalves(path string) {
	entries, _ := os.ReadDir(filepath.Dir(path))
	for _, e := range entries {
		end, ok := strings.CutPrefix(e.Name(), filepath.Base(path)+".")
		if number, half := strings.CutSuffix(end, halfMade); ok && half && number != "" && strings.Trim(number, "0123456789") == "" {
			os.Remove(filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
}
