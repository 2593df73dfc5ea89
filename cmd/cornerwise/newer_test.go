package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
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

// An older program finds the store of a newer one: it says what to do, and changes nothing. Who
// would rather go on with the older one finds the command for that in what it says.
func TestAnOlderProgramOverNewerData(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	id, _ := s.begin()
	s.works("backup", filepath.Join(t.TempDir(), "away.db"))
	s.stop(syscall.SIGTERM)
	makeNewer(t, data)
	was, err := os.ReadFile(datafolder.Store(data))
	if err != nil {
		t.Fatal(err)
	}
	code, _, stderr := once(nil, "--listen", "127.0.0.1:0", "--data", data)
	if code != 1 || !strings.Contains(stderr, "were written by a newer Cornerwise. Nothing was changed: start the newer one.") {
		t.Errorf("got exit %d, %q, want what to do", code, stderr)
	}
	if is, _ := os.ReadFile(datafolder.Store(data)); !bytes.Equal(is, was) {
		t.Error("the newer store was changed")
	}
	back := regexp.MustCompile(`To take it: cornerwise (.*)\.\n`).FindStringSubmatch(stderr)
	if back == nil {
		t.Fatalf("it says %q, want how to go back", stderr)
	}
	if code, _, stderr := once(nil, strings.Fields(back[1])...); code != 0 {
		t.Fatalf("cornerwise %s: exit %d, %q", back[1], code, stderr)
	}
	s = start(t, data)
	if revs := s.revs(id); len(revs) != 1 {
		t.Errorf("after going back the quilt has %d ops, want 1", len(revs))
	}
	aside, _ := filepath.Glob(datafolder.Store(data) + ".set-aside-*")
	if len(aside) != 1 {
		t.Fatalf("set aside: %q, want the newer store", aside)
	}
	if is, _ := os.ReadFile(aside[0]); !bytes.Equal(is, was) {
		t.Error("the newer store that was set aside is not as it was")
	}
}

// A newer program starts on the store of an older one: a backup first, then the migration, and
// each quilt has every op that it had. The next start finds nothing to do.
func TestANewerProgramOverOlderData(t *testing.T) {
	stores, _ := filepath.Glob("../../testdata/stores/*.db")
	if len(stores) < 3 {
		t.Fatalf("there are the stores %q, want one of each earlier schema", stores)
	}
	for _, of := range stores {
		was, err := os.ReadFile(of)
		if err != nil {
			t.Fatal(err)
		}
		data := t.TempDir()
		if err := os.WriteFile(datafolder.Store(data), was, 0o600); err != nil {
			t.Fatal(err)
		}
		ops := opsOf(t, datafolder.Store(data))
		if len(ops) == 0 {
			t.Fatalf("%s has no sessions; this proves nothing", of)
		}
		for range 2 {
			s := start(t, data)
			for id, n := range ops {
				if got := len(s.revs(id)); got != n {
					t.Errorf("%s: session %s has %d ops, want %d", of, id, got, n)
				}
			}
			s.stop(syscall.SIGTERM)
			backups, _ := filepath.Glob(filepath.Join(data, "backups", "*.db"))
			if len(backups) != 1 {
				t.Fatalf("%s: backups %q, want the one of before", of, backups)
			}
			before := filepath.Join(t.TempDir(), "before.db")
			copied, _ := os.ReadFile(backups[0])
			os.WriteFile(before, copied, 0o600)
			if got := opsOf(t, before); !maps.Equal(got, ops) {
				t.Errorf("%s: the backup of before has %v, want %v", of, got, ops)
			}
		}
	}
}

// opsOf is how many ops each session has that is not in the bin, by the file alone.
func opsOf(t *testing.T, path string) map[string]int {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{ReadOnly: true, Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	ops := map[string]int{}
	err = db.View(func(tx *bolt.Tx) error {
		c := tx.Bucket([]byte("recent")).Cursor()
		for key, _ := c.First(); key != nil; key, _ = c.Next() {
			id := key[8:]
			ops[string(id)] = tx.Bucket([]byte("sessions")).Bucket(id).Bucket([]byte("ops")).Stats().KeyN
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return ops
}
