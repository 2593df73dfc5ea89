package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"

	"cornerwise/calc"
	"cornerwise/cmd/cornerwise/internal/table"
)

// maxPlanFile is far more than any plan of 12 borders takes.
const maxPlanFile = 1 << 20

const planHelp = `cornerwise plan FILE [--how] [--json]

Reckons the plan in FILE (- is standard input) and prints its sheet: strips to
cut, marks, corners, sizes and cloth to buy. With --how it adds how each figure
comes about. With --json the same figures for programs.
`

// plan is the command of that name: it prints the sheet of one plan and exits
// 0, or prints what is wrong with it, a line for each fault, and exits 2.
func plan(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	misused := func(err error) int {
		fmt.Fprintln(stderr, err)
		return exitMisused
	}
	asked, err := planArgs(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(stdout, planHelp)
		return exitDone
	}
	if err != nil {
		return misused(fmt.Errorf("cornerwise plan: %w", err))
	}
	text, err := readPlan(asked.file, stdin)
	if err != nil {
		return misused(fmt.Errorf("cornerwise plan: %w", err))
	}
	p, err := calc.ParsePlan(text)
	if err != nil {
		return misused(err)
	}
	var out bytes.Buffer
	sheet := calc.NewSheet(p)
	if asked.json {
		err = writeJSON(&out, sheet)
	} else {
		err = table.Write(&out, sheet)
	}
	if err == nil && asked.how {
		table.WriteReckonings(&out, sheet.Reckonings(p))
	}
	if err == nil {
		_, err = stdout.Write(out.Bytes())
	}
	if err != nil {
		return misused(fmt.Errorf("cornerwise plan: the sheet can't be written: %w", err))
	}
	return exitDone
}

// planAsked is what the command was asked for.
type planAsked struct {
	file      string
	json, how bool
}

// planArgs takes flags before and after the one FILE.
func planArgs(args []string) (asked planAsked, err error) {
	f := flag.NewFlagSet("plan", flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.BoolVar(&asked.json, "json", false, "")
	f.BoolVar(&asked.how, "how", false, "")
	var files []string
	for len(args) > 0 {
		if err := f.Parse(args); err != nil {
			return asked, inWords(err)
		}
		if args = f.Args(); len(args) > 0 {
			files, args = append(files, args[0]), args[1:]
		}
	}
	switch {
	case len(files) == 0:
		return asked, errors.New("name the FILE that holds the plan, or - for standard input")
	case len(files) > 1:
		return asked, fmt.Errorf("takes one FILE, not %d; the first two are %q and %q", len(files), files[0], files[1])
	case asked.how && asked.json:
		return asked, errors.New("--how is in words, for people; leave it or --json out")
	}
	asked.file = files[0]
	return asked, nil
}

func readPlan(file string, stdin io.Reader) ([]byte, error) {
	from := stdin
	if file == "-" {
		file = "standard input"
	} else {
		f, err := os.Open(file)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, fmt.Errorf("there is no file %s; name one that holds a plan, or - for standard input", file)
		case errors.Is(err, fs.ErrPermission):
			return nil, fmt.Errorf("%s may not be read by you; give yourself leave to read it, or name another file", file)
		case err != nil:
			return nil, fmt.Errorf("%s can't be opened: %w", file, err)
		}
		defer f.Close()
		if about, err := f.Stat(); err == nil && about.IsDir() {
			return nil, fmt.Errorf("%s is a folder; name the file in it that holds the plan", file)
		}
		from = f
	}
	text, err := io.ReadAll(io.LimitReader(from, maxPlanFile+1))
	if err != nil {
		return nil, fmt.Errorf("%s can't be read: %w", file, err)
	}
	if len(text) > maxPlanFile {
		return nil, fmt.Errorf("%s is larger than 1 MiB; a plan takes a few lines of JSON", file)
	}
	// Some editors begin a file with this mark; JSON knows nothing of it.
	return bytes.TrimPrefix(text, []byte("\ufeff")), nil
}

func writeJSON(w io.Writer, s calc.Sheet) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(s)
}
