//go:build !linux && !darwin && !windows

package atlogin

import "errors"

// State is whether it starts by itself.
func (s Start) State() State {
	return State{Why: "On this system it can't be switched on from here. Add the program to what the system " +
		"starts, with --no-browser."}
}

var errNone = errors.New("it can't be done on this system from here")

func (s Start) on() error  { return errNone }
func (s Start) off() error { return errNone }

// Now starts it as the computer will.
func (s Start) Now() error { return errNone }
