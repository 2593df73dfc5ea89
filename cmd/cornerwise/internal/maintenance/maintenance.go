// Package maintenance backs up, restores and checks the sessions of a data folder, while
// a server has them open or not.
//
// Each command returns what it did, in lines for a person. An error is one or more whole
// sentences, without the last full stop, that say what to do.
package maintenance

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/session"
)

// summary is what a store holds, in words.
func summary(r session.Report) string {
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

// newestGood names the newest sound backup of the store's own, and the command that
// restores it. It is never restored unasked.
func newestGood(folder string) string {
	b, report, err := session.NewestGood(datafolder.Store(folder))
	if err != nil {
		return "There is no good backup in the folder " + filepath.Join(folder, "backups")
	}
	return fmt.Sprintf("The newest good backup is of %s, with %s. To take it: cornerwise restore --data %s %s",
		moment(b.Made), summary(report), quoted(folder), quoted(b.Path))
}

// quoted is a path as a shell takes it.
func quoted(path string) string {
	switch {
	case !strings.ContainsAny(path, " '\"$&();<>|*?`"):
		return path
	case runtime.GOOS == "windows":
		return `"` + path + `"`
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
