package atlogin

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/kardianos/service"
)

const systemName = "linux-systemd"

const unit = `[Unit]
Description={{Description}}

[Service]
ExecStart={{Path | cmd}}{{range Arguments}} {{. | cmd}}{{end}}
Restart=on-failure
RestartSec=5

[Install]
WantedBy=default.target
`

func file() string { return home(".config", "systemd", "user", name+".service") }

// special is for what stands for other things where systemd reads a command, or would begin another
// line of the unit.
var special = strings.NewReplacer(`\`, `\\`, "%", "%%", "\n", `\n`, "\r", `\r`)

// escape leaves the quotation marks to the library. A $ stands for something in arguments only.
func escape(config *service.Config) {
	config.Executable = special.Replace(config.Executable)
	for i, one := range config.Arguments {
		config.Arguments[i] = strings.ReplaceAll(special.Replace(one), "$", "$$")
	}
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
	made, err := s.service()
	if err == nil {
		err = made.Uninstall()
	}
	if err != nil {
		return fmt.Errorf("this computer did not take it back: %s. To take it back by hand: "+
			"systemctl --user disable %s", strings.TrimSpace(err.Error()), name)
	}
	return nil
}
