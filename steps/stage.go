package steps

import (
	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// A Stage is one of the six: square-up, cut, mark, sew, miter, press.
type Stage struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Steps []Step `json:"steps"`
}

// A Step is what is done without moving on: an edge, a corner, a pair of strips. Its ticks
// are done one after another.
type Step struct {
	ID       string    `json:"id"`
	Title    string    `json:"title"`
	Done     bool      `json:"done"`
	Note     string    `json:"note,omitempty"`
	Ticks    []Tick    `json:"ticks"`
	Groups   []Group   `json:"groups,omitempty"`
	Measures []Measure `json:"measures"`
	Findings []Finding `json:"findings,omitempty"` // what measures of it, or of its fabric, say

	// Where is told with the last thing done, where the ticks do not say it: "corner 2".
	Where string `json:"-"`
}

// A Tick is one act, with all that the screen shows while it is done.
type Tick struct {
	ID    string   `json:"id"`
	Label string   `json:"label"` // what the button says is done: "Line drawn"
	Done  bool     `json:"done"`
	Needs []string `json:"needs"` // ticks that must be done first
	Cuts  bool     `json:"cuts"`  // can't be undone in fabric
	// Group is that of its step which it belongs to, and As what it is called there; "" for
	// cuts, looks and what stands alone.
	Group string `json:"group,omitempty"`
	As    string `json:"as,omitempty"`

	Title   string     `json:"title"` // the act: "Draw the line"
	Say     string     `json:"say"`   // the command, at most 20 words
	Why     string     `json:"why,omitempty"`
	Numbers []Number   `json:"numbers,omitempty"` // the first is the one worked to
	Number  string     `json:"number,omitempty"`  // that one as shown; an op tick may carry it
	Caution *Caution   `json:"caution,omitempty"`
	Scene   draw.Scene `json:"-"`
	// Despite is why it was done although the look was no pass.
	Despite string `json:"despite,omitempty"`
	// Later is why it is put off; "": it is not.
	Later string `json:"later,omitempty"`
	// Opened is why it is open again, until that is seen or it is done.
	Opened string `json:"opened,omitempty"`
	// New: it has come to the procedure since this session was begun, and is open.
	New bool `json:"new,omitempty"`
	// Passed: it is new, and the work went on without it; it is not counted while open.
	Passed bool `json:"passed,omitempty"`

	row  string // the id of its row; "" for a mend's
	came int    // the edition that it came with
	of   names  // the corner, edge and border that it is about
	gate bool   // the look at its corner must have passed
	look bool   // it says whether work is right
	lies bool   // its number lies in the fabric once it is done
	seen view
	// under is the edition of the op that did or opened it last; 0: none has.
	under int
	told  []Number // what it showed when it was done: to this the fabric was cut
}

// Lower is the title as it goes on within a sentence: "Not yet: first draw the line".
func (t *Tick) Lower() string { return lower(t.Title) }

// A Number is what a tick is worked to: a length, or two joined by ×, or words.
type Number struct {
	Name    string        `json:"name"` // "cut length"
	Figures []calc.Figure `json:"figures,omitempty"`
	Text    string        `json:"text,omitempty"` // where it is no length: "45°"
	How     string        `json:"how,omitempty"`  // how it was reckoned, in a line
	Changed *Changed      `json:"changed,omitempty"`
}

// A Caution is by ANSI Z535.6: hazard, consequence, how to avoid it.
type Caution struct {
	Word string `json:"word"` // WARNING or CAUTION: a person; NOTICE: fabric
	Text string `json:"text"`
}

// A Measure is a value measured in the fabric and kept: a length as written, or
// one of Options where there are any.
type Measure struct {
	ID      string   `json:"id"`
	Label   string   `json:"label"`
	Value   string   `json:"value"`
	Tick    string   `json:"tick"`           // of its step, with which it is entered
	When    string   `json:"when,omitempty"` // "look-2=miss": asked for only then; "": always
	Options []Option `json:"options,omitempty"`
	// Expect is what the plan says. Outside Least to Most there is always a Doubt,
	// inside only where a usual slip explains it. Each may be missing.
	Expect *calc.Figure `json:"expect,omitempty"`
	Least  *calc.Figure `json:"least,omitempty"`
	Most   *calc.Figure `json:"most,omitempty"`
	// Doubt asks about a value that is hard to believe. It is kept all the same.
	Doubt string `json:"doubt,omitempty"`
}

// An Option is one of a choice.
type Option struct {
	Value string `json:"value"`
	Label string `json:"label"`
}
