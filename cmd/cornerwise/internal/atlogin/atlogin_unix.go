//go:build linux || darwin

package atlogin

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

func (s Start) on() error {
	if err := startable(s.Program); err != nil {
		return unkept(err)
	}
	// What is there is another program's, or of other options.
	was, none := os.ReadFile(file())
	os.Remove(file())
	if err := s.install(); err != nil {
		os.Remove(file())
		if none == nil {
			err = errors.Join(err, os.WriteFile(file(), was, 0o644))
		}
		return unkept(err)
	}
	return nil
}

func unkept(err error) error {
	return fmt.Errorf("this computer did not take it: %s. Nothing was changed", strings.TrimSpace(err.Error()))
}

// Now starts it as the computer will.
func (s Start) Now() error {
	if err := s.start(); err != nil {
		return fmt.Errorf("it could not be started: %s", strings.TrimSpace(err.Error()))
	}
	return nil
}

// ownMark stands in every unit and agent that was written here: nobody types it on these systems.
const ownMark = "--no-window"

// read is the state by the file of the unit or the agent.
func (s Start) read() State {
	kept, err := os.ReadFile(file())
	switch {
	case errors.Is(err, os.ErrNotExist):
		return State{}
	case err != nil:
		return State{Why: file() + " can't be read, so that nobody knows whether it starts."}
	case !strings.Contains(string(kept), ownMark):
		return State{Why: file() + " was not written by Cornerwise, and stays as it is. To switch it on and " +
			"off from here, move that file away."}
	}
	return State{On: true, Other: !strings.Contains(string(kept), escapedPath(s.Program))}
}

func home(below ...string) string {
	folder, _ := os.UserHomeDir()
	return filepath.Join(append([]string{folder}, below...)...)
}
