package session_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session"
)

func TestFileIsAsDrawn(t *testing.T) {
	source, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	var drawn []string
	for _, row := range regexp.MustCompile(`(?m)^//\t(\S+)`).FindAllSubmatch(source, -1) {
		drawn = append(drawn, string(row[1]))
	}

	path := newPath(t)
	s := open(t, path, newClock().now)
	s.MarkAll()
	waitForBookmark(t, s, create(t, s).ID)
	if err := s.Bin(ctx, create(t, s).ID); err != nil {
		t.Fatalf("Bin: %v", err)
	}
	if _, err := s.Create(ctx, photographed(keptPhoto(t, s, "blue stripes"))); err != nil {
		t.Fatal(err)
	}
	letIn(t, openDevices(t, s), false)
	b := backUp(t, s)
	s.Close()
	if _, err := session.Restore(path, b.Path, newClock().now(), letGo); err != nil {
		t.Fatalf("Restore: %v", err)
	}
	found := map[string]bool{}
	inFile(t, path, func(tx *bolt.Tx) {
		var walk func(b interface{ Cursor() *bolt.Cursor }, at string)
		walk = func(b interface{ Cursor() *bolt.Cursor }, at string) {
			c := b.Cursor()
			for key, value := c.First(); key != nil; key, value = c.Next() {
				name := at + drawnAs(at, key)
				if value != nil {
					found[name] = true
					continue
				}
				switch b := b.(type) {
				case *bolt.Tx:
					walk(b.Bucket(key), name+"/")
				case *bolt.Bucket:
					walk(b.Bucket(key), name+"/")
				}
			}
		}
		walk(tx, "")
		if got := string(tx.Bucket([]byte("meta")).Get([]byte("version"))); got != "5" {
			t.Errorf("meta/version = %q, want \"5\"", got)
		}
	})
	var got []string
	for name := range found {
		got = append(got, name)
	}
	sort.Strings(got)
	sort.Strings(drawn)
	if fmt.Sprint(got) != fmt.Sprint(drawn) {
		t.Errorf("the file holds\n%s\nand doc.go draws\n%s", strings.Join(got, "\n"), strings.Join(drawn, "\n"))
	}
}

func drawnAs(at string, key []byte) string {
	switch {
	case at == "sessions/":
		return "ID"
	case strings.HasSuffix(at, "/ops/") && len(key) == 8:
		return "REV"
	case strings.HasSuffix(at, "/seen/"):
		return "OP"
	case (at == "recent/" || at == "bin/") && len(key) == 8+26:
		return "TOUCHED+ID"
	case at == "bookmarks/" && len(key) == 26:
		return "ID"
	case at == "photos/" && len(key) == 32+26:
		return "PHOTO+ID"
	case at == "devices/" && len(key) == 64:
		return "HASH"
	}
	return string(key)
}

func inFile(t *testing.T, path string, see func(*bolt.Tx)) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	tx, err := db.Begin(true)
	if err != nil {
		t.Fatal(err)
	}
	see(tx)
	if err := tx.Commit(); err != nil {
		t.Fatal(err)
	}
}

func TestOpenMakesFileForOwnerOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "of the", "sewing room", "cornerwise.db")
	open(t, path, newClock().now)
	for _, c := range []struct {
		path string
		want fs.FileMode
	}{{path, 0o600}, {filepath.Dir(path), 0o700 | fs.ModeDir}} {
		info, err := os.Stat(c.path)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode() != c.want {
			t.Errorf("mode of %s = %v, want %v", filepath.Base(c.path), info.Mode(), c.want)
		}
	}
	entries, _ := os.ReadDir(filepath.Dir(path))
	if len(entries) != 1 {
		t.Errorf("the folder holds %v, want the store alone", entries)
	}
}

func TestOpenAfterFirstStartWasCut(t *testing.T) {
	path := newPath(t)
	if err := os.WriteFile(path+".new", []byte("half a page"), 0o600); err != nil {
		t.Fatal(err)
	}
	create(t, open(t, path, newClock().now))
	if _, err := os.Stat(path + ".new"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("stat of the half-made file: %v, want it gone", err)
	}
}

func TestOpenRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		make func(path string)
		want error
		says string
	}{
		{"a store that is open", func(path string) { open(t, path, newClock().now) },
			session.ErrInUse, "open cornerwise.db: in use by another process"},
		{"a store of a newer program", func(path string) {
			open(t, path, newClock().now).Close()
			inFile(t, path, func(tx *bolt.Tx) {
				tx.Bucket([]byte("meta")).Put([]byte("version"), []byte("99"))
				tx.Bucket([]byte("meta")).Put([]byte("sealed"), seal("sealed", "99"))
			})
		}, session.ErrNewer, "open cornerwise.db: written by a newer program"},
		{"a bbolt file of something else", func(path string) {
			inFile(t, path, func(tx *bolt.Tx) { tx.CreateBucket([]byte("recipes")) })
		}, session.ErrForeign, "open cornerwise.db: not a file of this program"},
		{"a file that is no bbolt file", func(path string) {
			os.WriteFile(path, []byte(strings.Repeat("quilts and more quilts\n", 1000)), 0o600)
		}, session.ErrForeign, "open cornerwise.db: not a file of this program"},
		{"an empty file, which a lost disk leaves", func(path string) { os.WriteFile(path, nil, 0o600) },
			session.ErrDamaged, "open cornerwise.db: it is cut short to nothing: damaged"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "cornerwise.db")
			c.make(path)
			before, _ := os.ReadFile(path)
			s, err := session.Open(path, newClock().now)
			if s != nil || !errors.Is(err, c.want) || !strings.HasPrefix(err.Error(), c.says) {
				t.Errorf("Open = %v, %v, want nil, %q", s, err, c.says)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("Open changed the file that it refused")
			}
		})
	}
}

func TestClosedStoreAnswersErrClosed(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	id := create(t, s).ID
	w, err := s.Watch(id, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatalf("Close: %v", err)
	}
	if _, more := <-w.Events; more {
		t.Error("an event came from a watch of a closed store")
	}
	w.Close()
	_, getErr := s.Get(id)
	_, doErr := s.Do(ctx, id, note("n", w.Start.Work, "late"))
	_, createErr := s.Create(ctx, plan)
	_, watchErr := s.Watch(id, 1)
	_, _, listErr := s.List(10, "", false)
	_, historyErr := s.History(id)
	for call, err := range map[string]error{"Get": getErr, "Do": doErr, "Create": createErr, "Watch": watchErr,
		"List": listErr, "History": historyErr, "Bin": s.Bin(ctx, id)} {
		if !errors.Is(err, session.ErrClosed) {
			t.Errorf("%s after Close: %v, want ErrClosed", call, err)
		}
	}
	if err := s.Close(); err != nil {
		t.Errorf("second Close: %v", err)
	}
}

func TestCloseKeepsWhatWasAcknowledged(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	acks, errs := make(chan int64, 1000), make(chan error, 20)
	for g := range 20 {
		go func() {
			for n := 0; ; n++ {
				rev, err := s.Do(ctx, snap.ID, note(fmt.Sprintf("%d-%d", g, n), snap.Work, fmt.Sprint(g, n)))
				if err != nil {
					errs <- err
					return
				}
				select {
				case acks <- rev:
				default:
				}
			}
		}()
	}
	for range 50 {
		<-acks
	}
	if err := s.Close(); err != nil {
		t.Fatalf("Close: %v", err)
	}
	for range 20 {
		if err := <-errs; !errors.Is(err, session.ErrClosed) {
			t.Errorf("Do while closing: %v, want ErrClosed", err)
		}
	}
	last := int64(0)
	for len(acks) > 0 {
		last = max(last, <-acks)
	}
	if got := get(t, open(t, path, newClock().now), snap.ID).Rev; got < last {
		t.Errorf("Rev after reopening = %d, want at least the acknowledged %d", got, last)
	}
}
