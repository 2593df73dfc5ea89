//go:build unix

package session_test

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
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

// writeUntilKilled says "id ID", then "ack OP REV" for each op that is on disk.
func writeUntilKilled(path string) error {
	s, snap, err := newSession(path)
	if err != nil {
		return err
	}
	fmt.Println("id", snap.ID)
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

func TestKilledProcessLosesNothingAcknowledged(t *testing.T) {
	path := newPath(t)
	for round := range 5 {
		c := child("write", path)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		var id string
		acked := map[int64]string{}
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			var op string
			var rev int64
			switch line := lines.Text(); {
			case strings.HasPrefix(line, "error"):
				t.Errorf("round %d: the child says %s", round, line)
			case strings.HasPrefix(line, "id "):
				id = line[3:]
				time.AfterFunc(time.Duration(20+rand.IntN(150))*time.Millisecond, func() { c.Process.Kill() })
			default:
				if _, err := fmt.Sscanf(line, "ack %s %d", &op, &rev); err != nil {
					t.Errorf("round %d: the child says %s", round, line)
				}
				acked[rev] = op
			}
		}
		c.Wait()
		checkFile(t, path)
		s := open(t, path, time.Now)
		entries := history(t, s, id)
		onDisk := map[int64]string{}
		for _, e := range entries {
			onDisk[e.Rev] = e.ID
		}
		for rev, op := range acked {
			if onDisk[rev] != op {
				t.Errorf("round %d: op %s was acknowledged as revision %d, on disk that is %q", round, op, rev, onDisk[rev])
			}
		}
		if len(acked) == 0 {
			t.Errorf("round %d: nothing was acknowledged before the kill", round)
		}
		differ(t, "the state after the kill", state(t, get(t, s, id).Work), state(t, foldPlain(t, entries)))
		t.Logf("round %d: %d acknowledged, %d on disk", round, len(acked), len(entries)-1)
		s.Close()
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
	path := t.TempDir() + "/cornerwise.db"
	if out, err := child("damage", path).CombinedOutput(); err != nil {
		t.Errorf("%v: %.3000s", err, out)
	}
}
