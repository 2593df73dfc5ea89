package disk_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cornerwise/session/disk"
)

func write(text string) func(string) error {
	return func(half string) error { return os.WriteFile(half, []byte(text), 0o600) }
}

// names are what a folder holds.
func names(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return strings.Join(list, " ")
}

func TestAFileHasItsNameOnlyWhenItIsWhole(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.db")
	torn := errors.New("torn")
	err := disk.MakeFile(path, func(half string) error {
		if half == path || filepath.Dir(half) != folder {
			t.Errorf("it is made as %s, want another name in the same folder", half)
		}
		write("half")(half)
		return torn
	})
	if !errors.Is(err, torn) || names(t, folder) != "" {
		t.Errorf("MakeFile that fails: %v, and the folder holds %q, want its error and nothing", err, names(t, folder))
	}
	if err := disk.MakeFile(path, write("whole")); err != nil {
		t.Fatal(err)
	}
	if err := disk.MakeFile(path, write("another")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("MakeFile where there is one: %v, want fs.ErrExist", err)
	}
	err = disk.MakeFile(filepath.Join(folder, "b.db"), func(half string) error {
		return errors.Join(write("another")(half), write("whole")(filepath.Join(folder, "b.db")))
	})
	if !errors.Is(err, fs.ErrExist) {
		t.Errorf("MakeFile where one comes meanwhile: %v, want fs.ErrExist", err)
	}
	for _, name := range strings.Fields(names(t, folder)) {
		if data, err := os.ReadFile(filepath.Join(folder, name)); string(data) != "whole" {
			t.Errorf("%s holds %q, %v, want what was there first", name, data, err)
		}
	}
	if got := names(t, folder); got != "a.db b.db" {
		t.Errorf("the folder holds %q, want a.db b.db", got)
	}
}

// The second to make a file takes the half of the first for one that was left.
func TestTwoWhoMakeOneFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	err := disk.MakeFile(path, func(half string) error {
		disk.RemoveHalves(path)
		return disk.MakeFile(path, write("the second's"))
	})
	if !errors.Is(err, fs.ErrExist) {
		t.Errorf("MakeFile beside another: %v, want fs.ErrExist", err)
	}
	if got := names(t, filepath.Dir(path)); got != "a.db" {
		t.Errorf("the folder holds %q, want a.db", got)
	}
}

func TestOnlyWhatWasLeftHalfMadeIsRemoved(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"a.db", "a.db.12.half-made", "a.db.12.new", "a.db.half-made", "a.db..half-made", "a.db.mine.half-made", "b.db.1.half-made", "aa.db.1.half-made", "a.db.12"} {
		if err := os.WriteFile(filepath.Join(folder, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	disk.RemoveHalves(filepath.Join(folder, "a.db"))
	if got, want := names(t, folder), "a.db a.db..half-made a.db.12 a.db.12.new a.db.half-made a.db.mine.half-made aa.db.1.half-made b.db.1.half-made"; got != want {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

func TestMakeFolderMakesThoseAbove(t *testing.T) {
	top := t.TempDir()
	path := filepath.Join(top, "a", "b", "c")
	for range 2 {
		if err := disk.MakeFolder(path); err != nil {
			t.Fatal(err)
		}
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("MakeFolder made %v, %v, want a folder for its owner only", info, err)
	}
	file := filepath.Join(top, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{file, filepath.Join(file, "below")} {
		if err := disk.MakeFolder(path); err == nil {
			t.Errorf("MakeFolder(%s): no error, though a file is in its place", path)
		}
	}
}

func TestAFolderIsForOne(t *testing.T) {
	folder := t.TempDir()
	unlock, err := disk.Lock(folder, 0)
	if errors.Is(err, errors.ErrUnsupported) {
		t.Skip("no folder can be locked here")
	}
	if err != nil {
		t.Fatal(err)
	}
	if _, err := disk.Lock(folder, 0); !errors.Is(err, disk.ErrLocked) {
		t.Errorf("Lock of a locked folder: %v, want ErrLocked", err)
	}
	unlock()
	unlock, err = disk.Lock(folder, 0)
	if err != nil {
		t.Errorf("Lock after unlock: %v", err)
	} else {
		unlock()
	}
}
