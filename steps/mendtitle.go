package steps

import "strings"

// called is what an act of a way out is called by, where it begins so. The first that fits
// counts.
var called = []struct{ begins, title string }{
	{"Unpick the miter for", "Unpick the miter's beginning"},
	{"Unpick the miter from", "Unpick the miter"},
	{"Unpick the border seam back", "Unpick to the dot"},
	{"Unpick the last", "Unpick back to the dot"},
	{"Unpick the miters at", "Unpick both miters"},
	{"Unpick the seams that hold", "Unpick the strip's seams"},
	{"Unpick this seam over", "Unpick over the tail"},
	{"Unpick the seam where", "Unpick the seam that is off"},
	{"Needle down in the dot", "Backstitch from the dot"},
	{"Press tails and center", "Press tails and center"},
	{"Press both tails flat, and", "Press tails and seam"},
	{"Press both tails", "Press both tails"},
	{"Press the band and", "Press band and center"},
	{"Press the strip and", "Press the strip flat"},
	{"Press the center's edge", "Press the center's edge"},
	{"Fold the corner as before", "Fold the corner again"},
	{"Fold the border seams' allowances", "Pin the allowances back"},
	{"Fold the tail away", "Fold the tail away"},
	{"Pin across the line beside", "Pin beside the dot"},
	{"Pin the border seam at", "Pin the border seam"},
	{"Pin both layers", "Pin both layers"},
	{"Pin its edges", "Pin its edges down"},
	{"Slide the piece", "Slide the piece to the print"},
	{"Lay the piece on", "Lay the piece on the strip"},
	{"Lay both right sides", "Cross the two ends"},
	{"Lay it flat and pull", "Pull it square"},
	{"Draw the join", "Draw the join"},
	{"Draw from where the edges", "Draw the diagonal"},
	{"Mark the dot anew", "Mark the dot anew"},
	{"Mark every strip", "Mark every strip"},
	{"Mark the middle of a", "Mark the whole's middle"},
	{"Sew both on the new lines", "Sew both border seams"},
	{"Sew from the dot to the stitches", "Sew the miter's beginning"},
	{"Sew from the dot over", "Sew the miter's beginning"},
	{"Sew that seam on", "Sew on to the dot"},
	{"Sew the gap", "Sew the gap"},
	{"Sew on the line", "Sew the join"},
	{"Sew three strips", "Sew a new test"},
	{"Look at the join", "Look at the join"},
	{"Turn the strip", "Turn the strip round"},
	{"Trim the join's corner", "Trim the corner"},
	{"Trim the whole", "Trim the whole strip"},
	{"Measure what you mended", "Measure it once more"},
}

// titled is what an act is called by.
func titled(say string) string {
	for _, c := range called {
		if strings.HasPrefix(say, c.begins) {
			return c.title
		}
	}
	switch {
	case strings.HasPrefix(say, "Draw a seam") && strings.Contains(say, "nearer the raw edge"):
		return "Draw the seam to be let out"
	case strings.HasPrefix(say, "Draw a seam"):
		return "Draw the seam to be taken in"
	case strings.HasPrefix(say, "Mark ") && strings.Contains(say, "each way"):
		return "Mark both ends"
	}
	return briefly(say)
}
