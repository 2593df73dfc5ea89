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
	"syscall"
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"cornerwise/session/disk"
)

// Examine is CheckFile for a store that nobody may have open meanwhile: ErrInUse
// when somebody has.
func Examine(path string) (report Report, err error) {
	err = locked(path, func(*bolt.DB) error {
		report, err = checkFile(path)
		return err
	})
	return report, fileError("check "+filepath.Base(path), err)
}

// Copy makes a checked copy, under a new name, of a store or backup that nobody has
// open, with the photos that its sessions name. What has that name already stays: fs.ErrExist.
func Copy(from, to string) (Report, error) {
	beside := filepath.Dir(from)
	return copyWith(from, to, func(half string) error {
		return packPhotos(half, filepath.Join(beside, photoFolder), filepath.Join(beside, backupFolder, photoFolder),
			filepath.Join(filepath.Dir(beside), photoFolder)) // it may be a backup
	})
}

// copyWith does something to the copy before it is checked and named.
func copyWith(from, to string, more func(half string) error) (report Report, err error) {
	err = locked(from, func(db *bolt.DB) error {
		if report, err = checkFile(from); err != nil {
			return err
		}
		if db == nil {
			return fmt.Errorf("bbolt can't read it: %w", ErrDamaged)
		}
		err := writeChecked(to, func(w io.Writer) error { return writeTo(context.Background(), db.View, w) }, more)
		if err != nil {
			return fmt.Errorf("%w: %w", ErrNoCopy, err)
		}
		return nil
	})
	return report, fileError("copy "+filepath.Base(from), err)
}

// Restored is what a backup was put in place of, and what it holds.
type Restored struct {
	Aside   string // the name that what was there has now, "" when nothing was there
	Report  Report
	Devices bool // they are those of what was there, not those of the backup
}

// Restore puts a copy of a backup in the place of the store at path. Nothing is
// thrown away: what was there gets another name. Who may come in was settled since
// the backup, so the devices stay those of what was there, where that can be read.
//
// free is called once the copy is whole, to have who serves the store let go of it
// until back is called. Errors are those of CheckFile about the backup, ErrInUse when
// the store is open, that of free, and the system's; after each the store is as it was.
func Restore(path, backup string, now time.Time, free func() (back func(), err error)) (Restored, error) {
	t, err := restore(path, backup, now, free)
	return t, fileError("restore "+filepath.Base(backup), err)
}

func restore(path, backup string, now time.Time, free func() (back func(), err error)) (t Restored, err error) {
	whole := path + halfRestored
	if same(path, backup) || same(whole, backup) {
		return t, fmt.Errorf("it is the store itself: %w", fs.ErrExist)
	}
	folder := filepath.Dir(path)
	if err := disk.MakeFolder(folder); err != nil {
		return t, err
	}
	switch unlock, err := disk.Lock(folder, lockWithin); {
	case err == nil:
		defer unlock()
	case errors.Is(err, disk.ErrLocked):
		return t, ErrInUse // another restore
	}
	defer os.Remove(whole)
	if err := os.Remove(whole); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return t, err // left by one that was cut short; the backup has it still
	}
	lay := func(half string) error { return unpackPhotos(half, filepath.Join(folder, photoFolder)) }
	if t.Report, err = copyWith(backup, whole, lay); err != nil {
		return t, err
	}
	back, err := free()
	if err != nil {
		return t, err
	}
	defer back()
	_, missing := os.Lstat(path)
	return t, locked(path, func(db *bolt.DB) error {
		if err := beginEpoch(whole); err != nil {
			return err
		}
		if t.Devices, err = copyDevices(path, db, whole); err != nil {
			return err
		}
		if db != nil && runtime.GOOS == "windows" {
			db.Close() // it renames nothing that is open
		}
		if missing != nil {
			err = disk.Name(whole, path)
			if errors.Is(err, fs.ErrExist) {
				return ErrInUse // a start came first, and nobody had its store locked
			}
			return err
		}
		t.Aside, err = replace(path, whole, now)
		return err
	})
}

// copyDevices has the copy know the devices of the store at path, which is open as
// db; false where that store is not sound.
func copyDevices(path string, db *bolt.DB, copied string) (bool, error) {
	if _, err := checkFile(path); err != nil || db == nil {
		return false, nil
	}
	to, err := openBolt(copied, false)
	if err != nil {
		return false, err
	}
	defer to.Close()
	version, err := versionOf(db)
	if err != nil {
		return false, err
	}
	copyVersion, err := versionOf(to)
	if err != nil {
		return false, err
	}
	return true, db.View(func(from *bolt.Tx) error {
		return to.Update(func(tx *bolt.Tx) error {
			if err := tx.DeleteBucket(bucketDevices); err != nil && !errors.Is(err, berrors.ErrBucketNotFound) {
				return err
			}
			bucket, err := tx.CreateBucket(bucketDevices)
			if err != nil {
				return err
			}
			devices := from.Bucket(bucketDevices)
			if devices == nil {
				return nil // a store of before, where none was ever paired
			}
			return devices.ForEach(func(id, kept []byte) error {
				data, err := deviceData(version, id, kept)
				if err != nil {
					return nil // it pairs again
				}
				if copyVersion >= devicesSealedFrom {
					data = sealed(id, data)
				}
				return bucket.Put(id, data)
			})
		})
	})
}

// locked does something while no other process can open the store at path. Where
// there is none, or bbolt can't make sense of it, nobody can have it open: then it
// gets no db.
func locked(path string, do func(*bolt.DB) error) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return do(nil)
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return ErrForeign
	case info.Size() == 0: // bbolt would begin a store in it
		return do(nil)
	}
	db, err := openBolt(path, true)
	var system syscall.Errno
	switch {
	case errors.Is(err, berrors.ErrTimeout), errors.As(err, &system):
		return err // somebody may have it open
	case err != nil:
		return do(nil)
	}
	defer db.Close()
	return do(db)
}

// halfRestored ends the name of a copy that is not in place yet. It is in the files' form: what
// an older program left half done is cleared away too.
const halfRestored = ".taken-back"

// same tells whether two names are one file.
func same(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}
