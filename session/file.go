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
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// openFile opens the file at path with its schema up to date.
func openFile(path string, now func() time.Time) (*bolt.DB, error) {
	deed := "open " + filepath.Base(path)
	if err := makeFile(path); err != nil {
		return nil, stored(deed, err)
	}
	if err := examine(path); err != nil {
		return nil, stored(deed, err)
	}
	db, err := openBolt(path, false)
	if err != nil {
		return nil, stored(deed, err)
	}
	// Whoever goes back to the program of before needs the store of before.
	if version, err := versionOf(db); err == nil && version < len(migrations) {
		if _, err := backUp(context.Background(), db, path, now()); err != nil {
			db.Close()
			return nil, stored("back up "+filepath.Base(path)+" before it is migrated", err)
		}
	}
	if err := migrate(db); err != nil {
		db.Close()
		return nil, stored(deed, err)
	}
	return db, nil
}

// examine checks a file that nobody has open, before bbolt believes it.
func examine(path string) error {
	// Only to read, bbolt takes its lock and looks at no more than the meta pages.
	// Where it can't make sense of those, the check says better why.
	db, err := openBolt(path, true)
	if err == nil {
		defer db.Close()
	} else if errors.Is(err, berrors.ErrTimeout) || errors.Is(err, fs.ErrPermission) {
		return err
	}
	_, err = checkFile(path)
	return err
}

func openBolt(path string, onlyRead bool) (*bolt.DB, error) {
	return bolt.Open(path, 0o600, &bolt.Options{
		Timeout:  time.Second,
		ReadOnly: onlyRead,
		// A free list that is not stored can't be damaged; the array stays small.
		NoFreelistSync: true,
		FreelistType:   bolt.FreelistArrayType,
	})
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
	if backups, err := Backups(path); err != nil || len(backups) > 0 {
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
	if err := folder.Sync(); err != nil {
		return fmt.Errorf("sync the folder: %w", err)
	}
	return nil
}
