package maintenance

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session"
)

// Restore puts a backup in the place of the sessions. A server that has them open lets go
// of them meanwhile, and goes on with what is there afterwards.
func Restore(ctx context.Context, folder, file string) (string, error) {
	borrow := func() (func(), error) { return local.Borrow(ctx, folder) }
	done, err := session.Restore(datafolder.Store(folder), file, time.Now(), borrow)
	switch {
	case errors.Is(err, session.ErrInUse):
		return "", fmt.Errorf("the sessions in %s are in use by a program that does not let go of them. "+
			"Stop it, then restore; nothing was changed", folder)
	case errors.Is(err, session.ErrDamaged), errors.Is(err, session.ErrForeign):
		return "", fmt.Errorf("%s can't be taken: %s. Nothing was changed: choose another backup",
			file, reason(err))
	case errors.Is(err, session.ErrNewer):
		return "", fmt.Errorf("%s was written by a newer Cornerwise. "+
			"Nothing was changed: restore it with that one", file)
	case errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("there is no file %s. Nothing was changed", file)
	case errors.Is(err, fs.ErrExist):
		return "", fmt.Errorf("%s is the store itself, or its copy that a restore left. "+
			"Nothing was changed: name a backup", file)
	case errors.Is(err, session.ErrFull):
		return "", fmt.Errorf("there is no space left in %s for the backup beside the present store. "+
			"Nothing was changed: free some space, then restore", folder)
	case err != nil:
		return "", fmt.Errorf("%s can't be restored: %w. Nothing was changed", file, err)
	}
	said := fmt.Sprintf("Restored from %s: %s.\n", file, summary(done.Report))
	if done.Aside != "" {
		said += fmt.Sprintf("What was there before is kept as %s.\n", done.Aside)
	}
	if !done.Devices {
		said += "The devices that may come in are those of the backup: look through them, " +
			"and forget those that should not.\n"
	}
	return said, nil
}
