package atlogin

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/kardianos/service"
)

const systemName = "darwin-launchd"

const unit = "" // the library's agent is as it should be

func file() string { return home("Library", "LaunchAgents", name+".plist") }

func escape(*service.Config) {}

func startable(string) error { return nil }

// escapedPath is a program as it stands in an agent.
func escapedPath(path string) string {
	escaped := strings.NewReplacer("&", "&amp;", "'", "&#39;", "<", "&lt;", ">", "&gt;", `"`, "&#34;").Replace(path)
	return "<string>" + escaped + "</string>"
}

// State is whether it starts by itself.
func (s Start) State() State { return s.read() }

// off takes the agent away; what it started goes on, which the library would end.
func (s Start) off() error {
	if err := os.Remove(file()); err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("the file %s can't be removed: %w", file(), err)
	}
	return nil
}
