package main

import (
	"cmp"
	"context"
	"fmt"
	"runtime"

	"cornerwise/cmd/cornerwise/internal/datafolder"
)

// maintain makes a command of what is done to the sessions of a data folder: backup,
// restore, check. noFile is what is said where no FILE is named; "" where none need be.
func maintain(
	name, noFile string,
	do func(ctx context.Context, folder, file string) (done string, err error),
) func(context.Context, []string, console) error {
	return func(ctx context.Context, args []string, c console) error {
		f := newFlags(name)
		usual := cmp.Or(c.env("CORNERWISE_DATA"), datafolder.Usual(runtime.GOOS, c.env))
		folder := f.String("data", usual, "")
		file, err := parseFile(f, args)
		switch {
		case err != nil:
			return err
		case file == "" && noFile != "":
			return misused("%s", noFile)
		case *folder == "":
			return errNoFolder
		}
		done, err := do(ctx, *folder, file)
		if err != nil {
			return err
		}
		_, err = fmt.Fprint(c.stdout, done)
		return err
	}
}
