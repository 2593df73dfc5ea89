package maintenance

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"strings"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session"
	"cornerwise/session/web"
)

// Check reads all sessions of a data folder through, or one backup where a file is named,
// and tells whether they are sound.
func Check(ctx context.Context, folder, file string) (string, error) {
	if file != "" {
		report, err := session.Examine(file)
		if err != nil {
			return "", unsound(file, report, err)
		}
		return fmt.Sprintf("%s is sound: %s.\n", file, summary(report)), nil
	}
	store := datafolder.Store(folder)
	var found web.CheckReply
	err := local.Ask(ctx, folder, http.MethodGet, "/check", &found)
	switch {
	case errors.Is(err, local.ErrNotServing):
		found.Report, err = session.Examine(store)
		if errors.Is(err, fs.ErrNotExist) {
			return "", missing(folder, "")
		}
		if errors.Is(err, session.ErrInUse) {
			return "", fmt.Errorf("the sessions in %s are in use by a program that does not answer. "+
				"Stop it, then check", folder)
		}
	case err != nil:
		return "", err
	case found.Fault != "":
		err = session.ErrDamaged
	}
	if err != nil {
		return "", fmt.Errorf("%w. %s", unsound(store, found.Report, err), newestGood(folder))
	}
	said := fmt.Sprintf("%s is sound: %s.\n", store, summary(found.Report))
	if found.Report.Half {
		said += "One of its two first pages is damaged: look whether your last tick is there. " +
			"The next one mends the page.\n"
	}
	if n := found.Report.Unread; n > 0 {
		said += counted(int64(n), "device") + " can't be read and must pair again. " +
			"No session is touched by it.\n"
	}
	return said + ownBackups(store), nil
}

// missing tells a folder that has lost its sessions from one that never had any; so is what
// follows from that.
func missing(folder, so string) error {
	store := datafolder.Store(folder)
	if backups, err := session.Backups(store); err != nil || len(backups)+len(session.SetAside(store)) > 0 {
		return Explain(folder, session.ErrMissing)
	}
	return fmt.Errorf("there are no sessions in %s yet%s", folder, so)
}

func unsound(file string, report session.Report, err error) error {
	if len(report.Faults) > 0 {
		faults := strings.Join(report.Faults, "\n  ")
		return fmt.Errorf("%s is damaged:\n  %s\nNothing was changed", file, faults)
	}
	return fmt.Errorf("%s can't be read: %s. Nothing was changed", file, reason(err))
}

// ownBackups tells how the backups are that the server makes by itself.
func ownBackups(store string) string {
	list, err := session.Backups(store)
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
