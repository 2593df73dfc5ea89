package calc

import (
	"fmt"
	"slices"
	"strings"
)

// A Trouble is something that has gone wrong at the machine: a question, what must be
// measured to answer it, and the answer in this quilt's own numbers.
type Trouble struct {
	ID    string `json:"id"`
	Title string `json:"title"` // as someone would ask it
	Asks  []Ask  `json:"asks"`

	answer func(trouble) Answer
}

// An Ask is one value to enter: a length, or with Kind strip a border and its edges,
// with edges a pair of edges, with corner one of the four; after edges, one of their ends.
type Ask struct {
	ID     string `json:"id"`
	Label  string `json:"label"`
	Kind   string `json:"kind"`   // length, strip, edges, corner
	Needed bool   `json:"needed"` // without it there is no answer
}

// Entered are the values that were asked for. What is not entered is missing from
// Lengths, or zero.
type Entered struct {
	Border  int // 1 is innermost
	Edges   Edges
	Corner  int               // 1 to 4, clockwise from the top left
	Mitered bool              // the miter there is sewn, or one at the strip's ends
	Trimmed bool              // and trimmed
	AnyEnd  bool              // which end is not asked: all of the edge is looked at again
	Lengths map[string]Length // by Ask.ID
	Strips  []CutStrip        // as cut, for center-trimmed; none: as the plan had them
	Coped   bool              // the coping strips are on: the center is measured over them
	Sewn    bool              // the strip is sewn on
	Flat    bool              // whether the top lies flat is told elsewhere
	First   bool              // answered for an op of the procedure's first edition
}

// An Answer says what is so, the figures it rests on, and what can be done. Its Kind
// is a verdict's, or "ask" where Missing must be entered first.
type Answer struct {
	Kind    string   `json:"kind"`
	Say     []string `json:"say"`
	Figures []Named  `json:"figures"`
	Ways    []WayOut `json:"ways"`
	Missing []string `json:"missing,omitempty"` // ask ids
}

// trouble is one trouble with all that its answer may use.
type trouble struct {
	p   Plan
	s   Sheet
	in  Entered
	lim Limits
}

// Troubles are all that is answered, in the order of the work.
func Troubles() []Trouble { return slices.Clone(troubles) }

// Troubles are those that can be on a top of this plan, in its words: where nothing has to
// meet at the miters, nothing misses.
func (p Plan) Troubles() []Trouble {
	var all []Trouble
	for _, t := range troubles {
		if t.ID != "stripes-miss" || p.meet() != "" {
			all = append(all, t.in(p))
		}
	}
	return all
}

// in is the trouble in the words of a plan.
func (t Trouble) in(p Plan) Trouble {
	if t.ID == "stripes-miss" {
		t.Title = strings.Replace(t.Title, "stripes", p.meeting(), 1)
	}
	return t
}

// Coped is the trouble as it is asked once the coping strips are on: what is measured then
// is the center with them.
func (t Trouble) Coped() Trouble {
	if t.ID != "center-trimmed" {
		return t
	}
	t.Asks = slices.Clone(t.Asks)
	for i := range t.Asks {
		t.Asks[i].Label += ", with its coping strips"
	}
	return t
}

// TroubleOn is TroubleOf in the words of a plan.
func (p Plan) TroubleOn(id string) (Trouble, bool) {
	t, ok := TroubleOf(id)
	return t.in(p), ok
}

// TroubleOf is the one with this id.
func TroubleOf(id string) (Trouble, bool) {
	i := slices.IndexFunc(troubles, func(t Trouble) bool { return t.ID == id })
	if i < 0 {
		return Trouble{}, false
	}
	return troubles[i], true
}

func needed(id, label string) Ask { return Ask{id, label, "length", true} }
func wanted(id, label string) Ask { return Ask{id, label, "length", false} }

var (
	askStrip = Ask{"strip", "Which strip", "strip", true}
	askEdges = Ask{"edges", "Which edges", "edges", true}
	askEdge  = Ask{"edges", "Which edge", "edges", true}
	askEnd   = Ask{"corner", "At which end", "corner", true}
	askCorn  = Ask{"corner", "Which corner", "corner", true}
)

var troubles = []Trouble{
	{"short-strip", "Is this strip too short?", []Ask{askStrip, needed("length", "Its length, end to end"), wanted("width", "Its width, if it is off too")}, trouble.strip},
	{"center-trimmed", "I trimmed the center after cutting. Are the strips still long enough?", []Ask{needed("width", "Center's width now"), needed("length", "Center's length now")}, trouble.trimmed},
	{"allowance", "Is my seam allowance fat or scant?", []Ask{needed("across", "Across all three test strips")}, trouble.allowance},
	{"past-dot", "I sewed past the dot. What now?", []Ask{askEdge, askEnd, needed("past", "How far past the dot")}, trouble.pastDot},
	{"band-length", "The band is longer or shorter than the center. Will it fit?", []Ask{askEdges, needed("band", "The band, from end mark to end mark")}, trouble.band},
	{"upside-down", "A strip is sewn on upside down. What now?", []Ask{askStrip}, trouble.upsideDown},
	{"caught-tail", "A tail is caught in a seam. How is it freed?", []Ask{askEdge, askEnd}, trouble.caught},
	{"pleat", "There is a pleat at the corner. Where from?", nil, corner(LookPleat)},
	{"hole", "There is a hole at the corner. Where from?", nil, corner(LookGap)},
	{"stripes-miss", "The stripes miss at the corner. Can they be brought together?", []Ask{needed("miss", "How far they miss, along the strip")}, corner(LookStripes)},
	{"not-flat", "The corner will not lie flat. Why?", []Ask{wanted("line", "The miter, from dot to raw outer edge")}, corner(LookNotFlat)},
	{"trimmed-wrong", "It is trimmed, and only now I see that it is wrong. What can be saved?", []Ask{askCorn, wanted("left", "What is left beyond the stitching")}, trouble.trimmedWrong},
	{"out-of-square", "Is the bordered top out of square?", []Ask{
		wanted("top-width-top", "Width near the top"), wanted("top-width-middle", "Width across the middle"), wanted("top-width-bottom", "Width near the bottom"),
		wanted("top-length-left", "Length near the left"), wanted("top-length-middle", "Length down the middle"), wanted("top-length-right", "Length near the right"),
		needed("top-diagonal-1", "Corner 1 to 3"), needed("top-diagonal-2", "Corner 2 to 4")}, trouble.square},
}

// Answer answers with the values entered. s is the sheet of p.
func (t Trouble) Answer(p Plan, s Sheet, in Entered, lim Limits) Answer {
	var missing []string
	for _, a := range t.Asks {
		has := in.Edges == Sides || in.Edges == TopBottom
		switch a.Kind {
		case "strip":
			has = has && in.Border >= 1 && in.Border <= len(p.Borders)
		case "corner":
			has = in.Corner >= 1 && in.Corner <= 4 || in.AnyEnd
		case "length":
			has = in.Lengths[a.ID].Sign() > 0
		}
		if a.Needed && !has {
			missing = append(missing, a.ID)
		}
	}
	if len(missing) > 0 {
		return Answer{Kind: "ask", Say: []string{t.askFor(missing)}, Figures: []Named{}, Ways: []WayOut{}, Missing: missing}
	}
	a := t.answer(trouble{p, s, in, lim})
	if a.Figures == nil {
		a.Figures = []Named{}
	}
	if a.Ways == nil {
		a.Ways = []WayOut{}
	}
	return a
}

// askFor asks for what is missing: to be measured, or only to be said.
func (t Trouble) askFor(missing []string) string {
	first, labels := "Say", []string{}
	for _, a := range t.Asks {
		if !slices.Contains(missing, a.ID) {
			continue
		}
		labels = append(labels, strings.ToLower(a.Label[:1])+a.Label[1:])
		if a.Kind == "length" {
			first = "Measure"
		}
	}
	return fmt.Sprintf("%s first: %s. The answer follows from it.", first, strings.Join(labels, "; "))
}

// say is a verdict's sentences.
func (v Verdict) say() []string {
	if v.Act == "" {
		return []string{v.Text}
	}
	return []string{v.Text, v.Act}
}

// causes are ways out, each with how to tell that it is the one. A strip to be cut anew is
// either of the two that meet there.
func (t trouble) causes(c CornerLook) []WayOut {
	var ways []WayOut
	for _, x := range c.Causes {
		if x.cutsAnew && t.in.Corner > 0 {
			for _, way := range t.newStrips("Unpick the miters at both ends of the %s strip.") {
				way.Acts = append([]string{x.Text, "How to tell: " + x.Tell}, way.Acts...)
				ways = append(ways, way)
			}
			continue
		}
		ways = append(ways, WayOut{Kind: "redo", Title: x.Text, Acts: append([]string{"How to tell: " + x.Tell}, x.Acts...), Then: x.Then, Figures: []Named{}, Redo: x.Redo, First: x.first})
	}
	return ways
}

// corner answers for a look at a corner.
func corner(look Look) func(trouble) Answer {
	return func(t trouble) Answer {
		c := CheckCorner(t.p, t.s, look, t.in.Lengths["miss"], t.lim)
		a := Answer{Kind: c.Verdict.Kind, Say: c.Verdict.say(), Ways: t.causes(c)}
		switch look {
		case LookStripes:
			if !c.Pass && !t.p.BordersAlike() {
				a.Say = append(a.Say, "The sheet notes what can't meet on these bands: that needs no mending.")
			}
			if !c.Shift.moves {
				break
			}
			a.Figures = []Named{{"miss", c.Shift.Miss}, {"the miter alone takes up", c.Shift.AtMiter},
				{"a side's seam by", c.Shift.EachSeam.Sides}, {"the neighbor's seam by", c.Shift.EachSeam.TopBottom},
				{"let out at most", c.Shift.LetOut}, {"back to nothing over", c.Shift.RunOut}}
		case LookNotFlat:
			a.Figures = []Named{{"miter, dot to raw outer edge", t.s.Corner.sewn()}}
			if line := t.in.Lengths["line"]; line.Sign() > 0 {
				a = t.miterLine(a, line)
			}
		case LookPleat, LookGap:
			a.Figures = []Named{{"dot, from both raw edges", t.p.Unit.exactly(t.p.Seam)}}
		}
		return a
	}
}

// AnswerLook answers for what is seen at a corner before its trim, and tells whether the
// trim may follow. at is the corner, 1 to 4; miss is for stripes only.
func AnswerLook(p Plan, s Sheet, look Look, at int, miss Length, lim Limits) (a Answer, pass bool) {
	a = corner(look)(trouble{p, s, Entered{Corner: at, Lengths: map[string]Length{"miss": miss}}, lim})
	if a.Figures == nil {
		a.Figures = []Named{}
	}
	if a.Ways == nil {
		a.Ways = []WayOut{}
	}
	return a, CheckCorner(p, s, look, miss, lim).Pass
}

// miterLine compares the miter as sewn with what it should be: another length is
// another angle.
func (t trouble) miterLine(a Answer, line Length) Answer {
	off := t.s.Corner.sewnOff(line)
	if t.in.First { // then it was held to the finished corner
		off = line.Sub(t.s.Corner.FinishedLine.Length)
	}
	f := t.p.Unit.nearest(off.abs())
	a.Figures = append(a.Figures, Named{"as sewn", t.p.Unit.nearest(line)}, Named{"off by", f})
	if t.lim.Seen.Less(off.abs()) {
		a.Say = append(a.Say, fmt.Sprintf("Yours is off by %s: the angle is wrong. Draw it anew.", f.Shown()))
		return a
	}
	a.Say = append(a.Say, "Yours is as long as it should be: the angle is right, so the bias has stretched or the band does not fit.")
	if len(a.Ways) > 1 {
		a.Ways = a.Ways[1:]
	}
	return a
}
