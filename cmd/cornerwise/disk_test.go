//go:build linux

package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
)

// disk is a disk of its own in memory, of some size, until the test ends.
func disk(t *testing.T, options string) string {
	t.Helper()
	if os.Geteuid() != 0 {
		t.Skip("only root may mount a disk; session's TestFullDiskIsSaidAndNothingIsLost limits the file's size instead")
	}
	at := t.TempDir()
	if err := syscall.Mount("cornerwise-test", at, "tmpfs", 0, options); err != nil {
		t.Skipf("no disk can be mounted here (%v); session's TestFullDiskIsSaidAndNothingIsLost limits the file's size instead", err)
	}
	t.Cleanup(func() { syscall.Unmount(at, syscall.MNT_DETACH) })
	return at
}

// fillUp writes a file that takes what is left.
func fillUp(t *testing.T, at string) (file string) {
	t.Helper()
	file = filepath.Join(at, "films")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	block := make([]byte, 4096)
	for {
		if _, err := f.Write(block); err != nil {
			return file
		}
	}
}

func TestFullDiskIsSaidAndLosesNothingAnswered(t *testing.T) {
	data := disk(t, "size=4m")
	s := start(t, data)
	id, step := s.begin()
	films := fillUp(t, data)
	var acked sync.Map
	full := reply{}
	for n := 0; full.Error.Code == "" && n < 5000; n++ {
		op := fmt.Sprint("op-", n)
		a, status, err := s.note(id, step, op)
		switch {
		case err != nil:
			t.Fatalf("op %d: %v", n, err)
		case status == 200:
			acked.Store(op, a.Rev)
		case status == 503:
			full = a
		default:
			t.Fatalf("op %d: got %d %+v, want 200 or 503", n, status, a)
		}
	}
	if full.Error.Code != "disk-full" || !strings.Contains(full.Error.Message, "free some space") {
		t.Fatalf("on a full disk: got %+v, want disk-full and what to do", full.Error)
	}
	s.hold(id, &acked)
	if code, _, stderr := once(nil, "backup", "--data", data, filepath.Join(data, "away.db")); code != 1 || !strings.Contains(stderr, "disk is full") && !strings.Contains(stderr, "no space left") {
		t.Errorf("cornerwise backup: got exit %d, %q; want exit 1 and that the disk is full", code, stderr)
	}
	if left, _ := filepath.Glob(filepath.Join(data, "*", "*.half-made")); len(left) > 0 {
		t.Errorf("a backup that had no room left %v", left)
	}
	os.Remove(films)
	a, status, err := s.note(id, step, "with space again")
	if status != 200 || err != nil {
		t.Errorf("an op with space again: got %d %+v %v, want 200", status, a, err)
	}
	acked.Store("with space again", a.Rev)
	s.hold(id, &acked)
	sound(t, data)
	s.stop(syscall.SIGTERM)
	sound(t, data)
}

// TestBackupLeavesSpaceForTicks has room for one copy of the store, not for two.
func TestBackupLeavesSpaceForTicks(t *testing.T) {
	data := disk(t, "size=4m")
	s := start(t, data)
	id, step := s.begin()
	s.note(id, step, "one")
	films := fillUp(t, data)
	report, err := session.CheckFile(datafolder.Store(data))
	if err != nil {
		t.Fatal(err)
	}
	full, err := os.Stat(films)
	if err != nil {
		t.Fatal(err)
	}
	os.Truncate(films, full.Size()-report.Size*3/2)
	away := filepath.Join(t.TempDir(), "away.db")
	if code, _, stderr := once(nil, "backup", "--data", data, away); code != 1 || !strings.Contains(stderr, "disk is full") {
		t.Errorf("cornerwise backup with room for one copy: got exit %d, %q; want exit 1 and that the disk is full", code, stderr)
	}
	if _, status, err := s.note(id, step, "two"); status != 200 {
		t.Errorf("an op after it: got %d, %v, want 200", status, err)
	}
	os.Remove(films)
	if code, _, stderr := once(nil, "backup", "--data", data, away); code != 0 {
		t.Errorf("cornerwise backup with room again: got exit %d, %q", code, stderr)
	}
	s.stop(syscall.SIGTERM)
}

// snow is a picture that is another each time, and small in no coding.
func snow(side int) string {
	picture := image.NewGray(image.Rect(0, 0, side, side))
	for i := range picture.Pix {
		picture.Pix[i] = uint8(rand.Uint32())
	}
	var b bytes.Buffer
	if err := png.Encode(&b, picture); err != nil {
		panic(err) // a buffer takes everything
	}
	return b.String()
}

// Photos take a disk's last space from nobody's ticks, however small they are.
func TestPhotosLeaveSpaceForTicks(t *testing.T) {
	data := disk(t, "size=4m")
	s := start(t, data)
	id, step := s.begin()
	for _, side := range []int{500, 200} {
		full, kept := reply{}, 0
		for ; full.Error.Code == "" && kept < 2000; kept++ {
			if status, err := s.call("POST", "/api/v1/photos", snow(side), &full); err != nil || status != 201 && status != 503 {
				t.Fatalf("photo %d of %d pixels: got %d %+v, %v, want 201 or 503", kept, side, status, full, err)
			}
		}
		if full.Error.Code != "disk-full" {
			t.Fatalf("after %d photos of %d pixels: got %+v, want disk-full", kept, side, full.Error)
		}
	}
	for n := range 200 {
		if a, status, err := s.note(id, step, fmt.Sprint("op-", n)); status != 200 || err != nil {
			t.Fatalf("op %d beside those photos: got %d %+v, %v, want 200", n, status, a, err)
		}
	}
	s.stop(syscall.SIGTERM)
}

func TestFullDiskAtTheStartIsSaid(t *testing.T) {
	data := disk(t, "size=64k")
	films := fillUp(t, data)
	code, _, stderr := once(nil, "--listen", "127.0.0.1:0", "--data", filepath.Join(data, "quilts"))
	if code != 1 || !strings.Contains(stderr, "no space left for the sessions") {
		t.Errorf("cornerwise on a full disk: got exit %d, %q; want exit 1 and that there is no space", code, stderr)
	}
	os.Remove(films)
	if left, _ := filepath.Glob(filepath.Join(data, "quilts", datafolder.StoreFile)); len(left) > 0 {
		t.Errorf("it left %v, which is no store", left)
	}
}

// A new store and an authority need some 40 KB. Wherever the space ends, the next start on a
// larger disk makes them.
func TestADiskTooSmallForANewStoreCanBeMadeLarger(t *testing.T) {
	refused := 0
	for size := 4; size <= 40; size += 4 {
		data := disk(t, fmt.Sprintf("size=%dk", size))
		args := []string{"--tls", "--listen", "127.0.0.1:0", "--data", data}
		if done, said := (fault{}).run(t, args); !done {
			if refused++; !strings.Contains(said, "no space left") || strings.Contains(said, "goroutine ") {
				t.Errorf("a disk of %d KB: said %q, want that there is no space", size, said)
			}
		}
		if err := syscall.Mount("", data, "", syscall.MS_REMOUNT, "size=4m"); err != nil {
			t.Skip(err)
		}
		if done, said := (fault{}).run(t, args); !done {
			t.Errorf("a disk of %d KB that was made larger: %s", size, said)
		}
		sound(t, data)
		if left, _ := filepath.Glob(filepath.Join(data, "*.half-made")); len(left) > 0 {
			t.Errorf("a disk of %d KB: %v is left", size, left)
		}
	}
	if refused < 5 {
		t.Errorf("%d starts were refused; this proves nothing", refused)
	}
}

func TestReadOnlyDiskIsSaid(t *testing.T) {
	data := disk(t, "size=4m")
	s := start(t, data)
	s.begin()
	s.stop(syscall.SIGTERM)
	if err := syscall.Mount("", data, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skip(err)
	}
	for _, folder := range []string{data, filepath.Join(data, "new")} {
		code, _, stderr := once(nil, "--listen", "127.0.0.1:0", "--data", folder)
		if code != 1 || !strings.Contains(stderr, "can't be written to by this user") {
			t.Errorf("cornerwise on a disk to read only: got exit %d, %q; want that it can't be written to", code, stderr)
		}
	}
	sound(t, data) // to check it takes no more than reading
	to := filepath.Join(t.TempDir(), "away.db")
	if code, _, stderr := once(nil, "backup", "--data", data, to); code != 0 {
		t.Errorf("cornerwise backup of a disk to read only: got exit %d, %q; want it done", code, stderr)
	}
	if code, _, stderr := once(nil, "restore", "--data", data, to); code != 1 || !strings.Contains(stderr, "Nothing was changed") {
		t.Errorf("cornerwise restore onto a disk to read only: got exit %d, %q; want exit 1", code, stderr)
	}
}

func TestDamageWhileServingIsSaidAndTheProgramStaysUp(t *testing.T) {
	for _, c := range []struct {
		name string
		harm func(t *testing.T, file string)
	}{
		{"cut short", func(t *testing.T, file string) { os.Truncate(file, 8192) }},
		{"overwritten", func(t *testing.T, file string) {
			f, err := os.OpenFile(file, os.O_RDWR, 0)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			f.WriteAt([]byte(strings.Repeat("quilts", 10000)), 8192)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := t.TempDir()
			s := start(t, data)
			id, step := s.begin()
			if code, _, stderr := once(nil, "backup", "--data", data, filepath.Join(t.TempDir(), "away.db")); code != 0 {
				t.Fatalf("cornerwise backup: got exit %d, %q", code, stderr)
			}
			c.harm(t, datafolder.Store(data))
			a, status, err := s.note(id, step, "lost?")
			if status != 503 || err != nil || a.Error.Code != "damaged" {
				t.Errorf("an op on a damaged store: got %d %+v %v, want 503 and damaged", status, a, err)
			}
			if code, _, stderr := once(nil, "check", "--data", data); code != 1 || !strings.Contains(stderr, "newest good backup") {
				t.Errorf("cornerwise check while serving: got exit %d, %q; want exit 1 and the newest good backup", code, stderr)
			}
			var health struct{ OK bool }
			if status, err := s.call("GET", "/healthz", "", &health); status != 503 || health.OK || err != nil {
				t.Errorf("GET /healthz: got %d %v, %v, want 503", status, health, err)
			}
			if took := s.stop(syscall.SIGTERM); took > 2*time.Second {
				t.Errorf("SIGTERM: took %v, want at most 2 s", took)
			}
			if log := s.stderr.String(); !strings.Contains(log, "level=ERROR") || !strings.Contains(log, "damaged") {
				t.Errorf("log: got %q, want the damage", log)
			}
		})
	}
}

// TestOneOfTheTwoFirstPagesDamaged: bbolt keeps its newest two states in them. It
// goes on from the other; at most the last op is missing, and that is said.
func TestOneOfTheTwoFirstPagesDamaged(t *testing.T) {
	for _, page := range []int{0, 1} {
		data, id := someBackup(t)
		file := datafolder.Store(data)
		overwrite(t, file, page*os.Getpagesize()+20, 40)
		if code, stdout, _ := once(nil, "check", "--data", data); code != 0 || !strings.Contains(stdout, "look whether your last tick is there") {
			t.Errorf("page %d: cornerwise check: got exit %d, %q; want it said", page, code, stdout)
		}
		s := start(t, data)
		var acked sync.Map
		acked.Store("one", int64(2))
		s.hold(id, &acked)
		for n := range 2 {
			if _, status, err := s.note(id, s.here(id), fmt.Sprint("after-", n)); status != 200 {
				t.Errorf("page %d: an op: got %d, %v, want 200", page, status, err)
			}
		}
		s.stop(syscall.SIGTERM)
		if log := s.stderr.String(); !strings.Contains(log, "level=WARN") || !strings.Contains(log, "may be missing") {
			t.Errorf("page %d: log: got %q, want a warning", page, log)
		}
		if code, stdout, stderr := once(nil, "check", "--data", data); code != 0 || strings.Contains(stdout, "last tick") {
			t.Errorf("page %d: cornerwise check after ops: got exit %d, %q, %q; want it mended", page, code, stdout, stderr)
		}
	}
}
