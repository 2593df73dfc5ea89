package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"cornerwise/cmd/cornerwise/internal/atlogin"
	"cornerwise/cmd/cornerwise/internal/local"
	"cornerwise/session/web"
)

// runStartup has this computer start the program at login, takes that back, or tells of it.
func runStartup(ctx context.Context, args []string, c console) error {
	if len(args) == 0 {
		return misused("say install, remove or status after it")
	}
	deed := args[0]
	if deed == "-h" || deed == "--help" {
		return flag.ErrHelp
	}
	conf, err := readConfig(args[1:], c.env)
	if err != nil {
		return err
	}
	start, err := conf.start()
	if err != nil {
		return err
	}
	said := ""
	switch deed {
	case "install":
		said, err = install(ctx, conf, start)
	case "remove":
		if err = start.Off(); err == nil {
			said = "Cornerwise does not start by itself any more. If it runs now, it goes on until it is stopped."
		}
	case "status":
		said = startupWords(start.State())
		if page, err := local.Page(ctx, conf.data); err == nil {
			said += "\nIt runs now: " + page + "/"
		}
	default:
		return misused("%q is not understood here; say install, remove or status", deed)
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(c.stdout, said)
	return err
}

// install switches it on, and starts it where it does not run yet.
func install(ctx context.Context, c config, start atlogin.Start) (string, error) {
	if err := start.On(); err != nil {
		return "", err
	}
	said := startupWords(start.State())
	if runtime.GOOS == "linux" {
		said += "\nWhere nobody logs in, as on a board without a screen, this starts it with the computer:\n" +
			"  sudo loginctl enable-linger $USER"
	}
	page, err := local.Page(ctx, c.data)
	if err != nil {
		if err := start.Now(); err != nil {
			return "", fmt.Errorf("it starts when you log in, but now %w", err)
		}
		for end := time.Now().Add(firstWithin); err != nil && time.Now().Before(end); {
			time.Sleep(100 * time.Millisecond)
			page, err = local.Page(ctx, c.data)
		}
	}
	if err == nil {
		said += "\nIt runs now: " + page + "/"
	}
	return said, nil
}

// startupWords tell whether it starts by itself.
func startupWords(s atlogin.State) string {
	switch {
	case s.Why != "":
		return s.Why
	case s.On && s.Other:
		return "When you log in to this computer, a Cornerwise at another place starts. Switch it off and " +
			"on again to start this one."
	case s.On:
		return "It starts when you log in to this computer, without a window, and opens no page."
	}
	return "It starts when you open it."
}

// start is this program, as it is asked to run, for the computer to start.
func (c config) start() (atlogin.Start, error) {
	program, err := os.Executable()
	if err != nil {
		return atlogin.Start{}, fmt.Errorf("this system does not say where the program lies: %w", err)
	}
	start := atlogin.Start{Program: program, Data: c.data}
	data, err := filepath.Abs(c.data)
	if err != nil {
		return atlogin.Start{}, fmt.Errorf("find the folder %s: %w", c.data, err)
	}
	// The usual folder too: the environment that names it may be this window's only.
	start.Options = append(start.Options, "--data", data)
	for _, o := range []struct{ name, value string }{{"listen", c.listen}, {"name", c.name}} {
		if c.asked[o.name] {
			start.Options = append(start.Options, "--"+o.name, o.value)
		}
	}
	if c.open {
		start.Options = append(start.Options, "--open")
	}
	if c.tls {
		start.Options = append(start.Options, "--tls")
	}
	return start, nil
}

// atLogin is the switch on the page of devices.
func (c config) atLogin() *web.AtLogin {
	start, err := c.start()
	if err != nil {
		return nil
	}
	return &web.AtLogin{
		State: func() (on, can bool, words string) {
			s := start.State()
			return s.On, s.Why == "", startupWords(s)
		},
		Set: func(on bool) error {
			do := start.Off
			if on {
				do = start.On
			}
			if err := do(); err != nil {
				return errors.New(sentence(err))
			}
			return nil
		},
	}
}

// sentence is an error as a page says it.
func sentence(err error) string {
	said := strings.TrimSuffix(err.Error(), ".")
	return strings.ToUpper(said[:1]) + said[1:] + "."
}
