package atlogin

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

func file() string { return home(".config", "systemd", "user", name+".service") }

// special is for what stands for other things where systemd reads a command, or would begin another
// line of the unit.
var special = strings.NewReplacer(`\`, `\\`, "%", "%%", "\n", `\n`, "\r", `\r`)

// unit is the unit's text. A $ stands for something in arguments only.
func (s Start) unit() string {
	command := escapedPath(s.Program)
	for _, one := range s.arguments() {
		one = strings.ReplaceAll(special.Replace(one), "$", "$$")
		command += ` "` + strings.ReplaceAll(one, `"`, `\"`) + `"`
	}
	return "[Unit]\nDescription=" + description + "\n\n" +
		"[Service]\nExecStart=" + command + "\nRestart=on-failure\nRestartSec=5\n\n" +
		"[Install]\nWantedBy=default.target\n"
}

func (s Start) install() error {
	if err := os.MkdirAll(filepath.Dir(file()), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(file(), []byte(s.unit()), 0o644); err != nil {
		return err
	}
	return errors.Join(systemctl("enable", name+".service"), systemctl("daemon-reload"))
}

func (s Start) start() error { return systemctl("start", name+".service") }

// systemctl has the user's own systemd do something.
func systemctl(deed string, units ...string) error {
	said, err := exec.Command("systemctl", append([]string{deed, "--user"}, units...)...).CombinedOutput()
	if err == nil {
		return nil
	}
	words := strings.Join(strings.Fields(string(said)), " ")
	return fmt.Errorf("systemctl --user %s: %w %s", deed, err, words)
}

// startable is an error where systemd starts no program of that path, however it is written.
func startable(path string) error {
	if strings.ContainsFunc(path, func(r rune) bool { return r < ' ' || strings.ContainsRune("\"'\\\x7f", r) }) {
		return errors.New("systemd starts no program whose folder has a quotation mark, a backslash or a " +
			"line break in its name; move it to another")
	}
	return nil
}

// escapedPath is a program as it stands in a unit.
func escapedPath(path string) string {
	return `"` + special.Replace(path) + `"`
}

// State is whether it starts by itself.
func (s Start) State() State {
	at := os.Getenv("XDG_RUNTIME_DIR")
	if at == "" && os.Getenv("SYSTEMD_EXEC_PID") == strconv.Itoa(os.Getpid()) {
		return State{Why: "It starts with the computer already: it is a service of the system."}
	}
	if _, err := os.Stat(filepath.Join(at, "systemd", "private")); at == "" || err != nil {
		return State{Why: "This user has no systemd that runs here, so that it can't be switched on from " +
			"here. Add the program to what your desktop starts when you log in."}
	}
	state := s.read()
	enabled := filepath.Join(filepath.Dir(file()), "default.target.wants", name+".service")
	if _, err := os.Lstat(enabled); err != nil {
		state.On = false // by hand
	}
	return state
}

func (s Start) off() error {
	err := systemctl("disable", name+".service")
	if err == nil {
		err = os.Remove(file())
	}
	if err == nil {
		err = systemctl("daemon-reload")
	}
	if err != nil {
		return fmt.Errorf("this computer did not take it back: %s. To take it back by hand: "+
			"systemctl --user disable %s", strings.TrimSpace(err.Error()), name)
	}
	return nil
}
