package session

import (
	"errors"
	"fmt"
	"strings"
	"syscall"

	berrors "go.etcd.io/bbolt/errors"
)

// What a caller can tell apart with errors.Is.
var (
	ErrNotFound = errors.New("no such session")
	ErrBinned   = errors.New("the session is in the bin")
	ErrFull     = errors.New("no space left on the disk")
	ErrClosed   = errors.New("the store is closed")

	ErrNoCopy  = errors.New("the copy can't be written")
	ErrNone    = errors.New("no good backup")
	ErrMissing = errors.New("gone, and its backups or what a restore set aside are not; put one in its place, or move them away to start afresh")
	ErrInUse   = errors.New("in use by another process")
	ErrNewer   = errors.New("written by a newer program; use that one, or a newer one")
	ErrDamaged = errors.New("damaged")
	ErrUnsure  = errors.New("the disk failed while it was written to; what was written last is there, or not")
	ErrStuck   = errors.New("the disk failed before; nothing more is read or written before a new start")
	ErrForeign = errors.New("not a file of this program; move it away to start afresh, or put a backup in its place")
)

// fileError says what went wrong with the file in words of this package.
func fileError(deed string, err error) error {
	switch {
	case err == nil, errors.Is(err, ErrNotFound), errors.Is(err, ErrBinned):
		return err
	case errors.Is(err, berrors.ErrDatabaseNotOpen):
		return ErrClosed
	case errors.Is(err, berrors.ErrTimeout):
		err = ErrInUse
	case errors.Is(err, ErrUnsure), errors.Is(err, ErrStuck):
		// Not ErrFull, which says that nothing was kept.
	case isFull(err):
		err = ErrFull
	}
	return fmt.Errorf("%s: %w", deed, err)
}

func isFull(err error) bool {
	for _, full := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		// bbolt passes on a failed growth of the file as text only.
		if errors.Is(err, full) || strings.HasSuffix(err.Error(), full.Error()) {
			return true
		}
	}
	return false
}
