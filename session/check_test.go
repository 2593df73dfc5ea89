package session_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
)

// fill makes a store with something of everything, large enough for branches, and
// with pages that are free.
func fill(t testing.TB, path string) {
	t.Helper()
	s := open(t, path, newClock().now)
	for n := range 12 {
		id := create(t, s).ID
		w := get(t, s, id).Work
		for i := range 5 + n*4 {
			do(t, s, id, note(fmt.Sprint("note ", i), w, fmt.Sprint("thread ", i, strings.Repeat(" and so on", i))))
		}
		if _, locked, _ := sortTicks(w); n%3 == 0 {
			s.Do(ctx, id, tick("too soon", locked[len(locked)-1], true))
		}
		if n%4 == 3 {
			if err := s.Bin(ctx, id); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// all is everything that a store gives out.
func all(t testing.TB, path string) string {
	t.Helper()
	s, err := session.Open(path, newClock().now)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	defer s.Close()
	var b strings.Builder
	for _, binned := range []bool{false, true} {
		heads, _, err := s.List(100, "", binned)
		fmt.Fprintln(&b, heads, err)
		for _, h := range heads {
			if binned {
				if err := s.Unbin(ctx, h.ID); err != nil {
					t.Fatalf("Unbin: %v", err)
				}
			}
			data, err := s.Export(h.ID)
			fmt.Fprintf(&b, "%s %v\n", data, err)
		}
	}
	return b.String()
}

func TestCheckCountsWhatIsThere(t *testing.T) {
	path := newPath(t)
	fill(t, path)
	got, err := session.CheckFile(path)
	// 12 plans, and 5 + 4n notes for n from 0 to 11: 60 + 4 x 66.
	if err != nil || got.Sessions != 12 || got.Binned != 3 || got.Ops != 12+60+264 || got.Version != 5 || got.Half {
		t.Errorf("CheckFile = %+v, %v, want 12 sessions, 3 in the bin, 336 ops", got, err)
	}
	s := open(t, path, newClock().now)
	if hot, err := s.Check(ctx); err != nil || fmt.Sprint(hot) != fmt.Sprint(got) {
		t.Errorf("Check = %+v, %v,\nwant the same as CheckFile: %+v", hot, err, got)
	}
}

// TestFlippedBitIsFoundOrHarmless flips one bit of a store at a time, everywhere:
// either the check finds it, or everything that the store gives out is as before.
func TestFlippedBitIsFoundOrHarmless(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "cornerwise.db")
	fill(t, path)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	want := all(t, path)
	r := rand.New(rand.NewPCG(7, 11))
	found, tries := 0, rounds(400, 60)
	for range tries {
		bad := append([]byte(nil), good...)
		at, bit := r.IntN(len(bad)), r.IntN(8)
		bad[at] ^= 1 << bit
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		report, err := session.CheckFile(path)
		switch {
		case errors.Is(err, session.ErrDamaged):
			found++
			if s, err := session.Open(path, time.Now); !errors.Is(err, session.ErrDamaged) {
				t.Fatalf("bit %d of byte %d: Open = %v, %v, want ErrDamaged", bit, at, s, err)
			}
			if now, _ := os.ReadFile(path); string(now) != string(bad) {
				t.Fatalf("bit %d of byte %d: Open changed the file that it refused", bit, at)
			}
		case err != nil:
			t.Fatalf("bit %d of byte %d: CheckFile: %v, want ErrDamaged or nil", bit, at, err)
		case report.Half:
		default:
			if got := all(t, path); got != want {
				differ(t, fmt.Sprintf("bit %d of byte %d: what the store gives out", bit, at), got, want)
			}
		}
	}
	if found < tries/10 {
		t.Errorf("only %d of %d flipped bits were found; this proves nothing", found, tries)
	}
	t.Logf("%d of %d flipped bits were found in %d bytes; the others lay where nothing is kept", found, tries, len(good))
}

func TestStoreCutShortIsFoundWhereverItIsCut(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "cornerwise.db")
	fill(t, path)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	whole := all(t, path)
	high := 0
	for size := 0; size < len(good); size += 1000 {
		if err := os.WriteFile(path, good[:size], 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := session.Open(path, time.Now)
		if err == nil {
			s.Close()
			// bbolt grows a file ahead of need: what was cut off was never used.
			if got := all(t, path); got != whole {
				t.Errorf("cut to %d of %d bytes: Open is content, and what the store gives out differs", size, len(good))
			}
			break
		}
		if !errors.Is(err, session.ErrDamaged) {
			t.Errorf("cut to %d of %d bytes: Open: %v, want ErrDamaged", size, len(good), err)
		}
		high = size
	}
	if high < len(good)/4 {
		t.Errorf("found cut short up to %d of %d bytes only", high, len(good))
	}
}

// turnPages overwrites all but the meta pages.
func turnPages(path string, size int64) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = file.WriteAt([]byte(strings.Repeat("quilts", int(size)/6))[:size-8192], 8192)
	return err
}
