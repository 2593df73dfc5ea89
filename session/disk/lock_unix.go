//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package disk

import (
	"errors"
	"os"
	"syscall"
	"time"
)

const lockAgain = 10 * time.Millisecond // between two attempts

// Lock keeps a folder for one process until unlock is called or the process ends; it waits
// for that as long as it is told. The error is ErrLocked where another has the folder still,
// and errors.ErrUnsupported where there is no such thing.
func Lock(folder string, wait time.Duration) (unlock func(), err error) {
	f, err := os.Open(folder)
	if err != nil {
		return nil, err
	}
	for end := time.Now().Add(wait); ; time.Sleep(lockAgain) {
		switch err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); {
		case err == nil:
			return func() { f.Close() }, nil
		case !errors.Is(err, syscall.EWOULDBLOCK):
			return nil, errors.Join(errors.ErrUnsupported, f.Close())
		case time.Now().After(end):
			return nil, errors.Join(ErrLocked, f.Close())
		}
	}
}
