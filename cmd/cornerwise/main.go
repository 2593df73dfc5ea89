// Command cornerwise walks a quilter through a mitered border: it serves the
// pages to the browsers in the room, and reckons single plans on the command line.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

func main() {
	ctx, done := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// After the first signal the next one ends the program at once.
	context.AfterFunc(ctx, done)
	os.Exit(run(ctx, os.Args[1:], os.Getenv, os.Stdin, os.Stdout, os.Stderr))
}

// What the command exits with.
const (
	exitDone    = 0
	exitFailed  = 1 // it could not be done
	exitMisused = 2 // it was not asked in a way that can be understood
)

func run(ctx context.Context, args []string, env func(string) string, stdin io.Reader, stdout, stderr io.Writer) int {
	command := ""
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		command, args = args[0], args[1:]
	}
	switch command {
	case "":
		return runServe(ctx, args, env, stdout, stderr)
	case "plan":
		return plan(args, stdin, stdout, stderr)
	case "backup", "restore", "check":
		return maintain(ctx, command, args, env, stdout, stderr)
	case "pair":
		return runPair(args, env, stdout, stderr)
	case "help":
		fmt.Fprint(stdout, help)
		return exitDone
	}
	fmt.Fprintf(stderr, "cornerwise: there is no command %q; \"cornerwise help\" shows what there is.\n", command)
	return exitMisused
}

func runServe(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) int {
	c, err := readConfig(args, env)
	if errors.Is(err, errHelp) {
		fmt.Fprint(stdout, help)
		return exitDone
	}
	if err != nil {
		fmt.Fprintf(stderr, "cornerwise: %s.\n", err)
		return exitMisused
	}
	if err := serve(ctx, c, stdout, stderr); err != nil {
		fmt.Fprintf(stderr, "cornerwise: %s.\n", err)
		return exitFailed
	}
	return exitDone
}

const help = `Cornerwise walks you through a mitered border, from the plan to the last
pressed corner, on any screen in the room.

  cornerwise              serves the pages; it prints the address to open, and
                          a picture and a code that let in a tablet
  cornerwise plan FILE    reckons one plan (FILE may be -); --json for programs
  cornerwise backup FILE  copies all sessions to a new file; it may serve meanwhile
  cornerwise restore FILE puts a backup in the place of the sessions, which are set
                          aside, not thrown away; it may serve meanwhile
  cornerwise check        reads all sessions through and tells whether they are
                          sound; with a FILE after it, that backup
  cornerwise pair         shows a picture and a code that let in one more device, of
                          the Cornerwise that serves here; --looks: to look only
  cornerwise help         shows this

When it serves:
  --listen ADDRESS   where to listen (:8370 is every network of this computer)
  --name NAME        the name announced on the network (cornerwise.local); none
                     announces nothing
  --data FOLDER      where the sessions are kept
  --open             let in every device on the network, without pairing: for
                     a room whose network you trust
  --tls              seal what goes over the network (https), by an authority of
                     this computer's own that each device must trust once
  --demo             start with a session to try things out on

Each can stand in the environment instead, as CORNERWISE_LISTEN, CORNERWISE_NAME,
CORNERWISE_DATA, CORNERWISE_OPEN, CORNERWISE_TLS and CORNERWISE_DEMO. What the
command line says goes first.
Ctrl-C stops it; every tick that a screen showed as kept is on the disk.
`
