package maintenance

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
)

// Explain is an error of the store in a data folder, in sentences for the person at the
// computer: what is wrong, that nothing was changed, what to do.
func Explain(folder string, err error) error {
	store := datafolder.Store(folder)
	switch {
	case errors.Is(err, session.ErrInUse):
		return fmt.Errorf("the sessions in %s are in use by another process. Cornerwise is probably "+
			"running already: use that one, stop it, or give this one another folder with --data", folder)
	case errors.Is(err, session.ErrNewer):
		return newer(folder)
	case errors.Is(err, session.ErrMissing):
		return gone(folder)
	case errors.Is(err, session.ErrDamaged), errors.Is(err, session.ErrForeign):
		return fmt.Errorf("the file of the sessions, %s, can't be used: %s. Nothing was changed. %s",
			store, reason(err), newestGood(folder))
	case errors.Is(err, session.ErrFull):
		return fmt.Errorf("there is no space left for the sessions in %s. "+
			"Free some, then start again; nothing is lost", folder)
	case errors.Is(err, syscall.EMFILE), errors.Is(err, syscall.ENFILE):
		return fmt.Errorf("the sessions in %s can't be opened, as this computer lets no more files be open. "+
			"Nothing was changed: end other programs, or raise that limit, then start again", folder)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("the folder %s can't be written to by this user. "+
			"Make it writable, or name another with --data", folder)
	}
	return fmt.Errorf("the sessions in %s can't be opened: %w. Nothing was changed", folder, err)
}

// newer says how to go on where a newer program was here: with that one, or with what was kept
// before it came.
func newer(folder string) error {
	back := ""
	if _, _, err := session.NewestGood(datafolder.Store(folder)); err == nil {
		back = ". Or, to go on with this one, take what was there before. " + newestGood(folder)
	}
	return fmt.Errorf("the sessions in %s were written by a newer Cornerwise. "+
		"Nothing was changed: start the newer one%s", folder, back)
}

// gone says what is there in the place of a store that is not: what a restore set aside, its
// own backups, or both.
func gone(folder string) error {
	store := datafolder.Store(folder)
	asides, backups := session.SetAside(store), "the folder "+filepath.Join(folder, "backups")
	list, _ := session.Backups(store)
	said := fmt.Sprintf("the file of the sessions, %s, is gone, and ", store)
	if len(asides) == 0 {
		return fmt.Errorf("%sits backups are there. Nothing was changed. "+
			"To start afresh, move %s away. %s", said, backups, newestGood(folder))
	}
	afresh := strings.Join(asides, ", ")
	if len(list) > 0 {
		afresh += " and " + backups
	}
	afresh = "To start afresh, move away " + afresh
	if len(list) > 0 {
		afresh += ". " + newestGood(folder)
	}
	aside, report, err := session.LatestAside(store)
	if err != nil {
		return fmt.Errorf("%swhat a restore set aside is there, and can't be used. Nothing was changed. %s", said, afresh)
	}
	return fmt.Errorf("%swhat a restore set aside is there, with %s. "+
		"Nothing was changed. To take it: cornerwise restore --data %s %s\n%s",
		said, summary(report), quoted(folder), quoted(aside), afresh)
}

// reason is an error without the deed and the file, which the sentence has already.
func reason(err error) string {
	said := err.Error()
	if _, after, found := strings.Cut(said, ".db: "); found {
		said = after
	}
	return strings.TrimSuffix(said, ": damaged")
}
