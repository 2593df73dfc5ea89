package session_test

import (
	"encoding/binary"
	"hash/crc32"
	"os"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"
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

// oldStore is a copy of a store that an earlier schema left.
func oldStore(t *testing.T, schema string) string {
	t.Helper()
	data, err := os.ReadFile("../testdata/stores/" + schema + ".db")
	if err != nil {
		t.Fatal(err)
	}
	path := newPath(t)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestStoreOfSchema1IsSealedAndKeepsAll(t *testing.T) {
	path := oldStore(t, "1")
	s := open(t, path, newClock().now)
	heads, _, err := s.List(10, "", false)
	if err != nil || len(heads) != 1 || heads[0].Title != "Harbour lanterns & tide" || heads[0].Rev != 3 || heads[0].Done != 1 {
		t.Fatalf("List = %+v, %v, want the one session at revision 3 with a tick done", heads, err)
	}
	id := heads[0].ID
	if binned, _, err := s.List(10, "", true); err != nil || len(binned) != 1 {
		t.Errorf("List of the bin = %+v, %v, want one", binned, err)
	}
	entries := history(t, s, id)
	if len(entries) != 3 || entries[1].ID != "first" || entries[2].Text != "thread <50> & needle 80" {
		t.Fatalf("History = %+v, want the plan, the tick and the note", entries)
	}
	differ(t, "the state", state(t, get(t, s, id).Work), state(t, foldPlain(t, entries)))
	if rev, err := s.Do(ctx, id, entries[1].Op); rev != 2 || err != nil {
		t.Errorf("the tick sent again = %d, %v, want 2", rev, err)
	}
	s.Close()

	found := 0
	inFile(t, path, func(tx *bolt.Tx) {
		var walk func(b *bolt.Bucket)
		walk = func(b *bolt.Bucket) {
			b.ForEach(func(key, value []byte) error {
				if value == nil {
					walk(b.Bucket(key))
					return nil
				}
				if found++; len(value) < 8 || string(value) != string(seal(string(key), string(value[8:]))) {
					t.Errorf("%q = %q, want it sealed", key, value)
				}
				return nil
			})
		}
		for _, name := range []string{"sessions", "recent", "bin"} {
			walk(tx.Bucket([]byte(name)))
		}
	})
	// Two heads, four ops, their four answers and that of the refused tick, two in lists.
	if found != 13 {
		t.Errorf("the file has %d records, want 13", found)
	}
}
