package atlogin

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/kardianos/service"
)

func file() string { return home("Library", "LaunchAgents", name+".plist") }

// agent is the library's.
func (s Start) agent() (service.Service, error) {
	config := &service.Config{
		Name: name, DisplayName: "Cornerwise", Description: description,
		Executable: s.Program, Arguments: s.arguments(),
		Option: service.KeyValue{"UserService": true, "KeepAlive": false, "RunAtLoad": true, "LogDirectory": s.Data},
	}
	for _, system := range service.AvailableSystems() {
		if system.String() == "darwin-launchd" {
			return system.New(nil, config)
		}
	}
	return nil, errors.New("there is no launchd")
}

func (s Start) install() error {
	made, err := s.agent()
	if err != nil {
		return err
	}
	return made.Install()
}

func (s Start) start() error {
	made, err := s.agent()
	if err != nil {
		return err
	}
	return made.Start()
}

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
