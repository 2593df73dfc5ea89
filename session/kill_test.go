//go:build unix

package session_test

import (
	"bufio"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"cornerwise/session"
)

func init() {
	children["write"] = writeUntilKilled
	children["full"] = writeUntilFull
	children["tidy"] = tidyWithoutBackups
	children["foreign"] = nameAnothersPhoto
}

func child(deed, path string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "CORNERWISE_TEST_CHILD="+deed, "CORNERWISE_TEST_FILE="+path)
	return c
}

// newSession opens a store and makes a session in it.
func newSession(path string) (*session.Store, session.Snapshot, error) {
	s, err := session.Open(path, time.Now)
	if err != nil {
		return nil, session.Snapshot{}, err
	}
	head, err := s.Create(ctx, plan)
	if err != nil {
		return nil, session.Snapshot{}, err
	}
	snap, err := s.Get(head.ID)
	return s, snap, err
}

// writeUntilKilled says "id ID", then "ack OP REV" for each op that is on disk. It
// backs up all the while.
func writeUntilKilled(path string) error {
	s, snap, err := newSession(path)
	if err != nil {
		return err
	}
	fmt.Println("id", snap.ID)
	go s.BackUpEvery(ctx, 10*time.Millisecond, slog.New(slog.NewTextHandler(os.Stdout, &slog.HandlerOptions{Level: slog.LevelError})))
	var out sync.Mutex
	for g := range 8 {
		go func() {
			for n := 0; ; n++ {
				op := note(fmt.Sprintf("%d-%d", g, n), snap.Work, fmt.Sprint(n))
				rev, err := s.Do(ctx, snap.ID, op)
				out.Lock()
				if err != nil {
					fmt.Println("error", err)
				} else {
					fmt.Println("ack", op.ID, rev)
				}
				out.Unlock()
			}
		}()
	}
	select {}
}

// A killed is what a child said before it was killed.
type killed struct {
	id    string // "" when it had not got so far
	acked map[int64]string
}

// killAfter starts a child that writes, and kills it so long after its start, or after
// the first op that it acknowledges: how fast it starts is the machine's affair.
func killAfter(t *testing.T, path string, after time.Duration, acknowledged bool) killed {
	t.Helper()
	c := child("write", path)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	kill := func() { time.AfterFunc(after, func() { c.Process.Kill() }) }
	if !acknowledged {
		kill()
	}
	k := killed{acked: map[int64]string{}}
	lines := bufio.NewReader(out)
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			break // what is left is half a line
		}
		var op string
		var rev int64
		if id, is := strings.CutPrefix(line, "id "); is {
			k.id = strings.TrimSpace(id)
		} else if _, err := fmt.Sscanf(line, "ack %s %d", &op, &rev); err != nil {
			t.Errorf("the child says %s", line)
		} else {
			if k.acked[rev] = op; acknowledged && len(k.acked) == 1 {
				kill()
			}
		}
	}
	c.Wait()
	return k
}

// holds compares what was acknowledged with what is on disk, and tells how many
// ops each has.
func (k killed) holds(t *testing.T, s *session.Store) (acked, onDisk int) {
	t.Helper()
	if k.id == "" {
		return 0, 0
	}
	entries := history(t, s, k.id)
	for rev, op := range k.acked {
		if rev > int64(len(entries)) || entries[rev-1].ID != op {
			t.Errorf("op %s was acknowledged as revision %d, and is not there on disk", op, rev)
		}
	}
	differ(t, "the state after the kill", state(t, get(t, s, k.id).Work), state(t, foldPlain(t, entries)))
	return len(k.acked), len(entries) - 1
}

// TestKilledProcessLosesNothingAcknowledged kills a process with eight writers and
// backups 200 times, a quarter of them from its first moment on; ten times over, the
// store is new.
func TestKilledProcessLosesNothingAcknowledged(t *testing.T) {
	t.Parallel()
	var acked, onDisk, early, sound int
	stores := rounds(10, 1)
	if raceOn {
		stores = rounds(5, 1)
	}
	for range stores {
		path := newPath(t)
		var kills []killed
		for n := range 20 {
			k := killAfter(t, path, time.Duration(rand.IntN(90))*time.Millisecond, n%4 > 0)
			if k.id == "" {
				early++
			}
			kills = append(kills, k)
			if _, err := os.Stat(path); err != nil {
				continue // killed before the store was made
			}
			checkFile(t, path)
			s, err := session.Open(path, time.Now)
			if err != nil {
				t.Fatalf("Open after the kill: %v", err)
			}
			a, d := k.holds(t, s)
			acked, onDisk = acked+a, onDisk+d
			s.Close()
		}
		// The rounds before are not harmed by those after.
		s := open(t, path, time.Now)
		for _, k := range kills {
			k.holds(t, s)
		}
		s.Close()
		for _, b := range backups(t, path) {
			if _, err := session.CheckFile(b.Path); err != nil {
				t.Errorf("a backup after kills: %v", err)
			}
			sound++
		}
	}
	t.Logf("%d kills, %d of them before the first session; %d ops acknowledged, %d on disk; %d backups, all sound", 20*stores, early, acked, onDisk, sound)
	if acked < 15*stores || sound == 0 {
		t.Errorf("%d ops were acknowledged and %d backups made; this proves nothing", acked, sound)
	}
}

// writeUntilFull meets a limit to the file's size, has it lifted, and goes on.
func writeUntilFull(path string) error {
	signal.Ignore(syscall.SIGXFSZ) // so that the write fails instead
	s, snap, err := newSession(path)
	if err != nil {
		return err
	}
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	free := limit.Cur
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	limit.Cur = uint64(info.Size()) + 100<<10
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	n := 0
	for ; err == nil && n < 1000; n++ {
		_, err = s.Do(ctx, snap.ID, note(fmt.Sprint(n), snap.Work, fmt.Sprint(n, strings.Repeat(" and so on", 90))))
	}
	if !errors.Is(err, session.ErrFull) {
		return fmt.Errorf("Do on a full disk: %v, want ErrFull", err)
	}
	if now, err := s.Get(snap.ID); err != nil || now.Rev != int64(n) {
		return fmt.Errorf("Get on a full disk = %+v, %v, want revision %d", now.Head, err, n)
	}
	limit.Cur = free
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	rev, err := s.Do(ctx, snap.ID, note(fmt.Sprint(n-1), snap.Work, "sent again"))
	if err != nil || rev != int64(n)+1 {
		return fmt.Errorf("Do with space again = %d, %v, want %d", rev, err, n+1)
	}
	return s.Close()
}

func TestFullDiskIsSaidAndNothingIsLost(t *testing.T) {
	out, err := child("full", newPath(t)).CombinedOutput()
	if err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

// tidyWithoutBackups has no room for a backup, and a photo that nobody has named for a day.
func tidyWithoutBackups(path string) error {
	signal.Ignore(syscall.SIGXFSZ)
	s, _, err := newSession(path)
	if err != nil {
		return err
	}
	loose, err := s.KeepPhoto(ctx, []byte("loose"))
	if err != nil {
		return err
	}
	file, before := filepath.Join(filepath.Dir(path), "photos", loose), time.Now().Add(-25*time.Hour)
	limit := syscall.Rlimit{Cur: 8 << 10, Max: 8 << 10}
	if err := errors.Join(os.Chtimes(file, before, before), syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit)); err != nil {
		return err
	}
	if _, err := s.BackUp(ctx); !errors.Is(err, session.ErrFull) {
		return fmt.Errorf("BackUp without room: %v, want ErrFull", err)
	}
	go s.BackUpEvery(ctx, time.Millisecond, slog.New(slog.DiscardHandler))
	for range 1000 {
		if _, err := os.Stat(file); errors.Is(err, os.ErrNotExist) {
			return nil
		}
		time.Sleep(10 * time.Millisecond)
	}
	return errors.New("the photo is still there")
}

// Photos that nobody names may be what fills the disk.
func TestPhotosAreTidiedAwayWhereThereIsNoRoomForABackup(t *testing.T) {
	out, err := child("tidy", newPath(t)).CombinedOutput()
	if err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

// nameAnothersPhoto goes on as a user who may read a photo, and not set its file's time.
func nameAnothersPhoto(path string) error {
	const nobody = 65534
	s, _, err := newSession(path)
	if err != nil {
		return err
	}
	photo, err := s.KeepPhoto(ctx, []byte("red dots"))
	if err != nil {
		return err
	}
	folder := filepath.Dir(path)
	photos := filepath.Join(folder, "photos")
	file, before := filepath.Join(photos, photo), time.Now().Add(-25*time.Hour)
	if err := errors.Join(os.Chmod(filepath.Dir(folder), 0o755), os.Chmod(folder, 0o755), os.Chmod(file, 0o644),
		os.Chown(photos, nobody, nobody), os.Chtimes(file, before, before), syscall.Setuid(nobody)); err != nil {
		return err
	}
	if _, err := os.Stat(file); err != nil {
		return nil // a folder above keeps others out: nothing can be tried here
	}
	if err := os.Chtimes(file, before, before); !errors.Is(err, os.ErrPermission) {
		return fmt.Errorf("its time can be set: %v; this proves nothing", err)
	}
	if _, err := s.KeepPhoto(ctx, []byte("red dots")); err != nil {
		return fmt.Errorf("KeepPhoto again: %w", err)
	}
	if err := s.TidyPhotos(ctx); err != nil {
		return err
	}
	if _, err := s.Photo(photo); err != nil {
		return fmt.Errorf("it was asked for again, and is tidied away: %w", err)
	}
	if _, err := s.Create(ctx, photographed(photo)); err != nil {
		return fmt.Errorf("Create on it: %w", err)
	}
	return nil
}

// Such as one that was copied into the folder by the administrator.
func TestAPlanMayNameAPhotoWhoseFileIsAnotherUsers(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root may go on as another user")
	}
	out, err := child("foreign", newPath(t)).CombinedOutput()
	if err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

func init() { children["damage"] = readDamaged }

// readDamaged has a store's file damaged while it is open. It must get an error
// for everything, and live.
func readDamaged(path string) error {
	for _, damage := range []func(size int64) error{
		func(size int64) error { return turnPages(path, size) },
		func(int64) error { return os.Truncate(path, 8192) },
	} {
		os.Remove(path)
		s, snap, err := newSession(path)
		if err != nil {
			return err
		}
		// More than memory keeps, so that the first is read from the file.
		for n := 0; err == nil && n < 80; n++ {
			_, err = s.Create(ctx, plan)
		}
		info, statErr := os.Stat(path)
		if err := errors.Join(err, statErr); err != nil {
			return err
		}
		if err := damage(info.Size()); err != nil {
			return err
		}
		_, getErr := s.Get(snap.ID)
		_, doErr := s.Do(ctx, snap.ID, note("a", snap.Work, "a note"))
		_, _, listErr := s.List(100, "", false)
		_, checkErr := s.Check(ctx)
		for call, err := range map[string]error{"Get": getErr, "Do": doErr, "List": listErr, "Check": checkErr} {
			if !errors.Is(err, session.ErrDamaged) {
				return fmt.Errorf("%s on a damaged file: %v, want ErrDamaged", call, err)
			}
		}
		if err := s.Close(); err != nil {
			return err
		}
	}
	return nil
}

func TestFileDamagedWhileItIsOpenIsSaidAndEndsNothing(t *testing.T) {
	t.Parallel()
	path := t.TempDir() + "/cornerwise.db"
	if out, err := child("damage", path).CombinedOutput(); err != nil {
		t.Errorf("%v: %.3000s", err, out)
	}
}
