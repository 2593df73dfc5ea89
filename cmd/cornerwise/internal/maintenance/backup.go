package maintenance

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"path/filepath"
	"syscall"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session"
	"cornerwise/session/web"
)

// ownBackup is the path of the backup that a server says it made: one of those that it keeps
// by itself in the data folder. What else it names is not looked at.
func ownBackup(folder, named string) (path string, found bool) {
	backups, err := session.Backups(datafolder.Store(folder))
	if err != nil {
		return "", false
	}
	for _, b := range backups {
		if filepath.Base(b.Path) == filepath.Base(named) {
			return b.Path, true
		}
	}
	return "", false
}

// Backup copies the sessions to a new file. A server that has them open makes a backup of
// its own first, and that is what is copied: a slow stick holds no transaction open.
func Backup(ctx context.Context, folder, file string) (string, error) {
	var made web.BackupReply
	from := datafolder.Store(folder)
	switch err := local.Ask(ctx, folder, http.MethodPost, "/backup", &made); {
	case err == nil:
		own, found := ownBackup(folder, made.Path)
		if !found {
			return "", fmt.Errorf("the server says that its backup is %s, which is none of those in %s. "+
				"Nothing was copied: stop it, then back up", quoted(made.Path), folder)
		}
		from = own
	case !errors.Is(err, local.ErrNotServing):
		return "", err
	}
	report, err := session.Copy(from, file)
	switch {
	case errors.Is(err, fs.ErrExist):
		return "", fmt.Errorf("%s is there already, and nothing is overwritten. Name another file", file)
	case errors.Is(err, session.ErrFull):
		return "", fmt.Errorf("there is no space left for %s. Nothing of the store is lost: "+
			"free some space there, or name a file elsewhere", file)
	case errors.Is(err, fs.ErrNotExist) && !exists(from):
		return "", missing(folder, ", so there is nothing to back up")
	case errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("the folder of %s is not there. Make it, or name a file elsewhere", file)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "", fmt.Errorf("%s can't be written by this user. Name a file elsewhere", file)
	case errors.Is(err, session.ErrNoCopy) && !errors.Is(err, session.ErrDamaged):
		return "", fmt.Errorf("%s can't be written: %w. The sessions are as they were: "+
			"look to that disk, or name a file elsewhere", file, err)
	case err != nil:
		return "", Explain(folder, err)
	}
	return fmt.Sprintf("Backed up to %s and read through: %s.\n", file, summary(report)), nil
}
