package session

import (
	"cmp"
	"errors"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// A backup that somebody carries off is one file: the photos that its sessions name are packed into
// it, and a restore lays them beside the store again. The store's own backups have them in a folder.

// packPhotos puts the photos that a copied store names into it, from the folders where they may be.
// One that is nowhere is left out.
func packPhotos(path string, folders ...string) error {
	var named map[string]bool
	db, err := openBolt(path, false)
	if err != nil {
		return err
	}
	defer db.Close()
	err = db.View(func(tx *bolt.Tx) (err error) {
		named, err = photosNamed(tx)
		return err
	})
	if err != nil {
		return err
	}
	for id := range named {
		data, err := findPhoto(id, folders)
		if errors.Is(err, ErrNoPhoto) {
			continue
		}
		if err != nil {
			return err
		}
		err = db.Update(func(tx *bolt.Tx) error { // one at a time is in memory
			packed, err := tx.CreateBucketIfNotExists(bucketPacked)
			if err != nil {
				return err
			}
			return packed.Put([]byte(id), sealed([]byte(id), data))
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func findPhoto(id string, folders []string) (data []byte, err error) {
	var failed error
	for _, folder := range folders {
		if data, err = readPhoto(filepath.Join(folder, id)); err == nil {
			return data, nil
		}
		if !errors.Is(err, ErrNoPhoto) {
			failed = cmp.Or(failed, err)
		}
	}
	return nil, cmp.Or(failed, ErrNoPhoto)
}

// unpackPhotos lays the photos of a copied backup into the folder, and takes them out of the copy.
func unpackPhotos(path, folder string) error {
	db, err := openBolt(path, false)
	if err != nil {
		return err
	}
	defer db.Close()
	none := false
	err = db.View(func(tx *bolt.Tx) error {
		packed := tx.Bucket(bucketPacked)
		if none = packed == nil; none {
			return nil
		}
		return packed.ForEach(func(id, kept []byte) error {
			data, err := unsealed(id, kept)
			if err != nil {
				return err
			}
			return layPhoto(folder, string(id), data)
		})
	})
	if err != nil || none {
		return err
	}
	return db.Update(func(tx *bolt.Tx) error { return tx.DeleteBucket(bucketPacked) })
}
