package session

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"cornerwise/session/disk"
)

const asideName = ".set-aside-" // then the time

// SetAside are the files that restores have put aside for the store at path, the latest
// first; good or not.
func SetAside(path string) (list []string) {
	entries, _ := os.ReadDir(filepath.Dir(path))
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), filepath.Base(path)+asideName) && e.Type().IsRegular() {
			list = append(list, filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
	slices.Reverse(list)
	return list
}

// LatestAside is the latest file of SetAside that is sound; ErrNone when there is none.
func LatestAside(path string) (file string, report Report, err error) {
	for _, file := range SetAside(path) {
		if report, err := CheckFile(file); err == nil {
			return file, report, nil
		}
	}
	return "", Report{}, ErrNone
}

// replace puts a file in the place of the store at path, and sets aside what was there. The
// new name of that is on the disk before it loses the old one. After an error the store is as
// it was.
func replace(path, by string, now time.Time) (aside string, err error) {
	if aside, err = setAside(path, now); err != nil {
		return "", err
	}
	if err = os.Rename(by, path); err == nil {
		err = disk.SyncFolder(filepath.Dir(path))
	}
	if err != nil {
		return "", errors.Join(err, putBack(path, aside))
	}
	return aside, nil
}

// setAside gives the store at path a second name, which nothing has. Some file systems know
// no second name: there it is moved, and until another takes its place Open says ErrMissing.
func setAside(path string, now time.Time) (aside string, err error) {
	at := path + asideName + now.UTC().Format(backupTime)
	aside = at
	for n := 2; ; n++ {
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			break
		} else if err != nil {
			return "", err
		}
		aside = fmt.Sprint(at, "-", n)
	}
	if err := os.Link(path, aside); err != nil {
		if err := os.Rename(path, aside); err != nil {
			return "", err
		}
	}
	if err := disk.SyncFolder(filepath.Dir(path)); err != nil {
		return "", errors.Join(err, putBack(path, aside))
	}
	return aside, nil
}

// putBack undoes setAside.
func putBack(path, aside string) error {
	if same(path, aside) {
		return os.Remove(aside) // the store has its first name still
	}
	return os.Rename(aside, path)
}

// clearRestore removes what a restore left that was stopped on its way: its copy, and a
// second name of the store that is still in its place.
func clearRestore(path string) {
	copied := path + halfRestored
	os.Remove(copied)
	disk.RemoveHalves(copied)
	for _, aside := range SetAside(path) {
		if same(path, aside) {
			os.Remove(aside)
		}
	}
}
