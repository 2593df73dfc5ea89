package main

import (
	"encoding/binary"
	"hash/crc32"
	"os"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
)

// seal is a value as session/doc.go says that it is kept.
func seal(key, value string) []byte {
	sum := crc32.Checksum([]byte(key+value), crc32.MakeTable(crc32.Castagnoli))
	kept := binary.BigEndian.AppendUint32(nil, sum)
	return append(binary.BigEndian.AppendUint32(kept, uint32(len(value))), value...)
}

// makeNewer makes a store as a program of a hundred schemas from now would leave it.
func makeNewer(t *testing.T, data string) {
	t.Helper()
	path := datafolder.Store(data)
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
	err = db.Update(func(tx *bolt.Tx) error {
		tx.Bucket([]byte("meta")).Put([]byte("version"), []byte("102"))
		return tx.Bucket([]byte("meta")).Put([]byte("sealed"), seal("sealed", "102"))
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(data) })
}
