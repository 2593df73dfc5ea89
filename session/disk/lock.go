package disk

import "errors"

// ErrLocked tells that another process has a folder for itself.
var ErrLocked = errors.New("another process has the folder for itself")
