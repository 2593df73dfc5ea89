package session_test

import (
	"encoding/binary"
	"hash/crc32"
	"strings"
	"testing"
)

// seal is a value as doc.go says that it is kept.
func seal(key, value string) []byte {
	sum := crc32.Checksum([]byte(key+value), crc32.MakeTable(crc32.Castagnoli))
	kept := binary.BigEndian.AppendUint32(nil, sum)
	return append(binary.BigEndian.AppendUint32(kept, uint32(len(value))), value...)
}

// TestSealIsTheChecksumOfTheStandard: 32 bytes of zeros have the sum 8a9136aa
// (RFC 3720, B.4, which prints it least byte first: aa 36 91 8a).
func TestSealIsTheChecksumOfTheStandard(t *testing.T) {
	if got, want := string(seal("", strings.Repeat("\x00", 32))[:8]), "\x8a\x91\x36\xaa\x00\x00\x00\x20"; got != want {
		t.Errorf("the seal of 32 zeros is %x, want %x", got, want)
	}
}
