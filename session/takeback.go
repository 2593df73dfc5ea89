package session

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// Examine is CheckFile for a store that nobody may have open meanwhile: ErrInUse
// when somebody has.
func Examine(path string) (report Report, err error) {
	err = locked(path, func(*bolt.DB) error {
		report, err = checkFile(path)
		return err
	})
	return report, stored("check "+filepath.Base(path), err)
}

// Copy makes a checked copy, under a new name, of a store or backup that nobody has
// open. What has that name already stays: fs.ErrExist.
func Copy(from, to string) (report Report, err error) {
	err = locked(from, func(db *bolt.DB) error {
		if report, err = checkFile(from); err != nil {
			return err
		}
		return keepChecked(to, func(w io.Writer) error { return writeTo(context.Background(), db, w) })
	})
	return report, stored("copy "+filepath.Base(from), err)
}

// TakeBack puts a copy of a backup in the place of the store at path. Nothing is
// thrown away: what was there gets the name that is returned, "" when nothing was.
// Errors are those of CheckFile about the backup, ErrInUse when the store is open,
// and the system's; after each the store is as it was.
func TakeBack(path, backup string, now time.Time) (aside string, report Report, err error) {
	aside, report, err = takeBack(path, backup, now)
	return aside, report, stored("take back "+filepath.Base(backup), err)
}

func takeBack(path, backup string, now time.Time) (aside string, report Report, err error) {
	if same(path, backup) {
		return "", Report{}, fmt.Errorf("it is the store itself: %w", fs.ErrExist)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return "", Report{}, err
	}
	whole := path + ".taken-back"
	if err := os.Remove(whole); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", Report{}, err // left by one that was cut short; the backup has it still
	}
	if report, err = Copy(backup, whole); err != nil {
		return "", report, err
	}
	defer os.Remove(whole)
	exchange := func(db *bolt.DB) error {
		if db != nil && runtime.GOOS == "windows" {
			db.Close() // it renames nothing that is open
		}
		if aside, err = setAside(path, now); err != nil {
			return err
		}
		if err := os.Rename(whole, path); err != nil {
			if aside != "" {
				return errors.Join(err, os.Rename(aside, path))
			}
			return err
		}
		return syncFolder(filepath.Dir(path))
	}
	return aside, report, locked(path, exchange)
}

// locked does something while no other process can open the store at path. Where
// there is none, or bbolt can't make sense of it, nobody can have it open: then it
// gets no db.
func locked(path string, do func(*bolt.DB) error) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return ErrForeign
	}
	db, err := openBolt(path, true)
	switch {
	case errors.Is(err, berrors.ErrTimeout), errors.Is(err, fs.ErrPermission):
		return err
	case err != nil:
		return do(nil)
	}
	defer db.Close()
	return do(db)
}

const asideName = ".set-aside-"

// setAside gives what is at path a name that nothing has; "" when nothing is there.
func setAside(path string, now time.Time) (string, error) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	aside := path + asideName + now.UTC().Format(backupTime)
	for n := 2; ; n++ {
		file, err := os.OpenFile(aside, os.O_CREATE|os.O_EXCL, 0o600)
		if err == nil {
			return aside, errors.Join(file.Close(), os.Rename(path, aside))
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", err
		}
		aside = fmt.Sprintf("%s%s%s-%d", path, asideName, now.UTC().Format(backupTime), n)
	}
}

// same tells whether two names are one file.
func same(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}
