// Package opener opens a page for whoever sits at this computer.
//
// There are libraries for it. On Linux what they start stays with this program's processes, so
// that Ctrl-C in the window would end the browser with all its tabs; on Windows and a Mac they
// make the one call that is made here.
package opener

// Seen tells whether a page that is opened on a system (as runtime.GOOS names it) is seen by the
// one who starts the program: not over a line from elsewhere, and not without a screen.
func Seen(system string, env func(string) string) bool {
	if env("SSH_CONNECTION") != "" || env("SSH_TTY") != "" {
		return false
	}
	switch system {
	case "windows", "darwin":
		return true
	}
	return env("DISPLAY") != "" || env("WAYLAND_DISPLAY") != ""
}
