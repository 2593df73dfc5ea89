package maintenance_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/cmd/cornerwise/internal/maintenance"
	"cornerwise/session"
	"cornerwise/session/web"
)

const plan = `{"center": {"width": "20", "length": "20"}, "borders": [{"cut": "3"}]}`

// withSessions is a data folder with so many sessions, which no server has open.
func withSessions(t *testing.T, sessions int) (folder string) {
	t.Helper()
	folder = t.TempDir()
	store, err := session.Open(datafolder.Store(folder), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	for range sessions {
		if _, err := store.Create(t.Context(), []byte(plan)); err != nil {
			t.Fatal(err)
		}
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	return folder
}

func TestWithoutAServer(t *testing.T) {
	two, one := withSessions(t, 2), withSessions(t, 1)
	file := filepath.Join(t.TempDir(), "away.db")
	says := func(deed string, want ...string) func(string, error) {
		return func(said string, err error) {
			t.Helper()
			if err != nil {
				t.Errorf("%s: %v", deed, err)
			}
			for _, part := range want {
				if !strings.Contains(said, part) {
					t.Errorf("%s: said %q, want %q in it", deed, said, part)
				}
			}
		}
	}
	ctx := t.Context()
	says("Backup", file, "2 sessions, 2 ops")(maintenance.Backup(ctx, two, file))
	says("Check a file", file+" is sound: 2 sessions")(maintenance.Check(ctx, one, file))
	says("Restore", "2 sessions", ".set-aside-")(maintenance.Restore(ctx, one, file))
	says("Check", "is sound: 2 sessions", "no backups of its own")(maintenance.Check(ctx, one, ""))

	aside, _ := filepath.Glob(datafolder.Store(one) + ".set-aside-*")
	if len(aside) != 1 {
		t.Fatalf("set aside: got %v, want the store of before", aside)
	}
	says("Check what was set aside", "1 session, 1 op")(maintenance.Check(ctx, one, aside[0]))
	if _, err := maintenance.Backup(ctx, two, file); err == nil || !strings.Contains(err.Error(), "is there already") {
		t.Errorf("Backup onto a file: %v, want that nothing is overwritten", err)
	}
}

// One that has lost its sessions is told apart from one that never had any.
func TestSessionsThatAreGone(t *testing.T) {
	folder := t.TempDir()
	if _, err := maintenance.Check(t.Context(), folder, ""); err == nil || !strings.Contains(err.Error(), "no sessions") {
		t.Errorf("Check of an empty folder: %v, want that there are none yet", err)
	}
	file := filepath.Join(folder, "backups", "000001-20260301-120000.db")
	if err := os.Mkdir(filepath.Dir(file), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := maintenance.Backup(t.Context(), withSessions(t, 1), file); err != nil {
		t.Fatal(err)
	}
	_, err := maintenance.Check(t.Context(), folder, "")
	if err == nil || !strings.Contains(err.Error(), "is gone") || !strings.Contains(err.Error(), file) {
		t.Errorf("Check of a folder with backups only: %v, want the command that restores %s", err, file)
	}
}

// A restore that was cut off where a file system knows no second names leaves what it set
// aside, and no store.
func TestWhatARestoreSetAsideIsNamedAndCanBeTaken(t *testing.T) {
	folder := withSessions(t, 2)
	aside := datafolder.Store(folder) + ".set-aside-20260301-120000"
	if err := os.Rename(datafolder.Store(folder), aside); err != nil {
		t.Fatal(err)
	}
	command := "cornerwise restore --data " + folder + " " + aside + "\n"
	for name, deed := range map[string]func() (string, error){
		"Check":  func() (string, error) { return maintenance.Check(t.Context(), folder, "") },
		"Backup": func() (string, error) { return maintenance.Backup(t.Context(), folder, filepath.Join(folder, "a.db")) },
		"Open": func() (string, error) {
			_, err := session.Open(datafolder.Store(folder), time.Now)
			return "", maintenance.Explain(folder, err)
		},
	} {
		if _, err := deed(); err == nil || !strings.Contains(err.Error(), "what a restore set aside is there, with 2 sessions") || !strings.Contains(err.Error(), command) {
			t.Errorf("%s: %v, want the command that takes %s", name, err, aside)
		}
	}
	other := t.TempDir()
	broken := datafolder.Store(other) + ".set-aside-20260301-120000"
	if err := os.WriteFile(broken, []byte("quilts"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := maintenance.Check(t.Context(), other, ""); err == nil || !strings.Contains(err.Error(), "move away "+broken) || strings.Contains(err.Error(), "backups") {
		t.Errorf("Check where only a broken one was set aside: %v, want it named, and no backups", err)
	}
	if said, err := maintenance.Restore(t.Context(), folder, aside); err != nil || !strings.Contains(said, "2 sessions") {
		t.Errorf("Restore of it: %q, %v", said, err)
	}
	if _, err := maintenance.Check(t.Context(), folder, ""); err != nil {
		t.Errorf("Check after it: %v", err)
	}
}

func TestEveryErrorOfTheStoreIsExplained(t *testing.T) {
	folder := t.TempDir()
	for _, c := range []struct {
		err  error
		want string
	}{
		{session.ErrInUse, "running already"},
		{session.ErrNewer, "start the newer one"},
		{session.ErrMissing, "is gone"},
		{session.ErrDamaged, "can't be used"},
		{session.ErrForeign, "can't be used"},
		{session.ErrFull, "no space left"},
		{syscall.EMFILE, "no more files be open"},
		{fs.ErrPermission, "can't be written to by this user"},
		{errors.New("the tape tore"), "the tape tore"},
	} {
		got := maintenance.Explain(folder, fmt.Errorf("open cornerwise.db: %w", c.err)).Error()
		if !strings.Contains(got, c.want) || !strings.Contains(got, folder) || strings.HasSuffix(got, ".") {
			t.Errorf("Explain(%v) = %q, want %q and the folder, without the last full stop", c.err, got, c.want)
		}
	}
}

// What a server names as its backup is copied only from the backups of the data folder.
func TestOnlyAnOwnBackupIsCopied(t *testing.T) {
	folder, other := withSessions(t, 1), withSessions(t, 2)
	h := local.NewHandler("http://127.0.0.1:8370")
	t.Cleanup(local.Serve(folder, h, slog.New(slog.DiscardHandler)))
	theirs := datafolder.Store(other)
	h.Use(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		json.NewEncoder(w).Encode(web.BackupReply{Path: theirs})
	}))
	file := filepath.Join(t.TempDir(), "away.db")
	if said, err := maintenance.Backup(t.Context(), folder, file); err == nil || !strings.Contains(err.Error(), "Nothing was copied") {
		t.Errorf("Backup: said %q, %v, want that %s is no backup of the folder", said, err, theirs)
	}
	if _, err := os.Stat(file); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("stat of the copy: %v, want none", err)
	}
}
