package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"cornerwise/calc"
	"cornerwise/cmd/cornerwise/internal/table"
)

// maxPlanFile, in bytes, is far more than any plan of 12 borders takes.
const maxPlanFile = 1 << 20

// runPlan prints the sheet of one plan. The error is calc.Faults where the plan can't be
// made.
func runPlan(_ context.Context, args []string, c console) error {
	f := newFlags("plan")
	asJSON, how := f.Bool("json", false, ""), f.Bool("how", false, "")
	file, err := parseFile(f, args)
	switch {
	case err != nil:
		return err
	case file == "":
		return misused("name the FILE that holds the plan, or - for standard input")
	case *how && *asJSON:
		return misused("--how is in words, for people; leave it or --json out")
	}
	text, err := readPlan(file, c.stdin)
	if err != nil {
		return err
	}
	p, err := calc.ParsePlan(text)
	if err != nil {
		return err
	}
	var out bytes.Buffer // so that a fault leaves no half of a sheet
	sheet := calc.NewSheet(p)
	if *asJSON {
		err = writeJSON(&out, sheet)
	} else {
		err = table.Write(&out, sheet)
	}
	if err == nil && *how {
		table.WriteReckonings(&out, sheet.Reckonings(p))
	}
	if err == nil {
		_, err = c.stdout.Write(out.Bytes())
	}
	if err != nil {
		return fmt.Errorf("the sheet can't be written: %w", err)
	}
	return nil
}

func writeJSON(w io.Writer, s calc.Sheet) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(s)
}

func readPlan(file string, stdin io.Reader) ([]byte, error) {
	from := stdin
	if file == "-" {
		file = "standard input"
	} else {
		f, err := os.Open(file)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, misused("there is no file %s; name one that holds a plan, "+
				"or - for standard input", file)
		case errors.Is(err, fs.ErrPermission):
			return nil, misused("this user may not read %s; change that, or name another file", file)
		case err != nil:
			return nil, misused("%s can't be opened: %w", file, err)
		}
		defer f.Close()
		if about, err := f.Stat(); err == nil && about.IsDir() {
			return nil, misused("%s is a folder; name the file in it that holds the plan", file)
		}
		from = f
	}
	text, err := io.ReadAll(io.LimitReader(from, maxPlanFile+1))
	if err != nil {
		return nil, misused("%s can't be read: %w", file, err)
	}
	if len(text) > maxPlanFile {
		return nil, misused("%s is larger than 1 MiB; a plan takes a few lines of JSON", file)
	}
	// Some editors begin a file with a byte order mark, which is not JSON.
	return bytes.TrimPrefix(text, []byte("\ufeff")), nil
}
