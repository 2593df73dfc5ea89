// Package table lays out the sheet of a plan as a table for people.
package table

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"cornerwise/calc"
)

// Write lays the sheet out: fractions of a ruler, the other unit in brackets beside. An
// error is the writer's.
func Write(out io.Writer, s calc.Sheet) error {
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
				name := "  " + borderShown(strip.Border, strip.Name) + ", " + e.words
				line(name, size(strip.CutWidth, strip.CutLength), both(strip.LeastLength))
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
	writeFabric(line, s)
	writeNext(line, s.Next)
	if len(s.Notes) > 0 {
		line()
		line("Notes")
		for _, note := range s.Notes {
			line("  - " + strings.Join(wrap(note, 76), "\n    "))
		}
	}
	return w.Flush()
}

// WriteReckonings tells how each figure of a sheet comes about.
func WriteReckonings(out io.Writer, all []calc.Reckoning) {
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
		name := "  " + borderShown(m.Border, s.Fabric[m.Border-1].Name)
		line(name, both(m.Mismatch), both(m.AddToWidth.Total)+" or "+both(m.AddToLength.Total))
		for _, e := range bothPairs {
			line("    middles on "+e.words, "on a "+string(m.Centering.On(e.edges)))
		}
	}
}

func writeFabric(line func(...string), s calc.Sheet) {
	line()
	head := []string{"Fabric to buy", "strips cut lengthwise", "crosswise"}
	mixed := s.AnyMixed()
	if mixed {
		head = append(head, "mixed")
	}
	line(append(head, "take")...)
	row := func(name string, w calc.Ways) {
		cells := []string{name, bought(w.Lengthwise), bought(w.Crosswise)}
		if mixed {
			cells = append(cells, bought(w.Mixed))
		}
		if w.Pick != "" {
			cells = append(cells, w.Pick)
		}
		line(cells...)
	}
	if s.Coping != nil {
		row("  coping strips", s.Coping.Fabric)
	}
	for _, c := range s.Fabric {
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

// writeNext tells what comes when the borders are on.
func writeNext(line func(...string), n calc.Next) {
	line()
	line("Next", "size", "to buy")
	line("  backing", size(n.Backing.Width, n.Backing.Length), widths(n.Backing.Widths))
	if n.Backing.Wide != nil {
		line("    or of wide fabric", n.Backing.Wide.Usable.Shown()+" usable", widths(*n.Backing.Wide))
	}
	line("  batting", size(n.Batting.Width, n.Batting.Length))
	b := n.Binding
	line("  binding, "+both(b.Perimeter)+" once round", fmt.Sprintf("%d strips cut %s", b.Strips, both(b.Cut)), both(b.Buy))
}

func widths(w calc.Widths) string {
	if w.Pieces == 1 {
		return both(w.Buy) + ", in one"
	}
	return fmt.Sprintf("%s, %d lengths of %s", both(w.Buy), w.Pieces, w.Each.Shown())
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

// wrap breaks a text at its spaces into lines of at most so many letters.
func wrap(text string, letters int) []string {
	lines := []string{""}
	for _, word := range strings.Fields(text) {
		last := &lines[len(lines)-1]
		switch {
		case *last == "":
			*last = word
		case len([]rune(*last))+1+len([]rune(word)) <= letters:
			*last += " " + word
		default:
			lines = append(lines, word)
		}
	}
	return lines
}
