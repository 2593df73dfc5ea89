package session_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
)

// backedUp is a store with a backup of revision 2, at revision 3 itself, closed.
func backedUp(t *testing.T) (path, id string, b session.Backup) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "cornerwise.db")
	s := open(t, path, newClock().now)
	snap := get(t, s, create(t, s).ID)
	do(t, s, snap.ID, note("a", snap.Work, "backed up"))
	b = backUp(t, s)
	do(t, s, snap.ID, note("b", snap.Work, "not backed up"))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path, snap.ID, b
}

// letGo is for a store that nobody serves.
func letGo() (back func(), err error) { return func() {}, nil }

func TestRestoreSetsAsideWhateverWasThere(t *testing.T) {
	for _, c := range []struct {
		name  string
		harm  func(path string)
		aside bool
	}{
		{"a sound store", func(string) {}, true},
		{"a store cut short", func(path string) { os.Truncate(path, 9000) }, true},
		{"a store cut to nothing", func(path string) { os.Truncate(path, 0) }, true},
		{"a store overwritten", func(path string) { turnPages(path, 30000) }, true},
		{"something else", func(path string) { os.WriteFile(path, []byte("quilts"), 0o600) }, true},
		{"nothing", func(path string) { os.Remove(path) }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			path, id, b := backedUp(t)
			c.harm(path)
			before, _ := os.ReadFile(path)
			restored, err := session.Restore(path, b.Path, newClock().now(), letGo)
			if err != nil || restored.Report.Ops != 2 || (restored.Aside != "") != c.aside {
				t.Fatalf("Restore = %+v, %v, want 2 ops back, and the old one set aside: %v", restored, err, c.aside)
			}
			if c.aside {
				if after, err := os.ReadFile(restored.Aside); err != nil || string(after) != string(before) {
					t.Errorf("what was set aside differs from what was there, %v", err)
				}
			}
			if _, err := os.Stat(b.Path); err != nil {
				t.Errorf("the backup: %v, want it still there", err)
			}
			checkFile(t, path)
			if got := get(t, open(t, path, newClock().now), id); got.Rev != 2 {
				t.Errorf("the session is at revision %d, want 2", got.Rev)
			}
		})
	}
}

func TestRestoreTwiceInASecondKeepsBothOldOnes(t *testing.T) {
	path, _, b := backedUp(t)
	names := map[string]bool{}
	for range 3 {
		restored, err := session.Restore(path, b.Path, time.Unix(0, 0), letGo)
		if err != nil || names[restored.Aside] {
			t.Fatalf("Restore = %+v, %v, want a name that is new", restored, err)
		}
		names[restored.Aside] = true
	}
	for name := range names {
		checkFile(t, name)
	}
}

func TestRestoreRefusesAndLeavesAllAsItWas(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		from func(t *testing.T, path string, b session.Backup) string
		want error
	}{
		{"a store that is open", func(t *testing.T, path string, b session.Backup) string {
			open(t, path, newClock().now)
			return b.Path
		}, session.ErrInUse},
		{"a damaged backup", func(t *testing.T, path string, b session.Backup) string {
			turnPages(b.Path, 30000)
			return b.Path
		}, session.ErrDamaged},
		{"a backup that is not there", func(t *testing.T, path string, b session.Backup) string { return path + ".no" }, fs.ErrNotExist},
		{"what is no backup", func(t *testing.T, path string, b session.Backup) string {
			os.WriteFile(b.Path, []byte("quilts"), 0o600)
			return b.Path
		}, session.ErrForeign},
		{"a folder", func(t *testing.T, path string, b session.Backup) string { return filepath.Dir(path) }, session.ErrForeign},
		{"the store itself", func(t *testing.T, path string, b session.Backup) string { return path }, fs.ErrExist},
	} {
		t.Run(c.name, func(t *testing.T) {
			path, _, b := backedUp(t)
			from := c.from(t, path, b)
			before, _ := os.ReadFile(path)
			restored, err := session.Restore(path, from, newClock().now(), letGo)
			if !errors.Is(err, c.want) || restored.Aside != "" {
				t.Errorf("Restore = %+v, %v, want %v", restored, err, c.want)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("Restore changed the store")
			}
			if left, _ := filepath.Glob(path + ".*"); len(left) > 0 {
				t.Errorf("Restore left %v", left)
			}
		})
	}
}

// Who was shut out since the backup stays out, and who was let in stays in.
func TestRestoreKeepsTheDevicesOfToday(t *testing.T) {
	for _, c := range []struct {
		name          string
		harm          func(path string)
		old, new, say bool
	}{
		{"a sound store", func(string) {}, false, true, true},
		{"a damaged one, which can't tell", func(path string) { turnPages(path, 30000) }, true, false, false},
	} {
		path := newPath(t)
		s := open(t, path, newClock().now)
		create(t, s)
		d := openDevices(t, s)
		old, device := letIn(t, d, false)
		b := backUp(t, s)
		if err := d.Forget(ctx, device.ID); err != nil {
			t.Fatal(err)
		}
		later, _ := letIn(t, d, true)
		s.Close()
		c.harm(path)
		restored, err := session.Restore(path, b.Path, newClock().now(), letGo)
		if err != nil || restored.Devices != c.say {
			t.Fatalf("%s: Restore = %+v, %v, want the devices kept: %t", c.name, restored, err, c.say)
		}
		checkFile(t, path)
		d = openDevices(t, open(t, path, newClock().now))
		if isIn(d, old) != c.old || isIn(d, later) != c.new {
			t.Errorf("%s: the device forgotten since is in: %t, want %t; the one paired since: %t, want %t", c.name, isIn(d, old), c.old, isIn(d, later), c.new)
		}
	}
}

// A revision that is reached again after a Restore is not the one from before.
func TestRestoreBeginsAnotherEpoch(t *testing.T) {
	path, _, b := backedUp(t)
	seen := map[string]bool{}
	for n := range 4 {
		s := open(t, path, newClock().now)
		if epoch := s.Epoch(); seen[epoch] || (epoch == "") != (n == 0) {
			t.Errorf("after %d times: the epoch %q was there before, or is none", n, epoch)
		} else {
			seen[epoch] = true
		}
		own := backUp(t, s)
		s.Close()
		again := open(t, path, newClock().now)
		if !seen[again.Epoch()] {
			t.Errorf("after %d times: opened again, it has another epoch", n)
		}
		again.Close()
		from := b.Path
		if n == 2 {
			from = own.Path // of what was restored already
		}
		if _, err := session.Restore(path, from, time.Unix(int64(n), 0), letGo); err != nil {
			t.Fatal(err)
		}
		checkFile(t, path)
	}
}

func TestDamagedEpochIsAnother(t *testing.T) {
	path, id, b := backedUp(t)
	if _, err := session.Restore(path, b.Path, newClock().now(), letGo); err != nil {
		t.Fatal(err)
	}
	s := open(t, path, newClock().now)
	was := s.Epoch()
	s.Close()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte(was)); n == 0 {
		t.Fatal("the epoch is not to be found in the file")
	}
	if err := os.WriteFile(path, bytes.ReplaceAll(data, []byte(was), bytes.Repeat([]byte("x"), len(was))), 0o600); err != nil {
		t.Fatal(err)
	}
	s = open(t, path, newClock().now)
	if is := s.Epoch(); is == was || is == "" || is[0] == 'x' {
		t.Errorf("the epoch is %q after it was damaged, want another", is)
	}
	if got := get(t, s, id); got.Rev != 2 {
		t.Errorf("the session is at revision %d, want 2", got.Rev)
	}
}

// A restore that is stopped on its way leaves its copy, and the store under two names.
func TestOpenClearsAwayWhatARestoreLeft(t *testing.T) {
	path, id, _ := backedUp(t)
	earlier := path + ".set-aside-20260101-120000"
	if _, err := session.Copy(path, earlier); err != nil {
		t.Fatal(err)
	}
	left := []string{path + ".taken-back", path + ".taken-back.77.half-made", path + ".88.half-made", path + ".new"}
	for _, name := range left {
		if err := os.WriteFile(name, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	second := path + ".set-aside-20260301-120000"
	if err := os.Link(path, second); err != nil {
		t.Fatal(err)
	}
	s := open(t, path, newClock().now)
	if got := get(t, s, id); got.Rev != 3 {
		t.Errorf("the session is at revision %d, want 3", got.Rev)
	}
	for _, name := range append(left, second) {
		if _, err := os.Lstat(name); err == nil {
			t.Errorf("%s is there still", filepath.Base(name))
		}
	}
	if got := session.SetAside(path); len(got) != 1 || got[0] != earlier {
		t.Errorf("SetAside = %q, want what an earlier restore set aside, %q", got, earlier)
	}
}

// Where a file system knows no second names, a restore that is stopped leaves no store.
func TestAStoreThatWasOnlySetAsideIsNotMadeAnew(t *testing.T) {
	path, _, _ := backedUp(t)
	os.RemoveAll(filepath.Join(filepath.Dir(path), "backups"))
	aside := path + ".set-aside-20260301-120000"
	if err := os.Rename(path, aside); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path+".set-aside-20260302-120000", nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := session.Open(path, newClock().now); !errors.Is(err, session.ErrMissing) {
		t.Fatalf("Open: %v, want ErrMissing", err)
	}
	if file, report, err := session.LatestAside(path); file != aside || report.Sessions != 1 || err != nil {
		t.Errorf("LatestAside = %q, %d sessions, %v, want the latest that is sound", file, report.Sessions, err)
	}
}

// A restore into an empty folder and a first start there would each put a store under the name.
func TestNoStoreIsBegunDuringARestoreIntoNothing(t *testing.T) {
	_, _, b := backedUp(t)
	path := newPath(t)
	free := func() (func(), error) {
		if s, err := session.Open(path, newClock().now); !errors.Is(err, session.ErrInUse) {
			t.Errorf("Open meanwhile: %v, want ErrInUse", err)
			s.Close()
		}
		return func() {}, nil
	}
	if _, err := session.Restore(path, b.Path, newClock().now(), free); err != nil {
		t.Errorf("Restore: %v", err)
	}
}

// What a restore left half made is no backup to take: it would be removed first.
func TestTheCopyOfARestoreIsNotTakenForABackup(t *testing.T) {
	path, _, b := backedUp(t)
	left := path + ".taken-back"
	if _, err := session.Copy(b.Path, left); err != nil {
		t.Fatal(err)
	}
	if _, err := session.Restore(path, left, newClock().now(), letGo); !errors.Is(err, fs.ErrExist) {
		t.Errorf("Restore of it: %v, want it refused", err)
	}
	checkFile(t, left)
}

// Two restores at once would put their copies in each other's way.
func TestASecondRestoreAtTheSameTimeIsRefused(t *testing.T) {
	path, id, b := backedUp(t)
	var second error
	free := func() (func(), error) {
		_, second = session.Restore(path, b.Path, newClock().now(), letGo)
		return func() {}, nil
	}
	if _, err := session.Restore(path, b.Path, newClock().now(), free); err != nil {
		t.Fatal(err)
	}
	if !errors.Is(second, session.ErrInUse) {
		t.Errorf("Restore during another: %v, want ErrInUse", second)
	}
	s := open(t, path, newClock().now)
	if got := get(t, s, id); got.Rev != 2 {
		t.Errorf("the session is at revision %d, want 2", got.Rev)
	}
}

// The server lets go for no longer than it takes, and only for a good backup.
func TestRestoreAsksForTheStoreOnceTheCopyIsWhole(t *testing.T) {
	path, id, b := backedUp(t)
	s := open(t, path, newClock().now)
	asked, given := 0, 0
	free := func() (func(), error) {
		asked++
		s.Close()
		return func() {
			given++
			s = open(t, path, newClock().now)
		}, nil
	}
	if _, err := session.Restore(path, b.Path, newClock().now(), free); err != nil || asked != 1 || given != 1 {
		t.Fatalf("Restore: %v; the store was asked for %d times and given back %d times, want once", err, asked, given)
	}
	if got := get(t, s, id); got.Rev != 2 {
		t.Errorf("the session is at revision %d, want 2", got.Rev)
	}
	turnPages(b.Path, 30000)
	if _, err := session.Restore(path, b.Path, newClock().now(), free); !errors.Is(err, session.ErrDamaged) || asked != 1 {
		t.Errorf("Restore of a damaged backup: %v; asked %d times, want ErrDamaged and not asked again", err, asked)
	}
	refused := errors.New("not now")
	good := backUp(t, s)
	if _, err := session.Restore(path, good.Path, newClock().now(), func() (func(), error) { return nil, refused }); !errors.Is(err, refused) {
		t.Errorf("Restore: %v, want the refusal", err)
	}
	if left, _ := filepath.Glob(path + ".taken-back*"); len(left) > 0 {
		t.Errorf("Restore left %v", left)
	}
}

func TestCopyIsCheckedAndOverwritesNothing(t *testing.T) {
	path, _, b := backedUp(t)
	to := filepath.Join(t.TempDir(), "copy.db")
	for _, from := range []string{path, b.Path} {
		if report, err := session.Copy(from, to); err != nil || report.Sessions != 1 {
			t.Errorf("Copy(%s) = %+v, %v, want one session", filepath.Base(from), report, err)
		}
		checkFile(t, to)
		kept, _ := os.ReadFile(to)
		if _, err := session.Copy(from, to); !errors.Is(err, fs.ErrExist) {
			t.Errorf("Copy onto a file: %v, want fs.ErrExist", err)
		}
		if now, _ := os.ReadFile(to); string(now) != string(kept) {
			t.Error("Copy changed the file that was there")
		}
		os.Remove(to)
	}
	turnPages(path, 30000)
	if _, err := session.Copy(path, to); !errors.Is(err, session.ErrDamaged) {
		t.Errorf("Copy of a damaged store: %v, want ErrDamaged", err)
	}
	if left, _ := filepath.Glob(to + "*"); len(left) > 0 {
		t.Errorf("Copy left %v", left)
	}
}

// TestOpenWhileABackupIsPutInPlace: who waited for the lock of the store that was
// set aside must not work on that one.
func TestOpenWhileABackupIsPutInPlace(t *testing.T) {
	t.Parallel()
	path, _, b := backedUp(t)
	for n := range rounds(5, 2) {
		opened := make(chan *session.Store)
		go func() {
			s, err := session.Open(path, time.Now)
			if err != nil && !errors.Is(err, session.ErrInUse) && !strings.Contains(err.Error(), "gone") {
				t.Errorf("round %d: Open: %v", n, err)
			}
			opened <- s
		}()
		restored, err := session.Restore(path, b.Path, time.Unix(int64(n), 0), letGo)
		if err != nil && !errors.Is(err, session.ErrInUse) {
			t.Errorf("round %d: Restore: %v", n, err)
		}
		s := <-opened
		if s == nil {
			continue
		}
		head, err := s.Create(ctx, plan)
		if err := errors.Join(err, s.Close()); err != nil {
			t.Fatal(err)
		}
		// A store that was open before it was set aside is refused to Restore.
		if report, err := session.CheckFile(path); err != nil || report.Sessions < 2 {
			t.Errorf("round %d: after %q was set aside, the session %s went elsewhere: %s", n, restored.Aside, head.ID, fmt.Sprint(report, err))
		}
	}
}
