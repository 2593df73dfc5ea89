package main

import (
	"context"
	"fmt"
)

// seeHelp ends a sentence about what is not understood.
const seeHelp = `"cornerwise help" shows what there is`

// runHelp prints the help, or that of the command that it names.
func runHelp(_ context.Context, args []string, c console) error {
	text := help
	if len(args) > 0 && args[0] == "plan" {
		text = planHelp
	}
	_, err := fmt.Fprint(c.stdout, text)
	return err
}

const help = `Cornerwise walks you through a mitered border, from the plan to the last
pressed corner, on any screen in the room.

  cornerwise              serves the pages and opens the first one; it prints its
                          address, and a picture and a code that let in a tablet.
                          Where it runs already, it opens the page of that one
  cornerwise plan FILE    prints the sheet of one plan (FILE may be -);
                          "cornerwise help plan" shows its options
  cornerwise backup FILE  copies all sessions to a new file
  cornerwise restore FILE puts a backup in the place of the sessions, which are set
                          aside, not thrown away
  cornerwise check        reads all sessions through and tells whether they are
                          sound; with a FILE after it, that backup
  cornerwise pair         shows a picture and a code that let in one more device, of
                          the Cornerwise that serves here; --looks: to look only;
                          --quilt TITLE: to see that quilt only (or its id)
  cornerwise service install   has this computer start it when you log in, with the
                          options after it; "remove" takes that back, "status" tells
  cornerwise help         shows this
  cornerwise --version    tells which version this is, and of which commit and day

backup, restore and check work while it serves, and while it does not. They and pair
take --data FOLDER, and pair takes --listen ADDRESS, where these are not the usual ones.

When it serves:
  --listen ADDRESS   where to listen (:8370 is every network of this computer);
                     left out: the first free port from 8370 to 8389
  --name NAME        the name announced on the network (cornerwise.local); none
                     announces nothing
  --data FOLDER      where the sessions are kept
  --open             let in every device on the network, without pairing: for
                     a room whose network you trust
  --tls              seal what goes over the network (https), by an authority of
                     this computer's own that each device must trust once
  --demo             start with a session to try things out on
  --no-browser       open no page
  --no-window        on Windows, go on without the window

Each can stand in the environment instead, as CORNERWISE_LISTEN, CORNERWISE_NAME,
CORNERWISE_DATA, CORNERWISE_OPEN, CORNERWISE_TLS, CORNERWISE_DEMO,
CORNERWISE_NO_BROWSER and CORNERWISE_NO_WINDOW. What the command line says goes first.
Ctrl-C stops it; every tick that a screen showed as kept is on the disk.
`

const planHelp = `cornerwise plan FILE [--how] [--json]

Prints the sheet of the plan in FILE (- is standard input): strips to cut, marks,
corners, sizes and fabric to buy. With --how it adds how each figure comes about.
With --json it prints the same figures for programs. A plan that can't be made
exits 2, with a line for each fault.
`
