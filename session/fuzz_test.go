package session_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"cornerwise/session"
)

// FuzzCheckFile gives the check any file at all: it comes back, with a sound store
// or an error that says why not.
func FuzzCheckFile(f *testing.F) {
	var data []byte
	for _, schema := range []string{"1", "2"} {
		var err error
		if data, err = os.ReadFile("../testdata/stores/" + schema + ".db"); err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add(data[:9000])
	f.Add(append(make([]byte, 4096), data[4096:]...))
	f.Add([]byte("quilts"))
	f.Add([]byte{})
	path := filepath.Join(f.TempDir(), "cornerwise.db")
	f.Fuzz(func(t *testing.T, data []byte) {
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		report, err := session.CheckFile(path)
		known := err == nil || errors.Is(err, session.ErrDamaged) || errors.Is(err, session.ErrForeign) || errors.Is(err, session.ErrNewer)
		if !known || err == nil && report.Version == 0 {
			t.Errorf("CheckFile = %+v, %v, want a version or one of the known errors", report, err)
		}
	})
}

// FuzzFlippedBits puts other bytes into a sound store. What the check lets pass must
// give out all that was there before. To go on from where the seeds end:
//
//	go test ./session -run '^$' -fuzz FuzzFlippedBits -fuzzminimizetime 1x
func FuzzFlippedBits(f *testing.F) {
	path := filepath.Join(f.TempDir(), "cornerwise.db")
	fill(f, path)
	good, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	want := all(f, path)
	f.Add(uint32(8192), []byte{2, 0, 0, 0})
	f.Add(uint32(16384+10), []byte{1, 0})
	f.Add(uint32(20480), make([]byte, 4096))
	f.Add(uint32(0), []byte{0xff})
	f.Fuzz(func(t *testing.T, at uint32, put []byte) {
		bad := append([]byte(nil), good...)
		copy(bad[int64(at)%int64(len(bad)):], put)
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		report, err := session.CheckFile(path)
		// Half a pair of meta pages may lead to the state before the last op.
		if err != nil || report.Half {
			return
		}
		differ(t, "what the store gives out", all(t, path), want)
	})
}
