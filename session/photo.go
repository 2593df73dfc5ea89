package session

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	bolt "go.etcd.io/bbolt"

	"cornerwise/calc"
	"cornerwise/steps"
)

// Photos of fabric, and the swatches that were cut from them, are files beside the store, in the
// folder photos. A file is named by what it holds and never changed, so that it lies on the disk,
// and in the backups, once, however many sessions name it.
const photoFolder = "photos"

// ErrNoPhoto is that there is no such photo or swatch, or that it is not as it was written.
var ErrNoPhoto = errors.New("no such photo")

// KeepPhoto keeps a photo, and returns its id once it is on the disk. The same photo has the same
// id.
func (s *Store) KeepPhoto(ctx context.Context, photo []byte) (id string, err error) {
	id = sumOf(photo)[:32]
	return id, s.keepPhoto(ctx, id, photo)
}

// KeepSwatch keeps what was settled of a photo, and returns its id once it is on the disk.
func (s *Store) KeepSwatch(ctx context.Context, photo string, swatch []byte) (id string, err error) {
	id = photo + "-" + sumOf(swatch)[:16]
	return id, s.keepPhoto(ctx, id, swatch)
}

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func (s *Store) photoPath(id string) string {
	return filepath.Join(filepath.Dir(s.db.Path()), photoFolder, id)
}

// leastOnDisk is what the smallest file takes.
const leastOnDisk = 4 << 10

// leftForTicks is how many bytes of the disk photos leave: enough for a few thousand ticks.
const leftForTicks = 1 << 20

// roomFor is ErrFull where a photo of a size would take the space that the next ticks need.
func (s *Store) roomFor(size int64) error {
	if free, err := space(filepath.Dir(s.db.Path())); err == nil && free < uint64(size)+leftForTicks {
		return ErrFull
	}
	return nil
}

// keepPhoto has the record of the device that is charged know of it, as a batch does.
func (s *Store) keepPhoto(ctx context.Context, id string, data []byte) error {
	err := s.addPhoto(ctx, id, data)
	if account := chargedIn(ctx); err == nil && account != nil && account.nowKept() {
		_ = account.of.keep(ctx, account.device) // the photo is kept, whatever becomes of this
	}
	return err
}

func (s *Store) addPhoto(ctx context.Context, id string, data []byte) error {
	path := s.photoPath(id)
	s.photos.Lock() // none is removed meanwhile
	defer s.photos.Unlock()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if err := s.renewPhoto(id[:32]); err != nil {
		return err
	}
	if _, err := readPhoto(path); err == nil {
		return s.renewPhoto(id)
	}
	account := chargedIn(ctx)
	adds := Added{Bytes: max(int64(len(data)), leastOnDisk)}
	if err := s.roomFor(adds.Bytes); err != nil {
		return err
	}
	if account != nil {
		if err := account.take(adds); err != nil {
			return err
		}
	}
	err := writePhoto(path, data, s.now)
	if err != nil && account != nil {
		account.untake(adds)
	}
	return fileError("keep a photo", err)
}

// Photo is what was kept under the id of a photo or a swatch.
func (s *Store) Photo(id string) ([]byte, error) {
	file, err := s.PhotoFile(id)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(file)
	return data, fileError("read a photo", err)
}

// PhotoFile is the same, for who sends it on piece by piece: a photo has megabytes, and many may
// be read slowly at a time.
func (s *Store) PhotoFile(id string) (*os.File, error) {
	if !calc.IsPhotoID(id) {
		return nil, ErrNoPhoto
	}
	file, err := openPhoto(s.photoPath(id))
	if err != nil { // a copy may be in the backups
		copied, missing := openPhoto(filepath.Join(filepath.Dir(s.db.Path()), backupFolder, photoFolder, id))
		if missing == nil {
			return copied, nil
		}
	}
	if errors.Is(err, ErrNoPhoto) {
		return nil, ErrNoPhoto
	}
	return file, fileError("read a photo", err)
}

func readPhoto(path string) ([]byte, error) {
	file, err := openPhoto(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(file)
}

// openPhoto is a photo's file, whose name tells whether it is as it was written.
func openPhoto(path string) (*os.File, error) {
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNoPhoto
	}
	if err != nil {
		return nil, err
	}
	sum := sha256.New()
	_, err = io.Copy(sum, file)
	if err == nil && !isSum(filepath.Base(path), sum.Sum(nil)) {
		err = ErrNoPhoto
	}
	if err == nil {
		_, err = file.Seek(0, io.SeekStart)
	}
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return file, nil
}

// isPhoto tells whether data is what the id of a photo or a swatch was made of.
func isPhoto(id string, data []byte) bool {
	sum := sha256.Sum256(data)
	return isSum(id, sum[:])
}

func isSum(id string, sum []byte) bool {
	if !calc.IsPhotoID(id) {
		return false
	}
	photo, mark, swatch := strings.Cut(id, "-")
	made := hex.EncodeToString(sum)
	return swatch && made[:16] == mark || !swatch && made[:32] == photo
}

// hasPhotos is a *steps.Refusal where a plan names a photo that is not here. What a quilt has had
// already is not asked again: one that was imported may have come without.
func (s *Store) hasPhotos(plan, was calc.Plan) error {
	had := map[string]bool{"": true}
	for _, id := range photosOf(was) {
		had[id] = true
	}
	var faults calc.Faults
	for i, b := range plan.Borders {
		if had[b.Photo] {
			continue
		}
		err := s.wantPhoto(b.Photo)
		switch {
		case errors.Is(err, ErrNoPhoto):
			faults = append(faults, calc.Fault{Field: fmt.Sprintf("borders[%d].photo", i),
				Message: "is not kept here; take the photo again, or leave it out"})
		case err != nil:
			return err
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return &steps.Refusal{Code: steps.BadPlan, Field: faults[0].Field, Message: faults[0].Message, Faults: faults}
}

// wantPhoto is ErrNoPhoto where it is not kept. Else it, and the photo that a swatch was cut from,
// stay for a day again: until then the plan that names it is kept.
func (s *Store) wantPhoto(id string) error {
	s.photos.Lock()
	defer s.photos.Unlock()
	if err := errors.Join(s.renewPhoto(id), s.renewPhoto(id[:32])); err != nil {
		return err
	}
	_, err := s.Photo(id)
	return err
}

// renewPhoto has a photo stay for a day again, where it is here.
func (s *Store) renewPhoto(id string) error {
	now := s.now()
	err := os.Chtimes(s.photoPath(id), now, now)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case errors.Is(err, fs.ErrPermission): // it is another user's, whose time only that one may set
		s.renewed[id] = now
		return nil
	}
	return fileError("keep a photo", err)
}

func photosOf(plan calc.Plan) (ids []string) {
	for _, b := range plan.Borders {
		if b.Photo != "" {
			ids = append(ids, b.Photo)
		}
	}
	return ids
}

// putPhotos notes which photos a plan of the session names: they stay as long as it does.
func (b *batch) putPhotos(session string, photos []string) {
	bucket := b.tx.Bucket(bucketPhotos)
	for _, id := range photos {
		if key := []byte(id + session); bucket.Get(key) == nil {
			b.put(bucket, key, nil)
		}
	}
}

// photosNamed are all that sessions name, each with the photo that a swatch was cut from.
func photosNamed(tx *bolt.Tx) (map[string]bool, error) {
	named := map[string]bool{}
	bucket := tx.Bucket(bucketPhotos)
	if bucket == nil {
		return named, nil
	}
	return named, bucket.ForEach(func(key, _ []byte) error {
		if id := photoOfKey(string(key)); id != "" {
			named[id], named[id[:32]] = true, true
		}
		return nil
	})
}

// photoOfKey parts a photo's id, with or without a swatch's, from a session's.
func photoOfKey(key string) string {
	for _, long := range []int{49, 32} {
		if len(key) > long && calc.IsPhotoID(key[:long]) {
			return key[:long]
		}
	}
	return ""
}
