package atlogin

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"

	"golang.org/x/sys/windows"
	"golang.org/x/sys/windows/registry"
)

const (
	runKey   = `Software\Microsoft\Windows\CurrentVersion\Run`
	runValue = "Cornerwise"
)

func (s Start) line() string {
	return windows.ComposeCommandLine(append([]string{s.Program}, s.arguments()...))
}

// State is whether it starts by itself.
func (s Start) State() State {
	key, err := registry.OpenKey(registry.CURRENT_USER, runKey, registry.QUERY_VALUE)
	if errors.Is(err, registry.ErrNotExist) {
		return State{}
	}
	if err != nil {
		return State{Why: "Windows does not say whether it starts by itself: " + err.Error() + "."}
	}
	defer key.Close()
	line, _, err := key.GetStringValue(runValue)
	if err != nil {
		return State{}
	}
	return State{On: true, Other: !strings.HasPrefix(line, windows.EscapeArg(s.Program)+" ")}
}

func (s Start) on() error {
	key, _, err := registry.CreateKey(registry.CURRENT_USER, runKey, registry.SET_VALUE)
	if err == nil {
		defer key.Close()
		err = key.SetStringValue(runValue, s.line())
	}
	if err != nil {
		return fmt.Errorf("this computer did not take it: %w. Nothing was changed", err)
	}
	return nil
}

func (s Start) off() error {
	key, err := registry.OpenKey(registry.CURRENT_USER, runKey, registry.SET_VALUE)
	if err == nil {
		defer key.Close()
		err = key.DeleteValue(runValue)
	}
	if err != nil && !errors.Is(err, registry.ErrNotExist) {
		return fmt.Errorf("this computer did not take it back: %w", err)
	}
	return nil
}

// Now starts it as the computer will.
func (s Start) Now() error {
	program := exec.Command(s.Program, s.arguments()...)
	program.Dir = os.TempDir()
	program.SysProcAttr = &windows.SysProcAttr{CreationFlags: windows.CREATE_NO_WINDOW | windows.CREATE_NEW_PROCESS_GROUP}
	if err := program.Start(); err != nil {
		return fmt.Errorf("it could not be started: %w", err)
	}
	return program.Process.Release()
}
