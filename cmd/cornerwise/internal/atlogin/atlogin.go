// Package atlogin has the program start by itself when its user logs in to this computer.
//
//	Linux    a unit of the user's own systemd: cornerwise.service
//	Mac      a launch agent of the user's: cornerwise.plist
//	Windows  a value of the user's Run key: Cornerwise
//
// All three are the user's own: none asks for an administrator, and the program has the data
// folder that it has when it is opened by hand. A service of Windows would run as another user,
// with another data folder, and ask for an administrator; a task that shows no window asks for
// the user's password.
//
// What is started is what runs now: the same program, with the same options, opening no page and
// without a window. Where it runs already, such a start ends at once. To take it back leaves what
// runs running.
//
// On Windows it was tried under Wine, on Linux with a stand-in for systemctl and with the real one
// without its manager, on a Mac not at all.
//
// The agent is written by github.com/kardianos/service. The unit is not: the library's hangs on
// multi-user.target, which a user's systemd never reaches; and on Linux it reads files before the
// program's own code begins, which ends every command with a stack where few files may be open.
package atlogin

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
)

// name is that of the unit and of the agent.
const name = "cornerwise"

const description = "Cornerwise walks a quilter through a mitered border"

// A Start is the program that is to start, and how.
type Start struct {
	Program string   // its file
	Options []string // as it was started, without the two below
	Data    string   // its data folder
}

// arguments are those of a program that starts by itself.
func (s Start) arguments() []string {
	return append([]string{"--no-browser", "--no-window"}, s.Options...)
}

// A State is whether the program starts by itself.
type State struct {
	On bool
	// Other tells that it is another program, or one at another place, that starts.
	Other bool
	// Why is why it can't be had here, a whole sentence; "" where it can.
	Why string
}

// errPassing tells of a program that will not be there when one logs in.
var errPassing = errors.New("this program lies in a folder for what passes, such as go run makes. " +
	"Put it where it stays, start it from there, then switch this on")

// lasts is an error where the program will not be there later.
func (s Start) lasts() error {
	temp, err := filepath.EvalSymlinks(os.TempDir())
	if err != nil {
		temp = os.TempDir()
	}
	if strings.HasPrefix(s.Program, temp+string(filepath.Separator)) || strings.Contains(s.Program, "go-build") {
		return errPassing
	}
	return nil
}

// On has it start by itself from now on. The error is a whole sentence.
func (s Start) On() error {
	if why := s.State().Why; why != "" {
		return errors.New(strings.TrimSuffix(why, "."))
	}
	if err := s.lasts(); err != nil {
		return err
	}
	return s.on()
}

// Off takes it back. Where nobody knows whether it starts, that is the error.
func (s Start) Off() error {
	state := s.State()
	if state.Why != "" {
		return errors.New(strings.TrimSuffix(state.Why, "."))
	}
	if !state.On && !state.Other {
		return nil
	}
	return s.off()
}
