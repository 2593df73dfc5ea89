package session

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"

	"cornerwise/session/disk"
)

// A Backup is one of the store's own, in the folder backups beside it. Its number
// tells the order: a clock that was wrong can't make an old one the newest.
type Backup struct {
	Path   string
	Number int
	Made   time.Time // by the clock of that moment, to the second
}

const (
	backupFolder = "backups"
	backupName   = "%06d-%s.db" // number, time
	backupTime   = "20060102-150405"
	unnamed      = ".new" // ended the name of what an older program had not made whole yet
)

// Backups are the own backups of the store at path, newest first, good or not.
func Backups(path string) ([]Backup, error) {
	folder := filepath.Join(filepath.Dir(path), backupFolder)
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("list the backups: %w", err)
	}
	var list []Backup
	for _, e := range entries {
		b := Backup{Path: filepath.Join(folder, e.Name())}
		var made string
		if n, _ := fmt.Sscanf(e.Name(), "%d-%18s", &b.Number, &made); n != 2 || len(made) < len(backupTime) {
			continue
		}
		b.Made, err = time.Parse(backupTime, made[:len(backupTime)])
		info, infoErr := e.Info()
		// An empty one was never finished; anything else in the folder is somebody's own.
		if err == nil && infoErr == nil && e.Name() == b.name() && info.Mode().IsRegular() && info.Size() > 0 {
			list = append(list, b)
		}
	}
	slices.SortFunc(list, func(a, b Backup) int { return cmp.Compare(b.Number, a.Number) })
	return list, nil
}

func (b Backup) name() string { return fmt.Sprintf(backupName, b.Number, b.Made.Format(backupTime)) }

// NewestGood is the newest own backup of the store at path that is sound; ErrNone
// when there is none.
func NewestGood(path string) (Backup, Report, error) {
	list, err := Backups(path)
	if err != nil {
		return Backup{}, Report{}, err
	}
	for _, b := range list {
		if report, err := CheckFile(b.Path); err == nil {
			return b, report, nil
		}
	}
	return Backup{}, Report{}, ErrNone
}

// BackUp makes an own backup, checks it, and removes the expired ones. When the
// newest has all that the store has, it is that one. Writers go on meanwhile. It
// ends early with ctx, and is ErrFull where it would not leave as much space as it
// takes.
func (s *Store) BackUp(ctx context.Context) (Backup, error) {
	s.backing.Lock()
	defer s.backing.Unlock()
	// A damaged store makes no backup: it would push out a good one.
	now, err := s.Check(ctx)
	if err != nil {
		return Backup{}, err
	}
	path := s.db.Path()
	list, err := Backups(path)
	if err != nil {
		return Backup{}, err
	}
	if len(list) > 0 {
		if last, err := CheckFile(list[0].Path); err == nil && last.Sum == now.Sum {
			return list[0], nil
		}
	}
	if free, err := space(filepath.Dir(path)); err == nil && !leavesSpace(now.Size, free) {
		return Backup{}, fmt.Errorf("back up %s: a copy of %d bytes would leave too little of %d: %w",
			s.name, now.Size, free, ErrFull)
	}
	b, err := backUp(ctx, s.db.View, path, s.now())
	if err != nil {
		return Backup{}, fileError("back up "+s.name, err)
	}
	for _, old := range expired(append([]Backup{b}, list...)) {
		if err := os.Remove(old.Path); err != nil {
			return b, fmt.Errorf("remove an expired backup: %w", err)
		}
	}
	return b, nil
}

// leavesSpace tells whether a copy leaves as many bytes as it takes: the next tick needs
// the space more than a backup does.
func leavesSpace(size int64, free uint64) bool { return free >= 2*uint64(size) }

// A viewer reads a store that is open, as bolt.DB's View does.
type viewer func(see func(*bolt.Tx) error) error

// backUp copies what is open to the next own backup of the store at path.
func backUp(ctx context.Context, view viewer, path string, now time.Time) (Backup, error) {
	list, err := Backups(path)
	if err != nil {
		return Backup{}, err
	}
	b := Backup{Number: 1, Made: now.UTC().Truncate(time.Second)}
	if len(list) > 0 {
		b.Number = list[0].Number + 1
	}
	b.Path = filepath.Join(filepath.Dir(path), backupFolder, b.name())
	if err := disk.MakeFolder(filepath.Dir(b.Path)); err != nil {
		return Backup{}, err
	}
	clearHalves(filepath.Dir(b.Path))
	return b, writeChecked(b.Path, func(w io.Writer) error { return writeTo(ctx, view, w) }, nil)
}

// clearHalves removes what was half made when a program was stopped: copies without
// their name yet and, of an older program, names without their copy.
func clearHalves(folder string) {
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		name, _, _ := strings.Cut(e.Name(), ".db")
		var number int
		if n, _ := fmt.Sscanf(name, "%d-", &number); n != 1 {
			continue
		}
		path := filepath.Join(folder, name+".db")
		disk.RemoveHalves(path)
		os.Remove(path + unnamed)
		if info, err := os.Lstat(path); err == nil && info.Mode().IsRegular() && info.Size() == 0 {
			os.Remove(path)
		}
	}
}

// writeTo writes what is open, as it stands now, and ends early with ctx.
func writeTo(ctx context.Context, view viewer, w io.Writer) error {
	return faultAsDamage(func() error {
		return view(func(tx *bolt.Tx) error {
			_, err := tx.WriteTo(writeWanted{ctx, w})
			return err
		})
	})
}

// writeWanted writes until ctx ends.
type writeWanted struct {
	ctx  context.Context
	file io.Writer
}

func (w writeWanted) Write(data []byte) (int, error) {
	if w.ctx.Err() != nil {
		return 0, w.ctx.Err()
	}
	return w.file.Write(data)
}

// writeChecked makes a store's file of what write writes, and more, where it is not nil, makes of
// that. It has its name only once it is on the disk and was checked. What has that name already
// stays: fs.ErrExist.
func writeChecked(path string, write func(io.Writer) error, more func(half string) error) error {
	disk.RemoveHalves(path)
	return disk.MakeFile(path, func(half string) error {
		file, err := os.OpenFile(half, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		if err := errors.Join(write(file), file.Close()); err != nil {
			return err
		}
		if more != nil {
			if err := more(half); err != nil {
				return err
			}
		}
		_, err = CheckFile(half)
		return err
	})
}

// BackUpEvery backs up now and at every interval, until ctx ends. A fault is
// logged: the next one may be better off.
func (s *Store) BackUpEvery(ctx context.Context, every time.Duration, log *slog.Logger) {
	ticker := time.NewTicker(every)
	defer ticker.Stop()
	last := 0
	for ctx.Err() == nil {
		b, err := s.BackUp(ctx)
		if err == nil || errors.Is(err, ErrFull) { // photos that nobody names may be what fills the disk
			err = cmp.Or(err, s.TidyPhotos(ctx))
		}
		switch {
		case errors.Is(err, ErrClosed), ctx.Err() != nil:
			return
		case err != nil:
			log.Error("no backup", "err", err)
		case b.Number != last:
			log.Info("backup", "file", filepath.Base(b.Path))
			last = b.Number
		}
		select {
		case <-ctx.Done():
		case <-ticker.C:
		}
	}
}
