package session

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	bolt "go.etcd.io/bbolt"

	"cornerwise/calc"
)

// An exported photo is a list of parts, in order: {"id": …, "data": base64 of the next piece}. So
// whoever reads it needs room for one piece and one photo.
type photoPart struct {
	ID   string `json:"id"`
	Data string `json:"data"`
}

// partSize is how many bytes of a photo are in a part; as base64 it is less than an op may have.
const partSize = 36 << 10

// maxPhotoIn is how large a photo may be that is imported, in bytes; one that was taken here has
// less.
const maxPhotoIn = 12 << 20

// maxSwatchIn is that of a swatch, which every drawing of its fabric reads: its tile has 40 KB.
const maxSwatchIn = 128 << 10

// photosOfSession are the photos that a session names, with what their swatches were cut from.
func (s *Store) photosOfSession(id string) (ids []string, err error) {
	err = s.view("read", func(tx *bolt.Tx) error {
		bucket := tx.Bucket(bucketPhotos)
		seen := map[string]bool{}
		return bucket.ForEach(func(key, _ []byte) error {
			photo := photoOfKey(string(key))
			if photo == "" || string(key[len(photo):]) != id {
				return nil
			}
			for _, one := range []string{photo[:32], photo} {
				if !seen[one] {
					seen[one] = true
					ids = append(ids, one)
				}
			}
			return nil
		})
	})
	return ids, err
}

// writePhotos writes the parts of photos, with commas between. What is not here is left out.
func (s *Store) writePhotos(photos []string, to io.Writer) error {
	comma := ""
	for _, photo := range photos {
		file, err := s.PhotoFile(photo)
		if errors.Is(err, ErrNoPhoto) {
			continue
		}
		if err != nil {
			return err
		}
		err = writeParts(photo, file, func(part []byte) error {
			_, err := fmt.Fprintf(to, "%s%s", comma, part)
			comma = ","
			return err
		})
		if err := errors.Join(err, file.Close()); err != nil {
			return err
		}
	}
	return nil
}

func writeParts(id string, file io.Reader, write func(part []byte) error) error {
	piece := make([]byte, partSize)
	for {
		n, err := io.ReadFull(file, piece)
		if n == 0 && err == io.EOF {
			return nil
		}
		if err != nil && err != io.ErrUnexpectedEOF {
			return err
		}
		part, err := json.Marshal(photoPart{id, base64.StdEncoding.EncodeToString(piece[:n])})
		if err != nil {
			return err
		}
		if err := write(part); err != nil {
			return err
		}
	}
}

// photosIn keeps the photos of an export as their parts come.
type photosIn struct {
	keep func(id string, data []byte) error
	id   string
	data []byte
}

func (p *photosIn) take(part photoPart) error {
	piece, err := base64.StdEncoding.DecodeString(part.Data)
	if err != nil || !calc.IsPhotoID(part.ID) {
		return badImport("A photo in this file can't be read. Export it again.")
	}
	if part.ID != p.id {
		if err := p.end(); err != nil {
			return err
		}
		p.id = part.ID
	}
	p.data = append(p.data, piece...)
	switch swatch := len(p.id) > 32; {
	case swatch && len(p.data) > maxSwatchIn:
		return badImport("A swatch in this file has more than %d KiB. Export it again.", maxSwatchIn>>10)
	case len(p.data) > maxPhotoIn:
		return badImport("A photo in this file has more than %d MiB. Export it again.", maxPhotoIn>>20)
	}
	return nil
}

// end keeps the photo whose parts have come.
func (p *photosIn) end() error {
	if p.id == "" {
		return nil
	}
	if !isPhoto(p.id, p.data) {
		return badImport("A photo in this file is not as it was exported. Export it again.")
	}
	err := p.keep(p.id, p.data)
	p.id, p.data = "", nil
	return err
}

// keepsPhotos keeps what an import brings.
func (s *Store) keepsPhotos(ctx context.Context) *photosIn {
	return &photosIn{keep: func(id string, data []byte) error { return s.keepPhoto(ctx, id, data) }}
}
