package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"runtime"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/maintenance"
)

// deeds are what the commands of these names do to the sessions of a folder.
var deeds = map[string]func(ctx context.Context, folder, file string) (done string, err error){
	"backup":  maintenance.Backup,
	"restore": maintenance.Restore,
	"check":   maintenance.Check,
}

// target is what such a command works on.
type target struct {
	data string // the folder
	file string // as it was named, "" when it was not
}

func maintain(ctx context.Context, command string, args []string, env func(string) string, stdout, stderr io.Writer) int {
	asked, err := maintainArgs(command, args, env)
	if errors.Is(err, errHelp) {
		fmt.Fprint(stdout, help)
		return exitDone
	}
	if err != nil {
		fmt.Fprintf(stderr, "cornerwise %s: %s.\n", command, err)
		return exitMisused
	}
	said, err := deeds[command](ctx, asked.data, asked.file)
	fmt.Fprint(stdout, said)
	if err != nil {
		fmt.Fprintf(stderr, "cornerwise %s: %s.\n", command, err)
		return exitFailed
	}
	return exitDone
}

func maintainArgs(command string, args []string, env func(string) string) (k target, err error) {
	k.data = env("CORNERWISE_DATA")
	if k.data == "" {
		k.data = datafolder.Usual(runtime.GOOS, env)
	}
	f := flag.NewFlagSet(command, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.StringVar(&k.data, "data", k.data, "")
	var files []string
	for len(args) > 0 {
		if err := f.Parse(args); err != nil {
			return k, inWords(err)
		}
		if args = f.Args(); len(args) > 0 {
			files, args = append(files, args[0]), args[1:]
		}
	}
	switch {
	case len(files) > 1:
		return k, fmt.Errorf("takes one FILE, not %d; the first two are %q and %q", len(files), files[0], files[1])
	case len(files) == 0 && command == "backup":
		return k, errors.New("name the FILE that the backup goes to")
	case len(files) == 0 && command == "restore":
		return k, errors.New("name the FILE that holds the backup")
	case k.data == "":
		return k, errors.New("there is no folder for the sessions; name one with --data FOLDER")
	}
	if len(files) == 1 {
		k.file = files[0]
	}
	return k, nil
}
