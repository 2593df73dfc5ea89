package session_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
)

func backUp(t testing.TB, s *session.Store) session.Backup {
	t.Helper()
	b, err := s.BackUp(ctx)
	if err != nil {
		t.Fatalf("BackUp: %v", err)
	}
	return b
}

func backups(t testing.TB, path string) []session.Backup {
	t.Helper()
	list, err := session.Backups(path)
	if err != nil {
		t.Fatalf("Backups: %v", err)
	}
	return list
}

func TestBackupHoldsWhatWasAcknowledgedWhileWritersGoOn(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	writing, stop := context.WithCancel(ctx)
	errs := make(chan error, 8)
	for g := range 8 {
		go func() {
			var err error
			for n := 0; err == nil; n++ {
				_, err = s.Do(writing, snap.ID, note(fmt.Sprint(g, "-", n), snap.Work, fmt.Sprint(n)))
			}
			errs <- err
		}()
	}
	for n := range 10 {
		acked := do(t, s, snap.ID, note(fmt.Sprint("mine ", n), snap.Work, "mine"))
		b := backUp(t, s)
		report, err := session.CheckFile(b.Path)
		if err != nil || report.Ops < acked || b.Number != n+1 {
			t.Errorf("backup %d holds %+v, %v, want a sound one with %d ops and more", b.Number, report, err, acked)
		}
	}
	stop()
	for range 8 {
		if err := <-errs; !errors.Is(err, context.Canceled) {
			t.Errorf("Do while backups are made: %v", err)
		}
	}
}

func TestBackupOfWhatDidNotChangeIsTheLastOne(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	first := backUp(t, s)
	if again := backUp(t, s); again != first {
		t.Errorf("BackUp again = %+v, want %+v", again, first)
	}
	do(t, s, snap.ID, note("a", snap.Work, "one more"))
	if next := backUp(t, s); next.Number != 2 {
		t.Errorf("BackUp after an op = %+v, want number 2", next)
	}
	for _, b := range backups(t, path) {
		info, err := os.Stat(b.Path)
		if err != nil || info.Mode() != 0o600 {
			t.Errorf("%s has the mode %v, %v, want it for the owner only", b.Path, info.Mode(), err)
		}
	}
}

func TestBackupIsTheStore(t *testing.T) {
	t.Parallel()
	path := newPath(t)
	fill(t, path)
	s := open(t, path, newClock().now)
	b := backUp(t, s)
	s.Close()
	want := all(t, path)
	copied := filepath.Join(t.TempDir(), "copy.db")
	data, err := os.ReadFile(b.Path)
	if err := errors.Join(err, os.WriteFile(copied, data, 0o600)); err != nil {
		t.Fatal(err)
	}
	differ(t, "the backup", all(t, copied), want)
}

func TestBackupsGoByNumberWhenTheClockIsSetBack(t *testing.T) {
	path := newPath(t)
	clock := newClock()
	s := open(t, path, clock.now)
	snap := get(t, s, create(t, s).ID)
	for n := range 30 {
		do(t, s, snap.ID, note(fmt.Sprint(n), snap.Work, fmt.Sprint(n)))
		b := backUp(t, s)
		clock.move(-100 * time.Hour)
		if list := backups(t, path); list[0] != b || b.Number != n+1 {
			t.Errorf("the newest of the backups is %+v, want the one just made: %+v", list[0], b)
		}
	}
	// At 100 hours apart each is the last of its day: the newest seven, and the last of eight weeks.
	if n := len(backups(t, path)); n < 8 || n > 15 {
		t.Errorf("%d backups are kept of 30, want 8 to 15", n)
	}
}

func TestDamagedStoreMakesNoBackupAndKeepsTheOldOnes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cornerwise.db")
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	good := backUp(t, s)
	do(t, s, snap.ID, note("a", snap.Work, "one more"))
	info, err := os.Stat(path)
	if err := errors.Join(err, turnPages(path, info.Size())); err != nil {
		t.Fatal(err)
	}
	if b, err := s.BackUp(ctx); !errors.Is(err, session.ErrDamaged) {
		t.Errorf("BackUp of a damaged store = %+v, %v, want ErrDamaged", b, err)
	}
	if list := backups(t, path); len(list) != 1 || list[0] != good {
		t.Errorf("the backups are %+v, want the one from before", list)
	}
}

func TestOnlyFilesNamedAsBackupsAreBackups(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	head := create(t, s)
	b := backUp(t, s)
	folder := filepath.Dir(b.Path)
	for name, content := range map[string]string{
		"000002-20260301-090000.db":             "", // never finished
		"000003-20260301-090000.db.new":         "half",
		"000004-20260301-090000.db.7.half-made": "half",
		"4-20260301-090000.db":                  "a number of another width",
		"000005-20260301-0900.db":               "no seconds",
		"000006-20261301-090000.db":             "a month that is none",
		"000007-20260301-090000.db ":            "a name that goes on",
		"notes.txt":                             "somebody's own",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(folder, "000009-20260301-090000.db"), 0o700); err != nil {
		t.Fatal(err)
	}
	if list := backups(t, path); len(list) != 1 || list[0] != b {
		t.Errorf("the backups are %+v, want %+v alone", list, b)
	}
	do(t, s, head.ID, note("more", get(t, s, head.ID).Work, "more"))
	if next := backUp(t, s); next.Number != 2 {
		t.Errorf("the next backup is %+v, want the number 2", next)
	}
}

func TestNewestGoodBackupIsOffered(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	if b, _, err := session.NewestGood(path); !errors.Is(err, session.ErrNone) {
		t.Errorf("NewestGood of none = %+v, %v, want ErrNone", b, err)
	}
	snap := get(t, s, create(t, s).ID)
	for n := range 3 {
		do(t, s, snap.ID, note(fmt.Sprint(n), snap.Work, fmt.Sprint(n)))
		backUp(t, s)
	}
	list := backups(t, path)
	os.WriteFile(list[0].Path, []byte("not any more"), 0o600)
	os.Truncate(list[1].Path, 9000)
	b, report, err := session.NewestGood(path)
	if err != nil || b != list[2] || report.Ops != 2 {
		t.Errorf("NewestGood = %+v, %+v, %v, want %+v with 2 ops", b, report, err, list[2])
	}
	if len(backups(t, path)) != 3 {
		t.Error("a damaged backup was taken away")
	}
}

func TestStoreThatIsGoneIsNotMadeAnew(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	create(t, s)
	backUp(t, s)
	s.Close()
	os.Remove(path)
	if s, err := session.Open(path, time.Now); !errors.Is(err, session.ErrMissing) {
		t.Errorf("Open = %v, %v, want ErrMissing", s, err)
	}
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("stat of the store: %v, want it not made", err)
	}
}

func TestStoreIsBackedUpBeforeItIsMigrated(t *testing.T) {
	path := oldStore(t, "1")
	before, err := session.CheckFile(path)
	if err != nil || before.Version != 1 || before.Ops != 4 {
		t.Fatalf("CheckFile of schema 1 = %+v, %v, want 4 ops", before, err)
	}
	open(t, path, newClock().now).Close()
	list := backups(t, path)
	if len(list) != 1 {
		t.Fatalf("the backups are %+v, want one", list)
	}
	if kept, err := session.CheckFile(list[0].Path); err != nil || kept.Version != 1 || kept.Ops != 4 {
		t.Errorf("the backup is %+v, %v, want it as before: %+v", kept, err, before)
	}
	if after, err := session.CheckFile(path); err != nil || after.Version != 5 || after.Ops != 4 {
		t.Errorf("the store is %+v, %v, want version 5 with 4 ops", after, err)
	}
}

func TestBackUpEveryBacksUpUntilItIsToldToEnd(t *testing.T) {
	path := newPath(t)
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	// What was half made when a program was killed goes.
	half := filepath.Join(filepath.Dir(path), "backups", "000009-20260301-090000.db.new")
	mine := filepath.Join(filepath.Dir(path), "backups", "to keep.db.new")
	os.Mkdir(filepath.Dir(half), 0o700)
	for _, name := range []string{half, mine} {
		os.WriteFile(name, []byte("half a page"), 0o600)
	}
	var log bytes.Buffer
	keeping, stop := context.WithCancel(ctx)
	done := make(chan struct{})
	go func() {
		s.BackUpEvery(keeping, time.Millisecond, slog.New(slog.NewTextHandler(&log, nil)))
		close(done)
	}()
	for n := range 3 {
		for len(backups(t, path)) < n+1 {
			time.Sleep(time.Millisecond)
		}
		do(t, s, snap.ID, note(fmt.Sprint(n), snap.Work, fmt.Sprint(n)))
	}
	stop()
	<-done
	if n := strings.Count(log.String(), "msg=backup"); n < 2 || strings.Contains(log.String(), "level=ERROR") {
		t.Errorf("the log is %s, want 2 backups and more", &log)
	}
	if _, err := os.Stat(half); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("stat of the half-made one: %v, want it gone", err)
	}
	if _, err := os.Stat(mine); err != nil {
		t.Errorf("somebody's own file: %v, want it left alone", err)
	}
}
