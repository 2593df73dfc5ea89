package main

import (
	"errors"
	"flag"
	"io"
	"net"
	"runtime"
	"strconv"
	"strings"

	"cornerwise/cmd/cornerwise/internal/announce"
	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/opener"
)

// A config is what serving needs to know.
type config struct {
	listen string // host:port; no host is every network, port 0 any free one
	data   string // the folder of the store
	name   string // announced on the network, or noName
	open   bool
	tls    bool
	demo   bool

	noBrowser bool // opens no page
	noWindow  bool // on Windows: goes on without its window
	// asked are the options that stood in the arguments or the environment.
	asked map[string]bool
}

// anyPort tells that nobody asked for a port: where the usual one is taken, the next will do.
func (c config) anyPort() bool { return !c.asked["listen"] }

const (
	usualListen = ":8370" // every network of this computer
	usualName   = "cornerwise.local"
	noName      = "none" // announces nothing
)

// readConfig takes the environment, then the command line. An error is a misuse or
// flag.ErrHelp.
func readConfig(args []string, env func(string) string) (c config, err error) {
	f := newFlags("cornerwise")
	f.StringVar(&c.listen, "listen", usualListen, "")
	f.StringVar(&c.data, "data", datafolder.Usual(runtime.GOOS, env), "")
	f.StringVar(&c.name, "name", usualName, "")
	f.BoolVar(&c.open, "open", false, "")
	f.BoolVar(&c.tls, "tls", false, "")
	f.BoolVar(&c.demo, "demo", false, "")
	f.BoolVar(&c.noBrowser, "no-browser", false, "")
	f.BoolVar(&c.noWindow, "no-window", false, "")
	f.VisitAll(func(one *flag.Flag) {
		variable := "CORNERWISE_" + strings.ToUpper(strings.ReplaceAll(one.Name, "-", "_"))
		if value := env(variable); value != "" && f.Set(one.Name, value) != nil && err == nil {
			err = misused("%s is %q; it must be true or false", variable, value)
		}
	})
	if err != nil {
		return c, err
	}
	if err := parseNoWords(f, args); err != nil {
		return c, err
	}
	c.asked = map[string]bool{}
	f.Visit(func(one *flag.Flag) { c.asked[one.Name] = true })
	c.noBrowser = c.noBrowser || !opener.Seen(runtime.GOOS, env)
	return c, c.check()
}

func (c config) check() error {
	if c.name != noName && !announce.Valid(c.name) {
		return misused("--name is %q; it must be a word of a to z, 0 to 9 and hyphens with .local "+
			"after it, such as cornerwise.local, or none", c.name)
	}
	if c.data == "" {
		return errNoFolder
	}
	return checkListen(c.listen)
}

var errNoFolder = misused("there is no folder for the sessions; name one with --data FOLDER")

func checkListen(listen string) error {
	_, port, err := net.SplitHostPort(listen)
	if n, bad := strconv.Atoi(port); err != nil || bad != nil || n < 0 || n > 65535 {
		return misused("--listen is %q; it must be an address with a port, such as :8370 "+
			"or 127.0.0.1:8370", listen)
	}
	return nil
}

// newFlags are flags that print nothing by themselves.
func newFlags(name string) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	return f
}

// given tells whether a flag stands in the arguments.
func given(f *flag.FlagSet, name string) (is bool) {
	f.Visit(func(one *flag.Flag) { is = is || one.Name == name })
	return is
}

// parse reads flags and, before, between and after them, other words.
func parse(f *flag.FlagSet, args []string) (words []string, err error) {
	for len(args) > 0 {
		if err := f.Parse(args); err != nil {
			return nil, explainFlag(err)
		}
		if args = f.Args(); len(args) > 0 {
			words, args = append(words, args[0]), args[1:]
		}
	}
	return words, nil
}

func parseNoWords(f *flag.FlagSet, args []string) error {
	words, err := parse(f, args)
	if err == nil && len(words) > 0 {
		return misused("%q is not understood here; %s", words[0], seeHelp)
	}
	return err
}

// parseFile reads flags and at most one FILE; "" where none is named.
func parseFile(f *flag.FlagSet, args []string) (file string, err error) {
	words, err := parse(f, args)
	switch {
	case err != nil || len(words) == 0:
		return "", err
	case len(words) > 1:
		return "", misused("takes one FILE, not %d; the first two are %q and %q",
			len(words), words[0], words[1])
	}
	return words[0], nil
}

// explainFlag is an error of the flag package as a sentence of ours.
func explainFlag(err error) error {
	if errors.Is(err, flag.ErrHelp) {
		return err
	}
	said := err.Error()
	if name, ok := strings.CutPrefix(said, "flag provided but not defined: -"); ok {
		return misused("there is no option --%s; %s", name, seeHelp)
	}
	if name, ok := strings.CutPrefix(said, "flag needs an argument: -"); ok {
		return misused("--%s needs a value after it", name)
	}
	return misused("%s; %s", said, seeHelp)
}
