package steps

import (
	"fmt"
	"slices"
	"strings"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// An act is one deed of a way out, to be ticked.
type act struct {
	verb    string
	say     string // at most 20 words
	why     string
	numbers []Number
	figures []calc.Named // of the whole way
}

// A verb is what an act begins with: what the button says is done, the caution that it
// takes, and what its drawing does at a corner and along an edge.
type verb struct {
	done, caution string
	corner, edge  string
}

var verbs = map[string]verb{
	"Unpick":  {"Unpicked", "", "sew", "check"},
	"Needle":  {"Backstitched", "needle", "sew", "sew"},
	"Pin":     {"Pinned", "pinning", "pin", "pin"},
	"Smooth":  {"Smoothed", "", "pin", "pin"},
	"Slide":   {"Print runs on", "", "pin", "pin"},
	"Start":   {"Sewn", "needle", "sew", "sew"},
	"Join":    {"Joined", "needle", "sew", "sew"},
	"Sew":     {"Sewn", "pins", "sew", "sew"},
	"Take":    {"Both seams moved", "needle", "sew", "sew"},
	"Move":    {"Moved", "needle", "sew", "sew"},
	"Fold":    {"Folded", "", "fold", "pin"},
	"Look":    {"Looked at", "", "look", "check"},
	"Turn":    {"Turned round", "", "turn", "pin"},
	"Draw":    {"Drawn", "marker", "pin", "pin"},
	"Mark":    {"Marked", "marker", "pin", "pin"},
	"Press":   {"Pressed", "iron", "behind", "press"},
	"Cut":     {"Cut", "cutter", "trim", "check"},
	"Trim":    {"Trimmed", "cutter", "trim", "check"},
	"Steam":   {"Steamed and cool", "iron", "behind", "press"},
	"Lay":     {"Laid so", "", "look", "check"},
	"Measure": {"Measured", "", "look", "check"},
}

// center is what its drawing does to the center, where a way across is measured anew.
func (v verb) center(step string) string {
	switch {
	case v.caution == "iron":
		return "press"
	case v.caution == "cutter":
		return "trim"
	}
	return strings.TrimSuffix(step, "s") + "-middle"
}

// mostWords is how many words a command has at most; what is over is told as the why.
const mostWords = 20

// actsOf takes a way apart into deeds. What is no deed, how to tell or what comes of it,
// is told with the deed before it, or with the first; how to tell that it is the one, with none.
func actsOf(way calc.WayOut) []act {
	var acts []act
	lead := ""
	for _, text := range way.Acts {
		text = sentence(strings.TrimPrefix(text, "Then "))
		word, _, _ := strings.Cut(text, " ")
		if _, ok := verbs[word]; !ok {
			switch {
			case strings.HasPrefix(text, "How to tell:"): // it was told before it was taken
			case len(acts) == 0:
				lead += text + " "
			default:
				acts[len(acts)-1].why += " " + text
			}
			continue
		}
		say, rest := text, ""
		if i := strings.Index(text, ". "); i > 0 && len(strings.Fields(text)) > mostWords {
			say, rest = text[:i+1], text[i+2:]
		}
		a := act{verb: word, say: say, why: rest, figures: way.Figures}
		for _, f := range way.Figures {
			if strings.Contains(text, f.Figure.Shown()) {
				a.numbers = append(a.numbers, Number{Name: f.Name, Figures: []calc.Figure{f.Figure}})
			}
		}
		acts = append(acts, a)
	}
	for i := range acts {
		if i == 0 {
			acts[i].why = lead + strings.TrimSpace(acts[i].why)
		}
		acts[i].why = strings.TrimSpace(acts[i].why)
	}
	return acts
}

func (m *mend) id() string           { return fmt.Sprintf("mend-%d", m.n) }
func (m *mend) tick(k int) string    { return fmt.Sprintf("mend.%d.%d", m.n, k+1) }
func (m *mend) last() (string, bool) { return m.tick(len(m.acts) - 1), len(m.acts) > 0 }

// step is the mend in the procedure. Its ticks follow each other.
func (q *quilt) mendStep(m *mend) Step {
	s := Step{ID: m.id(), Title: sentence(m.title), Measures: []Measure{}, Where: m.title}
	for k, a := range m.acts {
		v := verbs[a.verb]
		t := Tick{ID: m.tick(k), Label: v.done, Title: titled(a.say), Say: a.say, Why: a.why,
			Cuts: v.caution == "cutter", Caution: cautions[v.caution], Numbers: a.numbers, of: m.of, Scene: q.mendScene(m, a)}
		if t.Needs = m.needs; k > 0 {
			t.Needs = []string{m.tick(k - 1)}
		}
		if len(t.Numbers) > 0 {
			t.Number = t.Numbers[0].Shown()
		}
		t.seen = view{numbers: t.Numbers, of: q.basis}
		s.Ticks = append(s.Ticks, t)
	}
	return s
}

// atMiter is how acts begin that are done at a corner, wherever its mend stands.
var atMiter = []string{"Fold the corner", "Fold the border seams' allowances", "Pin across the line", "Sew from the dot to", "Sew from the dot over", "Look at the corner"}

// mendScene draws where the mend is done.
func (q *quilt) mendScene(m *mend, a act) draw.Scene {
	scene := draw.Scene{Edge: m.of["edge"], Edges: m.of.edges(), Corner: m.of.number("corner"), Border: max(m.of.number("border"), 1)}
	if scene.Edge == "" {
		scene.Edge = "left"
		if scene.Edges == calc.TopBottom {
			scene.Edge = "top"
		}
	}
	scene.Edges = pairOf(scene.Edge)
	scene.Second = scene.Edges != q.first
	v := verbs[a.verb]
	switch {
	case len(m.strips) > 0: // wherever it was asked about
		scene.Kind, scene.Corner = draw.StripScene, 0
		scene.Act, scene.Piece = q.stripAct(a, scene)
	case scene.Corner > 0 && slices.ContainsFunc(atMiter, func(begin string) bool { return strings.HasPrefix(a.say, begin) }):
		scene.Kind, scene.Act = draw.CornerScene, v.corner
		if strings.Contains(a.say, "allowances at the dot") {
			scene.Act = "turn"
		}
	case strings.HasPrefix(m.before, "sew-"):
		scene.Kind, scene.Act, scene.Corner = draw.EdgeScene, v.edge, 0
	case scene.Corner > 0:
		scene.Kind, scene.Act = draw.CornerScene, v.corner
	case slices.Contains([]string{"widths", "lengths"}, m.before):
		scene.Kind, scene.Act = draw.CenterScene, v.center(m.before)
	case strings.HasPrefix(m.before, "top-"):
		scene.Kind, scene.Act = draw.TopScene, strings.TrimPrefix(m.before, "top-")
	case m.before == "seam-test":
		scene.Kind, scene.Act = draw.TestScene, "sew"
	case a.verb == "Mark":
		scene.Kind, scene.Act = draw.StripScene, "ends"
	default:
		scene.Kind, scene.Act = draw.EdgeScene, v.edge
	}
	return scene
}

// stripAct is what an act does to a strip, and to which piece; nil where that is the
// plan's strip.
func (q *quilt) stripAct(a act, scene draw.Scene) (string, *draw.Piece) {
	switch {
	case verbs[a.verb].caution == "cutter":
		return q.pieceOf(a, scene)
	case a.verb == "Measure" || a.verb == "Mark":
		return "measure", nil
	case a.verb == "Press":
		return "join-press", nil
	}
	return "join", nil
}

// pieceOf is what an act of a joined piece cuts, and how; nil where that is the plan's
// strip.
func (q *quilt) pieceOf(a act, scene draw.Scene) (way string, p *draw.Piece) {
	strip := q.stripOf(scene.Border, scene.Edges)
	p = &draw.Piece{Wide: strip.CutWidth, Long: strip.CutLength}
	switch {
	case strings.HasPrefix(a.say, "Cut the strip back"):
		p.Off = a.figure("cut the strip back by")
		return "end", p
	case strings.HasPrefix(a.say, "Trim the join"):
		return "join-trim", nil
	case strings.HasPrefix(a.say, "Cut a piece"):
		p.Wide, p.Long = a.figure("piece, wide"), a.figure("piece, long")
		return "cut", p
	case strings.HasPrefix(a.say, "Trim the whole"):
		p.Long = a.figure("whole")
		return "end", p
	}
	return "cut", nil
}

// figure is one of the way that the act is of.
func (a act) figure(name string) (f calc.Figure) {
	for _, n := range a.figures {
		if n.Name == name {
			f = n.Figure
		}
	}
	return f
}

func pairOf(edge string) calc.Edges {
	return About{Edge: edge}.names().edges()
}

// insert puts the mends into the stages where they belong. One whose step is not there
// any more is left out.
func (q *quilt) insert(stages []Stage) {
	for _, m := range q.mends {
		last, ok := m.last()
		if !ok || !q.putIn(m, stages) {
			continue
		}
		for i := range stages {
			for j := range stages[i].Steps {
				ticks := stages[i].Steps[j].Ticks
				for k := range ticks {
					if slices.Contains(m.blocks, ticks[k].ID) {
						ticks[k].Needs = append(slices.Clone(ticks[k].Needs), last)
					}
				}
			}
		}
	}
}

func (q *quilt) putIn(m *mend, stages []Stage) bool {
	for i := range stages {
		for j := range stages[i].Steps {
			switch stages[i].Steps[j].ID {
			case m.before:
				stages[i].Steps = slices.Insert(stages[i].Steps, j, q.mendStep(m))
				return true
			case m.after:
				stages[i].Steps = slices.Insert(stages[i].Steps, j+1, q.mendStep(m))
				return true
			}
		}
	}
	return false
}

// pauses end the few words that an act is called by.
var pauses = []string{"from", "to", "by", "on", "until", "and", "in", "at", "between", "once", "over", "of", "what", "back", "through", "for", "if"}

// briefly are the first words of a command: at least what is done to what.
func briefly(say string) string {
	var words []string
	for _, word := range strings.Fields(say) {
		if slices.Contains(pauses, word) && len(words) > 1 || word[0] >= '0' && word[0] <= '9' || len(words) == 5 {
			break
		}
		words = append(words, strings.TrimRight(word, ",.:"))
		if strings.TrimRight(word, ",.:") != word {
			break
		}
	}
	return strings.Join(words, " ")
}
