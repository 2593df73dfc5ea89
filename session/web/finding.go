package web

import (
	"net/url"

	"cornerwise/calc"
	"cornerwise/steps"
)

// A foundView is all that the screen of one tick has to tell beside its number: why it
// is open again, what changed, and what measures of its step come to. It stands there as
// one word, of the worst, and opens to all of it: it takes no room from the number and the
// drawing, so that every step still fits its screen.
type foundView struct {
	Opened   string
	New      string         // what there is to say of a step that has come since
	Changed  []steps.Number // those that are others now
	Doubts   []string       // about what was measured with it
	Findings []findingView
}

// A findingView is a finding with the page of its ways out.
type findingView struct {
	steps.Finding
	Address string
}

// newFound is that of a tick; nil where there is nothing.
func newFound(id string, step *stepView, t *tickView) *foundView {
	f := &foundView{Opened: t.Opened, New: newWords(t.Tick)}
	for _, n := range t.Numbers {
		if n.Changed != nil {
			f.Changed = append(f.Changed, n)
		}
	}
	for _, m := range step.Measures {
		if m.Tick == t.ID && m.Doubt != "" {
			f.Doubts = append(f.Doubts, m.Doubt)
		}
	}
	for _, x := range step.Step.Findings {
		page := "/s/" + id + "/found/" + url.PathEscape(x.Of) + "?step=" + url.QueryEscape(step.ID)
		f.Findings = append(f.Findings, findingView{x, page})
	}
	if !f.News() && f.New == "" && len(f.Doubts)+len(f.Findings) == 0 {
		return nil
	}
	return f
}

// newWords tell of a tick that has come since its session was begun; "" for others.
func newWords(t *steps.Tick) string {
	switch {
	case t.Passed:
		return "This has come to the procedure since this quilt was begun. " +
			"The work went on without it, and it may stay open."
	case t.New:
		return "This has come to the procedure since this quilt was begun."
	}
	return ""
}

// News tells whether there is something to be marked as seen.
func (f *foundView) News() bool { return f.Opened != "" || len(f.Changed) > 0 }

// fine are the kinds of finding that ask for nothing.
var fine = map[string]bool{
	calc.Right: true, calc.Ease: true, calc.Rectangle: true, calc.Covers: true,
	string(calc.LookFlat): true,
}

// word is a kind of finding in a word, as wide as the row beside the picture leaves.
var word = map[string]string{
	calc.Right: "Right", calc.Ease: "Ease", calc.Mend: "Mend", calc.Missing: "Measure",
	calc.Unknown: "Measure", calc.Rectangle: "Square", calc.Leaning: "Leans", calc.Trapezoid: "Uneven", calc.Slip: "A slip?",
	calc.Covers: "Enough", calc.Short: "Short", calc.Narrow: "Narrow", calc.Wide: "Wide",
	calc.Fat: "Fat", calc.Scant: "Scant", calc.Wavy: "Long", calc.Pulled: "Short", "off": "Differs", "ask": "How far?",
	string(calc.LookFlat): "Flat", string(calc.LookPucker): "Pucker", string(calc.LookGap): "Gap", string(calc.LookStripes): "Miss",
	string(calc.LookPleat): "Pleat", string(calc.LookNotFlat): "Ripple",
}

// worst is the first finding that asks for something, else the first; nil for none.
func (f *foundView) worst() *findingView {
	for i := range f.Findings {
		if !fine[f.Findings[i].Kind] {
			return &f.Findings[i]
		}
	}
	if len(f.Findings) > 0 {
		return &f.Findings[0]
	}
	return nil
}

// Kind is fine, or look where something asks for it.
func (f *foundView) Kind() string {
	if x := f.worst(); !f.News() && len(f.Doubts) == 0 && (x == nil || fine[x.Kind]) {
		return "fine"
	}
	return "look"
}

// Mark is its sign.
func (f *foundView) Mark() string {
	switch {
	case f.Kind() != "fine":
		return "hazard"
	case f.worst() == nil:
		return "open" // new, and nothing more
	}
	return "done"
}

// Word is it in a word or two, for where there is room for no more.
func (f *foundView) Word() string {
	x := f.worst()
	switch {
	case x != nil && !fine[x.Kind]:
		if w := word[x.Kind]; w != "" {
			return w
		}
		return "Look"
	case f.Opened != "":
		return "Again"
	case len(f.Changed) > 0:
		return "Changed"
	case len(f.Doubts) > 0:
		return "Is it so?"
	case x == nil:
		return "New"
	case word[x.Kind] != "":
		return word[x.Kind]
	}
	return "Found"
}
