package main

import (
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
)

// makeNewer makes a store as a program of a hundred schemas from now would leave it.
func makeNewer(t *testing.T, data string) {
	t.Helper()
	path := filepath.Join(data, storeFile)
	s, err := session.Open(path, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	db, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	seal := binary.BigEndian.AppendUint32(nil, crc32.Checksum([]byte("sealed102"), crc32.MakeTable(crc32.Castagnoli)))
	err = db.Update(func(tx *bolt.Tx) error {
		tx.Bucket([]byte("meta")).Put([]byte("version"), []byte("102"))
		return tx.Bucket([]byte("meta")).Put([]byte("sealed"), append(append(seal, 0, 0, 0, 3), "102"...))
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(data) })
}
