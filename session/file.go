package session

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"cornerwise/steps"
)

// openFile opens the file at path with its schema up to date.
func openFile(path string, now func() time.Time) (db *bolt.DB, report Report, err error) {
	deed := "open " + filepath.Base(path)
	if err := makeFile(path); err != nil {
		return nil, report, fileError(deed, err)
	}
	err = locked(path, func(*bolt.DB) error {
		report, err = checkFile(path)
		return err
	})
	if err != nil {
		return nil, report, fileError(deed, err)
	}
	db, err = openNamed(path)
	if err != nil {
		return nil, report, fileError(deed, err)
	}
	// Whoever goes back to the program of before needs the store of before.
	if version, err := versionOf(db); err == nil && version < len(migrations) {
		if _, err := backUp(context.Background(), db, path, now()); err != nil {
			db.Close()
			return nil, report, fileError("back up "+filepath.Base(path)+" before it is migrated", err)
		}
	}
	if err := migrateAndRenew(db); err != nil {
		db.Close()
		return nil, report, fileError(deed, err)
	}
	return db, report, nil
}

// migrateAndRenew brings the file's form, then what its heads say, up to this program.
func migrateAndRenew(db *bolt.DB) error {
	if err := migrate(db); err != nil {
		return err
	}
	return renewHeads(db)
}

func openBolt(path string, onlyRead bool) (*bolt.DB, error) {
	options := boltOptions()
	options.ReadOnly = onlyRead
	return bolt.Open(path, 0o600, options)
}

// openNamed opens the file that has the name when it is open. The lock is on the
// file: while it was waited for, a backup may have been put in its place.
func openNamed(path string) (*bolt.DB, error) {
	var opened fs.FileInfo
	options := boltOptions()
	options.OpenFile = func(name string, flag int, mode fs.FileMode) (*os.File, error) {
		file, err := os.OpenFile(name, flag, mode)
		if err == nil {
			opened, err = file.Stat()
		}
		return file, err
	}
	db, err := bolt.Open(path, 0o600, options)
	if err != nil {
		return nil, err
	}
	if named, err := os.Stat(path); err != nil || !os.SameFile(named, opened) {
		return nil, errors.Join(ErrInUse, db.Close())
	}
	return db, nil
}

func boltOptions() *bolt.Options {
	return &bolt.Options{
		Timeout: time.Second,
		// A free list that is not stored can't be damaged; the array stays small.
		NoFreelistSync: true,
		FreelistType:   bolt.FreelistArrayType,
	}
}

// makeFile makes the file where there is none. It gets its name only once it is
// whole: a power cut in a first write would leave what looks like a damaged store.
func makeFile(path string) error {
	info, err := os.Stat(path)
	if err == nil {
		// bbolt would take an empty file for a new one: the work would seem gone.
		if info.Size() == 0 {
			return fmt.Errorf("it is cut short to nothing: %w", ErrDamaged)
		}
		return nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	// A new one in place of one that was lost would hide the loss.
	backups, err := Backups(path)
	aside, _ := filepath.Glob(path + asideName + "*")
	if err != nil || len(backups)+len(aside) > 0 {
		return cmp.Or(err, ErrMissing)
	}
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	half := path + unnamed
	db, err := openBolt(half, false)
	if err != nil && !errors.Is(err, berrors.ErrTimeout) {
		// Left half made by an earlier start.
		if err := os.Remove(half); err != nil {
			return err
		}
		db, err = openBolt(half, false)
	}
	if err != nil {
		return err
	}
	// Another start may have come first, up to here.
	if _, err := os.Stat(path); err == nil {
		return errors.Join(db.Close(), os.Remove(half))
	}
	if err := errors.Join(prepare(db), db.Close()); err != nil {
		return err
	}
	if err := os.Rename(half, path); err != nil {
		return err
	}
	return syncFolder(folder)
}

func prepare(db *bolt.DB) error {
	err := db.Update(func(tx *bolt.Tx) error {
		_, err := tx.CreateBucketIfNotExists(bucketMeta)
		return err
	})
	if err != nil {
		return err
	}
	if err := migrate(db); err != nil {
		return err
	}
	if err := db.Update(func(tx *bolt.Tx) error { return putEdition(tx, steps.Edition()) }); err != nil {
		return err
	}
	return db.Sync()
}

func syncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil // it has no such thing
	}
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer folder.Close()
	// Some file systems, those of other systems among them, know no such thing.
	if err := folder.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return fmt.Errorf("sync the folder: %w", err)
	}
	return nil
}
