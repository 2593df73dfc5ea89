package session

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session/disk"
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
	if err := settle(db, path); err != nil {
		return nil, report, errors.Join(fileError(deed, err), db.Close())
	}
	// Whoever goes back to the program of before needs the store of before.
	if version, err := versionOf(db); err == nil && version < len(migrations) {
		if _, err := backUp(context.Background(), db.View, path, now()); err != nil {
			deed = "back up " + filepath.Base(path) + " before it is migrated"
			return nil, report, errors.Join(fileError(deed, err), db.Close())
		}
	}
	if err := migrateAndRenew(db); err != nil {
		return nil, report, errors.Join(fileError(deed, err), db.Close())
	}
	return db, report, nil
}

// settle returns once the store is on the disk under its name: who wrote or named it may
// have been stopped before that. It clears away what was left half made.
func settle(db *bolt.DB, path string) error {
	folder := filepath.Dir(path)
	if err := errors.Join(db.Sync(), disk.SyncFolder(folder)); err != nil {
		return err
	}
	disk.RemoveHalves(path)
	os.Remove(path + unnamed)
	// A restore that is under way has the folder for itself.
	if unlock, err := disk.Lock(folder, 0); err == nil {
		defer unlock()
		clearRestore(path)
	}
	return nil
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

const lockWithin = time.Second // a store, or its folder, that another process has

func boltOptions() *bolt.Options {
	return &bolt.Options{
		Timeout: lockWithin,
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
	if err != nil || len(backups)+len(SetAside(path)) > 0 {
		return cmp.Or(err, ErrMissing)
	}
	folder := filepath.Dir(path)
	if err := disk.MakeFolder(folder); err != nil {
		return err
	}
	// A restore that is under way puts a store there.
	switch unlock, err := disk.Lock(folder, lockWithin); {
	case err == nil:
		defer unlock()
	case errors.Is(err, disk.ErrLocked):
		return ErrInUse
	}
	err = disk.MakeFile(path, fillNew)
	if _, there := os.Stat(path); there == nil {
		return nil // another start may have come first
	}
	return err
}

// fillNew makes a new store of an empty file.
func fillNew(path string) error {
	db, err := openBolt(path, false)
	if err != nil {
		return err
	}
	return errors.Join(prepare(db), db.Close())
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
	return db.Update(func(tx *bolt.Tx) error { return putEdition(tx, steps.Edition()) })
}
