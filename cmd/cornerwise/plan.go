package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"strconv"
	"strings"
	"text/tabwriter"

	"cornerwise/calc"
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
		err = writeTable(&out, sheet)
	}
	if err == nil && asked.how {
		writeHow(&out, sheet.Reckonings(p))
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

// writeTable lays the sheet out for people: fractions of a ruler, the other
// unit in brackets beside.
func writeTable(out io.Writer, s calc.Sheet) error {
	w := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	line := func(cells ...string) { fmt.Fprintln(w, strings.Join(cells, "\t")) }

	line(s.Title)
	line()
	line("Center, raw edge to raw edge", size(s.Pieced.Width, s.Pieced.Length))
	if s.Coping != nil {
		line("  with its coping strips", size(s.Center.Width, s.Center.Length))
	}
	line("Seam allowance", s.Seam.Exactly()+" ("+s.Seam.Other()+")")
	line("Bordered, before binding", size(s.Raw.Width, s.Raw.Length))
	line("Bordered, after binding", size(s.Finished.Width, s.Finished.Length))
	line()
	writeCoping(line, s.Coping)
	line("Bands", "cut", "finished")
	for _, e := range bothPairs {
		line("  "+e.words, both(s.Bands.On(e.edges).Cut), both(s.Bands.On(e.edges).Finished))
	}
	line()
	line("Cut two of each", "width x length", "never shorter than")
	for _, strip := range s.Strips {
		for _, e := range bothPairs {
			if e.edges == strip.Edges {
				line("  "+borderShown(strip.Border, strip.Name)+", "+e.words, size(strip.CutWidth, strip.CutLength), both(strip.LeastLength))
			}
		}
	}
	line()
	line("Mark from the middle", "to the raw corner", "to the dot")
	for _, e := range bothPairs {
		line("  "+e.words+", both ways", both(s.Marks.On(e.edges).ToEnd), both(s.Marks.On(e.edges).ToDot))
	}
	line()
	line("At each corner", "length", "angle to the seam")
	line("  line drawn on the sides", both(s.Corner.DrawnLineSides), degrees(s.Corner.AngleSides))
	line("  line drawn on top and bottom", both(s.Corner.DrawnLineTopBottom), degrees(s.Corner.AngleTopBottom))
	line("  miter, finished", both(s.Corner.FinishedLine))
	writeMatch(line, s)
	writeCloth(line, s)
	if len(s.Notes) > 0 {
		line()
		line("Notes")
		for _, note := range s.Notes {
			line("  - " + strings.Join(wrap(note, 76), "\n    "))
		}
	}
	return w.Flush()
}

// writeHow tells how each figure of the sheet comes about.
func writeHow(out io.Writer, all []calc.Reckoning) {
	fmt.Fprint(out, "\nHow each figure comes about\n")
	for _, r := range all {
		fmt.Fprintf(out, "  %s: %s\n    %s\n", r.Name, r.Shown(), strings.Join(wrap(r.How, 76), "\n    "))
	}
}

// writeCoping tells what coping strips are cut, and where they are sewn.
func writeCoping(line func(...string), c *calc.CopingStrips) {
	if c == nil {
		return
	}
	for _, e := range bothPairs {
		if e.edges == c.Edges {
			line("Coping strips, cut two", "width x length", "add, finished")
			line("  "+e.words+", before the borders", size(c.CutWidth, c.CutLength), both(c.Total))
			line()
		}
	}
}

// writeMatch tells how the prints along the strips meet; one that can't is told in
// the notes.
func writeMatch(line func(...string), s calc.Sheet) {
	head := false
	for _, m := range s.Match {
		if !m.Possible {
			continue
		}
		if !head {
			line()
			line("Print along the strip", "misses at the corners", "center to add, width or length")
			head = true
		}
		line("  "+borderShown(m.Border, s.Cloth[m.Border-1].Name), both(m.Mismatch), both(m.AddToWidth.Total)+" or "+both(m.AddToLength.Total))
		for _, e := range bothPairs {
			line("    middles on "+e.words, "on a "+string(m.Centering.On(e.edges)))
		}
	}
}

func writeCloth(line func(...string), s calc.Sheet) {
	line()
	line("Cloth to buy", "strips cut lengthwise", "crosswise", "take")
	row := func(name string, w calc.Ways) {
		cells := []string{name, bought(w.Lengthwise), bought(w.Crosswise)}
		if w.Pick != "" {
			cells = append(cells, w.Pick)
		}
		line(cells...)
	}
	if s.Coping != nil {
		row("  coping strips", s.Coping.Cloth)
	}
	for _, c := range s.Cloth {
		row("  "+borderShown(c.Border, c.Name), c.Ways)
	}
	for _, c := range s.Together {
		numbers := make([]string, len(c.Borders))
		for i, b := range c.Borders {
			numbers[i] = strconv.Itoa(b)
		}
		row("  "+c.Name+", for "+strings.Join(numbers, " and "), c.Ways)
	}
}

func bought(w *calc.Way) string {
	switch {
	case w == nil:
		return "-"
	case !w.Fits:
		return "does not fit"
	}
	return both(*w.Buy)
}

var bothPairs = []struct {
	edges calc.Edges
	words string
}{{calc.Sides, "sides"}, {calc.TopBottom, "top and bottom"}}

// borderShown counts from the center: "2 ticking", or "border 2" without a name.
func borderShown(border int, name string) string {
	number := strconv.Itoa(border)
	if name == "border "+number {
		return name
	}
	return number + " " + name
}

func both(f calc.Figure) string { return f.Shown() + " (" + f.Other() + ")" }

func size(across, along calc.Figure) string {
	in := func(u calc.Unit) string {
		a := across.Length.Parts(u, across.Rounding)
		a.Unit = "x"
		return a.String() + " " + along.Length.Parts(u, along.Rounding).String()
	}
	return in(across.Unit) + " (" + in(across.Unit.Other()) + ")"
}

// degrees is an angle to a tenth, as fine as a ruler's lines can be laid.
func degrees(d calc.Degrees) string {
	return strconv.FormatFloat(math.Round(float64(d)*10)/10, 'f', -1, 64) + " degrees"
}

// wrap breaks a text into lines of at most so many letters, at its spaces.
func wrap(text string, most int) []string {
	lines := []string{""}
	for _, word := range strings.Fields(text) {
		last := &lines[len(lines)-1]
		switch {
		case *last == "":
			*last = word
		case len([]rune(*last))+1+len([]rune(word)) <= most:
			*last += " " + word
		default:
			lines = append(lines, word)
		}
	}
	return lines
}
