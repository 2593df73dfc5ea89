//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package disk

import (
	"errors"
	"time"
)

// Lock keeps a folder for one process; here there is no such thing.
func Lock(string, time.Duration) (unlock func(), err error) { return nil, errors.ErrUnsupported }
