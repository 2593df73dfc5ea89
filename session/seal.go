package session

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"
)

// A seal goes before a value and finds what bbolt does not look for: bytes that a
// disk flipped in a record. It is the CRC-32C (Castagnoli, RFC 3720) of key and
// value and the value's length, 4 bytes each, big endian.
const sealSize = 8

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sealed is the value as it is kept under the key.
func sealed(key, value []byte) []byte {
	kept := make([]byte, sealSize, sealSize+len(value))
	binary.BigEndian.PutUint32(kept, sealOf(key, value))
	binary.BigEndian.PutUint32(kept[4:], uint32(len(value)))
	return append(kept, value...)
}

// unsealed is the value that was sealed. What is not as it was written is ErrDamaged.
func unsealed(key, kept []byte) ([]byte, error) {
	if len(kept) < sealSize {
		return nil, fmt.Errorf("the record %.80q has no seal: %w", key, ErrDamaged)
	}
	value := kept[sealSize:]
	if binary.BigEndian.Uint32(kept[4:]) != uint32(len(value)) || binary.BigEndian.Uint32(kept) != sealOf(key, value) {
		return nil, fmt.Errorf("the record %.80q is not as it was written: %w", key, ErrDamaged)
	}
	return value, nil
}

func sealOf(key, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}

// readSealed is the value under a key, nil where there is none.
func readSealed(bucket *bolt.Bucket, key []byte) ([]byte, error) {
	kept := bucket.Get(key)
	if kept == nil {
		return nil, nil
	}
	return unsealed(key, kept)
}

// sealAll seals every value in a bucket and in those below it. It is the work
// of migrations and stays as it is.
func sealAll(bucket *bolt.Bucket) error {
	var keys, values [][]byte
	err := bucket.ForEach(func(key, value []byte) error {
		if value == nil {
			return sealAll(bucket.Bucket(key))
		}
		keys, values = append(keys, key), append(values, sealed(key, value))
		return nil
	})
	if err != nil {
		return err
	}
	for i, key := range keys {
		// Put may move the page that the key lies in.
		if err := bucket.Put(append([]byte(nil), key...), values[i]); err != nil {
			return err
		}
	}
	return nil
}
