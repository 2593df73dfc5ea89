package main

import (
	"errors"

	"golang.org/x/sys/windows"
)

// taken tells that another program has the port, for itself alone or set aside by the system.
func taken(err error) bool {
	return errors.Is(err, windows.WSAEADDRINUSE) || errors.Is(err, windows.WSAEACCES)
}
