// Command cornerwise walks a quilter through a mitered border: it serves the pages to
// the browsers in the room, and prints the sheet of a single plan.
//
// Here are flags, start and stop. A server is an endpoint, by which it is reached, and one
// service after another on it: each has the store open until a restore asks for it
// (endpoint.go, service.go, serve.go). A request that comes meanwhile is told that nothing was
// kept, and every device comes back by itself. All else is in rooms of its own:
//
//	internal/addresses    by which addresses others reach this computer
//	internal/announce     its name on the network
//	internal/atlogin      starting with the computer
//	internal/authority    certificates for --tls
//	internal/datafolder   where the sessions are
//	internal/local        how the other commands reach a server that runs
//	internal/maintenance  the commands backup, restore and check
//	internal/opener       a page for who sits at this computer
//	internal/powerloss    what may be on the disk when the power goes; for tests only
//	internal/table        the sheet of a plan for people
//	internal/window       the window in which the program runs
package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"cornerwise/calc"
	"cornerwise/cmd/cornerwise/internal/maintenance"
	"cornerwise/cmd/cornerwise/internal/window"
)

func main() {
	window.Colors()
	ends := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // it was not asked to outlive its window
		ends = append(ends, syscall.SIGHUP)
	}
	ctx, done := signal.NotifyContext(context.Background(), ends...)
	// After the first signal the next one ends the program at once.
	context.AfterFunc(ctx, done)
	err := run(ctx, os.Args[1:], console{os.Getenv, os.Stdin, os.Stdout, os.Stderr})
	code := report(err, os.Stderr)
	if code != exitDone && window.ClosesWithUs() {
		fmt.Fprint(os.Stderr, "\nPress Enter to close this window.\n")
		bufio.NewReader(os.Stdin).ReadString('\n')
	}
	os.Exit(code)
}

// A console is what a command has beside its arguments.
type console struct {
	env    func(string) string
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer
}

// commands are by their names; "" is the one that serves. An error is flag.ErrHelp, a
// misuse, calc.Faults, or a whole sentence without the last full stop.
var commands = map[string]func(context.Context, []string, console) error{
	"":        runServe,
	"plan":    runPlan,
	"backup":  maintain("backup", "name the FILE that the backup goes to", maintenance.Backup),
	"restore": maintain("restore", "name the FILE that holds the backup", maintenance.Restore),
	"check":   maintain("check", "", maintenance.Check),
	"pair":    runPair,
	"service": runStartup,
	"help":    runHelp,
}

// run does what the arguments ask for. An error begins with the command.
func run(ctx context.Context, args []string, c console) error {
	name := ""
	if len(args) == 1 && (args[0] == "--version" || args[0] == "-version") {
		return printVersion(c.stdout)
	}
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name, args = args[0], args[1:]
	}
	command, known := commands[name]
	if !known {
		return misused("cornerwise: there is no command %q; %s", name, seeHelp)
	}
	err := command(ctx, args, c)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return runHelp(ctx, []string{name}, c)
	case err != nil:
		return fmt.Errorf("%s: %w", strings.TrimSpace("cornerwise "+name), err)
	}
	return nil
}

// What the program exits with.
const (
	exitDone    = 0
	exitFailed  = 1 // it could not be done
	exitMisused = 2 // it was not asked in a way that can be understood
)

// A misuse is an error of who asks, not of what is done.
type misuse struct{ error }

func misused(format string, args ...any) error { return misuse{fmt.Errorf(format, args...)} }

// report prints an error, if there is one, and is what the program exits with.
func report(err error, stderr io.Writer) int {
	var wrong misuse
	var faults calc.Faults
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &faults): // programs read these: a line for each, and no more
		fmt.Fprintln(stderr, faults)
		return exitMisused
	case errors.As(err, &wrong):
		fmt.Fprintf(stderr, "%s.\n", err)
		return exitMisused
	}
	fmt.Fprintf(stderr, "%s.\n", err)
	return exitFailed
}
