package session

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/calc"
	"cornerwise/session/disk"
)

// unnamedFor is how long a photo stays that no session names: somebody may be choosing still.
const unnamedFor = 24 * time.Hour

// TidyPhotos removes the photos that no session has named for a day, and copies the others to the
// backups, where each is once.
func (s *Store) TidyPhotos(ctx context.Context) error {
	s.photos.Lock()
	defer s.photos.Unlock()
	var named map[string]bool
	err := s.view("read", func(tx *bolt.Tx) (err error) {
		named, err = photosNamed(tx)
		return err
	})
	if err != nil {
		return err
	}
	folder := s.photoPath("")
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fileError("list the photos", err)
	}
	for _, e := range entries {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		name := e.Name()
		info, err := e.Info()
		switch {
		case err != nil, !calc.IsPhotoID(name):
		case named[name]:
			err = s.backUpPhoto(name, info.Size())
		case s.now().Sub(info.ModTime()) > unnamedFor:
			err = os.Remove(filepath.Join(folder, name))
		}
		if err != nil {
			return fileError("tidy the photos", err)
		}
	}
	return nil
}

// backUpPhoto copies a photo to the backups, where it is not there yet.
func (s *Store) backUpPhoto(name string, size int64) error {
	store := filepath.Dir(s.db.Path())
	to := filepath.Join(store, backupFolder, photoFolder, name)
	if info, err := os.Stat(to); err == nil && info.Size() == size {
		return nil
	}
	data, err := readPhoto(s.photoPath(name))
	if err != nil {
		return err
	}
	if free, err := space(store); err == nil && !leavesSpace(size, free) {
		return ErrFull
	}
	return writePhoto(to, data, s.now)
}

// layPhoto is writePhoto for what a file says is a photo: nothing else gets a name of its choice.
func layPhoto(path string, data []byte) error {
	if !isPhoto(filepath.Base(path), data) {
		return nil
	}
	return writePhoto(path, data, time.Now)
}

// writePhoto returns once the photo is on the disk under its name.
func writePhoto(path string, data []byte, now func() time.Time) error {
	if err := disk.MakeFolder(filepath.Dir(path)); err != nil {
		return err
	}
	if _, err := readPhoto(path); err == nil {
		return nil
	}
	// What has the name and is not as it was written is in the way.
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	disk.RemoveHalves(path)
	err := disk.MakeFile(path, func(half string) error {
		at := now()
		return errors.Join(os.WriteFile(half, data, 0o600), os.Chtimes(half, at, at))
	})
	if errors.Is(err, fs.ErrExist) {
		return nil // another wrote the same
	}
	return err
}
