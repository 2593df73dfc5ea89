package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"cornerwise/session"
	"cornerwise/session/web"
)

// The commands that keep the work safe. Each returns what it did, in words; an
// error is one or more whole sentences without the last full stop.
var keepers = map[string]func(context.Context, kept) (string, error){
	"backup":  backup,
	"restore": restore,
	"check":   check,
}

// kept is what such a command works on.
type kept struct {
	data string // the folder
	file string // as it was named, "" when it was not
}

func (k kept) store() string { return filepath.Join(k.data, storeFile) }

func keep(ctx context.Context, command string, args []string, env func(string) string, stdout, stderr io.Writer) int {
	asked, err := keepArgs(command, args, env)
	if errors.Is(err, errHelp) {
		fmt.Fprint(stdout, help)
		return exitDone
	}
	if err != nil {
		fmt.Fprintf(stderr, "cornerwise %s: %s.\n", command, err)
		return exitMisused
	}
	said, err := keepers[command](ctx, asked)
	fmt.Fprint(stdout, said)
	if err != nil {
		fmt.Fprintf(stderr, "cornerwise %s: %s.\n", command, err)
		return exitFailed
	}
	return exitDone
}

func keepArgs(command string, args []string, env func(string) string) (k kept, err error) {
	k.data = env("CORNERWISE_DATA")
	if k.data == "" {
		k.data = dataFolder(runtime.GOOS, env)
	}
	f := flag.NewFlagSet(command, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.StringVar(&k.data, "data", k.data, "")
	var files []string
	for len(args) > 0 {
		if err := f.Parse(args); err != nil {
			return k, inWords(err)
		}
		if args = f.Args(); len(args) > 0 {
			files, args = append(files, args[0]), args[1:]
		}
	}
	switch {
	case len(files) > 1:
		return k, fmt.Errorf("takes one FILE, not %d; the first two are %q and %q", len(files), files[0], files[1])
	case len(files) == 0 && command == "backup":
		return k, errors.New("name the FILE that the backup goes to")
	case len(files) == 0 && command == "restore":
		return k, errors.New("name the FILE that holds the backup")
	case k.data == "":
		return k, errors.New("there is no folder for the sessions; name one with --data FOLDER")
	}
	if len(files) == 1 {
		k.file = files[0]
	}
	return k, nil
}

// backup copies the store to a new file, while it is served or not.
func backup(ctx context.Context, k kept) (string, error) {
	var made web.BackupReply
	from := k.store()
	switch err := ask(ctx, k.data, "POST", "/backup", &made); {
	case err == nil:
		from = made.Path // a checked copy of this moment
	case !errors.Is(err, errSilent):
		return "", err
	}
	report, err := session.Copy(from, k.file)
	switch {
	case errors.Is(err, fs.ErrExist):
		return "", fmt.Errorf("%s is there already, and nothing is overwritten. Name another file", k.file)
	case errors.Is(err, session.ErrFull):
		return "", fmt.Errorf("there is no space left for %s. Nothing of the store is lost: free some space there, or name a file elsewhere", k.file)
	case errors.Is(err, fs.ErrNotExist) && !exists(from):
		return "", fmt.Errorf("there are no sessions in %s yet, so there is nothing to back up", k.data)
	case errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("the folder of %s is not there. Make it, or name a file elsewhere", k.file)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "", fmt.Errorf("%s can't be written by this user. Name a file elsewhere", k.file)
	case err != nil:
		return "", storeTrouble(config{data: k.data}, err)
	}
	return fmt.Sprintf("Backed up to %s and read through: %s.\n", k.file, inventory(report)), nil
}

// restore puts a backup in the place of the store, while it is served or not.
func restore(ctx context.Context, k kept) (string, error) {
	taken, err := session.Restore(k.store(), k.file, time.Now(), func() (func(), error) { return standAside(ctx, k.data) })
	switch {
	case errors.Is(err, session.ErrInUse):
		return "", fmt.Errorf("the sessions in %s are in use by a program that does not let go of them. Stop it, then restore; nothing was changed", k.data)
	case errors.Is(err, session.ErrDamaged), errors.Is(err, session.ErrForeign):
		return "", fmt.Errorf("%s can't be taken: %s. Nothing was changed: choose another backup", k.file, what(err))
	case errors.Is(err, session.ErrNewer):
		return "", fmt.Errorf("%s was written by a newer Cornerwise. Nothing was changed: restore it with that one", k.file)
	case errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("there is no file %s. Nothing was changed", k.file)
	case errors.Is(err, fs.ErrExist):
		return "", fmt.Errorf("%s is the store itself. Nothing was changed: name a backup", k.file)
	case errors.Is(err, session.ErrFull):
		return "", fmt.Errorf("there is no space left in %s for the backup beside the present store. Nothing was changed: free some space, then restore", k.data)
	case err != nil:
		return "", fmt.Errorf("%s can't be restored: %w. Nothing was changed", k.file, err)
	}
	said := fmt.Sprintf("Restored from %s: %s.\n", k.file, inventory(taken.Report))
	if taken.Aside != "" {
		said += fmt.Sprintf("What was there before is kept as %s.\n", taken.Aside)
	}
	if !taken.Devices {
		said += "The devices that may come in are those of the backup: look through them, and forget those that should not.\n"
	}
	return said, nil
}

// check reads the store through, or one backup, and tells how it is.
func check(ctx context.Context, k kept) (string, error) {
	if k.file != "" {
		report, err := session.Examine(k.file)
		if err != nil {
			return "", unsound(k.file, report, err)
		}
		return fmt.Sprintf("%s is sound: %s.\n", k.file, inventory(report)), nil
	}
	var found web.CheckReply
	err := ask(ctx, k.data, "GET", "/check", &found)
	switch {
	case errors.Is(err, errSilent):
		found.Report, err = session.Examine(k.store())
		if errors.Is(err, fs.ErrNotExist) {
			if _, _, err := session.NewestGood(k.store()); err == nil {
				return "", storeTrouble(config{data: k.data}, session.ErrMissing)
			}
			return "", fmt.Errorf("there are no sessions in %s yet", k.data)
		}
		if errors.Is(err, session.ErrInUse) {
			return "", fmt.Errorf("the sessions in %s are in use by a program that does not answer. Stop it, then check", k.data)
		}
	case err != nil:
		return "", err
	case found.Fault != "":
		err = session.ErrDamaged
	}
	if err != nil {
		return "", fmt.Errorf("%w. %s", unsound(k.store(), found.Report, err), offer(k))
	}
	said := fmt.Sprintf("%s is sound: %s.\n", k.store(), inventory(found.Report))
	if found.Report.Half {
		said += "One of its two first pages is damaged: look whether your last tick is there. The next one mends the page.\n"
	}
	if n := found.Report.Unread; n > 0 {
		said += counted(int64(n), "device") + " can't be read and must pair again. No session is touched by it.\n"
	}
	return said + backupsInWords(k), nil
}

func unsound(file string, report session.Report, err error) error {
	if n := len(report.Faults); n > 0 {
		return fmt.Errorf("%s is damaged:\n  %s\nNothing was changed", file, strings.Join(report.Faults, "\n  "))
	}
	return fmt.Errorf("%s can't be read: %s. Nothing was changed", file, what(err))
}

func backupsInWords(k kept) string {
	list, err := session.Backups(k.store())
	if err != nil || len(list) == 0 {
		return "It has no backups of its own yet.\n"
	}
	bad := 0
	for _, b := range list {
		if _, err := session.CheckFile(b.Path); err != nil {
			bad++
		}
	}
	said := fmt.Sprintf("Its own backups are %d, the newest of %s", len(list), moment(list[0].Made))
	if bad > 0 {
		return said + fmt.Sprintf("; %d of them are damaged.\n", bad)
	}
	return said + "; all are sound.\n"
}

// inventory is what a store holds, in words.
func inventory(r session.Report) string {
	said := fmt.Sprintf("%s, %s", counted(int64(r.Sessions), "session"), counted(r.Ops, "op"))
	if r.Binned > 0 {
		said += fmt.Sprintf(", %d of the sessions in the bin", r.Binned)
	}
	if !r.Last.IsZero() {
		said += ", the last op of " + moment(r.Last)
	}
	return said
}

func counted(n int64, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func moment(t time.Time) string { return t.Local().Format("2 January 2006, 15:04") }

// what is an error without the deed, which the sentence has already.
func what(err error) string {
	said := err.Error()
	if _, after, found := strings.Cut(said, ".db: "); found {
		said = after
	}
	return strings.TrimSuffix(said, ": damaged")
}

// offer names the newest good backup, and how to take it. It is never taken unasked.
func offer(k kept) string {
	b, report, err := session.NewestGood(k.store())
	if err != nil {
		return "There is no good backup in the folder " + filepath.Join(k.data, "backups")
	}
	return fmt.Sprintf("The newest good backup is of %s, with %s. To take it: cornerwise restore --data %s %s",
		moment(b.Made), inventory(report), quoted(k.data), quoted(b.Path))
}

// quoted is a path as a shell takes it.
func quoted(path string) string {
	if strings.ContainsAny(path, " '\"$&();<>|*?`") {
		if runtime.GOOS != "windows" {
			return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
		}
		return `"` + path + `"`
	}
	return path
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
