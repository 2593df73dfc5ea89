//go:build !windows

package main

import (
	"errors"
	"syscall"
)

// taken tells that another program has the port.
func taken(err error) bool { return errors.Is(err, syscall.EADDRINUSE) }
