package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"runtime"
	"strconv"
	"strings"

	"cornerwise/cmd/cornerwise/internal/announce"
	"cornerwise/cmd/cornerwise/internal/datafolder"
)

// A config is what serving needs to know.
type config struct {
	listen string // host:port; no host is every network, port 0 any free one
	data   string // the folder of the store
	name   string // announced on the network, or noName
	open   bool
	tls    bool
	demo   bool
}

// noName is what --name says where nothing is to be announced.
const noName = "none"

// usualListen is every network of this computer.
const usualListen = ":8370"

// errHelp is asking for help, which is no mistake.
var errHelp = flag.ErrHelp

// settings are the names of the flags; each is an environment variable too.
var settings = []string{"listen", "data", "name", "open", "tls", "demo"}

// readConfig takes the environment, then the command line. An error is a whole
// sentence, or errHelp.
func readConfig(args []string, env func(string) string) (config, error) {
	c := config{listen: usualListen, data: datafolder.Usual(runtime.GOOS, env)}
	fs := flag.NewFlagSet("cornerwise", flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	fs.StringVar(&c.listen, "listen", c.listen, "")
	fs.StringVar(&c.data, "data", c.data, "")
	fs.StringVar(&c.name, "name", "cornerwise.local", "")
	fs.BoolVar(&c.open, "open", false, "")
	fs.BoolVar(&c.tls, "tls", false, "")
	fs.BoolVar(&c.demo, "demo", false, "")

	for _, name := range settings {
		variable := "CORNERWISE_" + strings.ToUpper(name)
		if value := env(variable); value != "" && fs.Set(name, value) != nil {
			return c, fmt.Errorf("%s is %q; it must be true or false", variable, value)
		}
	}
	if err := fs.Parse(args); err != nil {
		return c, inWords(err)
	}
	if fs.NArg() > 0 {
		return c, fmt.Errorf("%q is not understood here; options begin with --, and \"cornerwise help\" shows them", fs.Arg(0))
	}
	return c, c.check()
}

func (c config) check() error {
	if err := checkListen(c.listen); err != nil {
		return err
	}
	if c.name != noName && !announce.Valid(c.name) {
		return fmt.Errorf("--name is %q; it must be a word of a to z, 0 to 9 and hyphens with .local after it, such as cornerwise.local, or none", c.name)
	}
	if c.data == "" {
		return errors.New("there is no folder for the sessions; name one with --data FOLDER")
	}
	return nil
}

func checkListen(listen string) error {
	_, port, err := net.SplitHostPort(listen)
	if n, bad := strconv.Atoi(port); err != nil || bad != nil || n < 0 || n > 65535 {
		return fmt.Errorf("--listen is %q; it must be an address with a port, such as :8370 or 127.0.0.1:8370", listen)
	}
	return nil
}

// inWords turns what the flag package says into a sentence of ours.
func inWords(err error) error {
	if errors.Is(err, flag.ErrHelp) {
		return errHelp
	}
	said := err.Error()
	if name, ok := strings.CutPrefix(said, "flag provided but not defined: -"); ok {
		return fmt.Errorf("there is no option --%s; \"cornerwise help\" shows what there is", name)
	}
	if name, ok := strings.CutPrefix(said, "flag needs an argument: -"); ok {
		return fmt.Errorf("--%s needs a value after it", name)
	}
	return fmt.Errorf("%s; \"cornerwise help\" shows the options", said)
}
