package atlogin

import (
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
ExecStart={{Path | cmdEscape}}{{range Arguments}} {{. | cmd}}{{end}}
Restart=on-failure
RestartSec=5

[Install]
WantedBy=default.target
`

func file() string { return home(".config", "systemd", "user", name+".service") }

// escape is for what systemd reads in a command: % and $ stand for other things there.
func escape(config *service.Config) {
	special := strings.NewReplacer(`\`, `\\`, "%", "%%", "$", "$$")
	config.Executable = strings.ReplaceAll(config.Executable, "%", "%%")
	for i, one := range config.Arguments {
		config.Arguments[i] = special.Replace(one)
	}
}

// escapedPath is a program as it stands in a unit.
func escapedPath(path string) string {
	return strings.NewReplacer("%", "%%", " ", `\x20`).Replace(path)
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
