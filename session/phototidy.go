package session

import (
	"cmp"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
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
	var named map[string]bool
	err := s.view("read", func(tx *bolt.Tx) (err error) {
		named, err = photosNamed(tx)
		return err
	})
	if err != nil {
		return err
	}
	folder := s.photoPath("")
	var failed error // of the first; the others are looked at all the same
	for _, in := range []string{folder, filepath.Join(filepath.Dir(s.db.Path()), backupFolder, photoFolder)} {
		entries, err := os.ReadDir(in)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fileError("list the photos", err)
		}
		for _, e := range entries {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			failed = cmp.Or(failed, s.tidyPhoto(in, e.Name(), named, in != folder))
		}
	}
	return fileError("tidy the photos", failed)
}

// tidyPhoto looks at one file. Nobody keeps or wants a photo meanwhile, but may have since the named
// were read: then the file is of now.
func (s *Store) tidyPhoto(folder, name string, named map[string]bool, copied bool) error {
	s.photos.Lock()
	defer s.photos.Unlock()
	path := filepath.Join(folder, name)
	info, err := os.Lstat(path)
	if err != nil {
		return nil // it was removed
	}
	old := s.now().Sub(info.ModTime()) > unnamedFor && s.now().Sub(s.renewed[name]) > unnamedFor
	id, _, half := strings.Cut(name, ".")
	switch {
	case !calc.IsPhotoID(id):
	case half:
		if old { // its program was stopped
			disk.RemoveHalves(filepath.Join(folder, id))
		}
	case copied:
	case named[id]:
		return s.backUpPhoto(id, info.Size())
	case old:
		delete(s.renewed, name)
		return os.Remove(path)
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
	if err := s.roomFor(size); err != nil {
		return err
	}
	return writePhoto(to, data, s.now)
}

// layPhoto is writePhoto for what a file says is a photo: nothing else gets a name of its choice.
func layPhoto(folder, id string, data []byte) error {
	if !isPhoto(id, data) {
		return nil
	}
	return writePhoto(filepath.Join(folder, id), data, time.Now)
}

// writePhoto returns once the photo is on the disk under its name.
func writePhoto(path string, data []byte, now func() time.Time) error {
	if err := disk.MakeFolder(filepath.Dir(path)); err != nil {
		return err
	}
	at := now()
	if _, err := readPhoto(path); err == nil {
		if err := os.Chtimes(path, at, at); !errors.Is(err, fs.ErrPermission) { // another user's stays as it is
			return err
		}
		return nil
	}
	// What has the name and is not as it was written is in the way.
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	err := disk.MakeFile(path, func(half string) error {
		return errors.Join(os.WriteFile(half, data, 0o600), os.Chtimes(half, at, at))
	})
	if errors.Is(err, fs.ErrExist) {
		return nil // another wrote the same
	}
	return err
}
