package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"cornerwise/cmd/cornerwise/internal/datafolder"
)

// The record of one device of two is no JSON any more: check says so, and that the
// sessions are sound.
func TestCheckNamesDevicesThatMustPairAgain(t *testing.T) {
	store, err := os.ReadFile("../../testdata/stores/2.db")
	if err != nil {
		t.Fatal(err)
	}
	record := []byte(`{"name":"Android tablet 2",`)
	if !bytes.Contains(store, record) {
		t.Fatalf("the store has no record %s", record)
	}
	data := t.TempDir()
	store = bytes.ReplaceAll(store, record, append([]byte("x"), record[1:]...))
	if err := os.WriteFile(datafolder.Store(data), store, 0o600); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := once(nil, "check", "--data", data)
	if code != 0 || !strings.Contains(stdout, "is sound: 2 sessions") ||
		!strings.Contains(stdout, "1 device can't be read and must pair again") {
		t.Errorf("check: got exit %d, %q, %q; want a sound store and one device to pair", code, stdout, stderr)
	}
}
