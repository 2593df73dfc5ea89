package steps

import (
	"fmt"
	"slices"
	"strconv"

	"cornerwise/calc"
)

// A Wrong is a question at the machine, with what this session knows of it already.
type Wrong struct {
	calc.Trouble
	Likely bool              `json:"likely"` // where the person stands; these come first
	Values map[string]string `json:"values"` // by ask id, as measured
	About
}

// An About says which strip, edge or corner. What does not matter is left out; Edge
// implies Edges.
type About struct {
	Border int        `json:"border,omitempty"` // 1 is innermost
	Edge   string     `json:"edge,omitempty"`   // left, right, top, bottom
	Edges  calc.Edges `json:"edges,omitempty"`
	Corner int        `json:"corner,omitempty"` // 1 to 4
}

// An Asked is what a person answers to a wrong's asks: lengths as written, by ask id.
type Asked struct {
	About
	Values map[string]string `json:"values,omitempty"`
}

// troubles are, for each of calc's, the stages where it is likely, and the measures that
// its asks are known from.
var troubles = map[string]struct {
	stages []string
	known  map[string]string // measure by ask
}{
	"short-strip":    {[]string{"cut", "mark"}, map[string]string{"length": "cut-{border}-{edge}-length", "width": "cut-{border}-{edge}-width"}},
	"center-trimmed": {[]string{"cut", "mark"}, map[string]string{"width": "size-width", "length": "size-length"}},
	"allowance":      {[]string{"sew"}, map[string]string{"across": "seam-across"}},
	"past-dot":       {[]string{"sew", "miter"}, nil},
	"upside-down":    {[]string{"sew"}, nil},
	"caught-tail":    {[]string{"sew", "miter"}, nil},
	"trimmed-wrong":  {[]string{"miter", "press"}, nil},
	"band-length":    {[]string{"mark", "sew"}, map[string]string{"band": "edge-{edge}"}},
	"pleat":          {[]string{"miter", "press"}, nil},
	"hole":           {[]string{"miter", "press"}, nil},
	"stripes-miss":   {[]string{"miter", "press"}, map[string]string{"miss": "miss-{corner}"}},
	"not-flat":       {[]string{"miter", "press"}, nil},
	"out-of-square": {[]string{"press"}, map[string]string{
		"top-width-top": "top-width-top", "top-width-middle": "top-width-middle", "top-width-bottom": "top-width-bottom",
		"top-length-left": "top-length-left", "top-length-middle": "top-length-middle", "top-length-right": "top-length-right",
		"top-diagonal-1": "top-diagonal-1", "top-diagonal-2": "top-diagonal-2"}},
}

// Wrongs are all that may have gone wrong, as seen from a step: what is likely there
// first, else in the order of the work. For an unknown step all in order.
func Wrongs(w *Work, step string) []Wrong {
	var all []Wrong
	stage, here := w.Step(step)
	about := About{}
	if here != nil {
		about = aboutOf(here.Ticks[0].of)
	}
	for _, t := range w.Plan.Troubles() {
		t = w.asked(t)
		wrong := Wrong{Trouble: t, About: about, Values: w.known(t.ID, about)}
		wrong.Likely = stage != nil && slices.Contains(troubles[t.ID].stages, stage.ID)
		all = append(all, wrong)
	}
	slices.SortStableFunc(all, func(a, b Wrong) int {
		switch {
		case a.Likely == b.Likely:
			return 0
		case a.Likely:
			return -1
		}
		return 1
	})
	return all
}

// TroubleOn is the trouble with this id in the words of this session.
func TroubleOn(w *Work, id string) (calc.Trouble, bool) {
	t, ok := w.Plan.TroubleOn(id)
	return w.asked(t), ok
}

// asked is a trouble as it is asked of the work as it stands.
func (w *Work) asked(t calc.Trouble) calc.Trouble {
	if w.copingOn() {
		return t.Coped()
	}
	return t
}

// copingOn tells whether both coping strips are sewn to the center.
func (w *Work) copingOn() bool {
	if w.built.plan.Coping == nil {
		return false
	}
	for _, n := range edgesOf(w.built.plan.Coping.Edges) {
		if !w.done(n.fill("coping.{edge}.sewn")) {
			return false
		}
	}
	return true
}

func aboutOf(n names) About {
	return About{n.number("border"), n["edge"], n.edges(), n.number("corner")}
}

// hasEnd tells whether the corner is one of the edge's two ends.
func (a About) hasEnd() bool {
	n := About{Edge: a.Edge}.names()
	c := strconv.Itoa(a.Corner)
	return a.Corner > 0 && (c == n["cornerA"] || c == n["cornerB"])
}

// names are the edge, border and corner, for filling ids in.
func (a About) names() names {
	n := names{}
	for _, e := range everyEdge(nil, nil) {
		if e["edge"] == a.Edge {
			n = e
		}
	}
	if a.Corner >= 1 && a.Corner <= len(corners) {
		n = n.with(everyCorner(nil, nil)[a.Corner-1])
	}
	if a.Border > 0 {
		n["border"] = strconv.Itoa(a.Border)
	}
	if a.Edge == "" && a.Edges != "" {
		n["edges"] = string(a.Edges)
	}
	return n
}

// known are the measures that a trouble asks for.
func (w *Work) known(trouble string, about About) map[string]string {
	values, measured := map[string]string{}, w.measured()
	for ask, id := range troubles[trouble].known {
		for _, full := range about.names().each(id) {
			if measured[full] != "" {
				values[ask] = measured[full]
			}
		}
	}
	if trouble == "center-trimmed" && w.copingOn() {
		along := copedAlong[w.built.plan.Coping.Edges]
		if delete(values, along); measured["coped-"+along] != "" {
			values[along] = measured["coped-"+along]
		}
	}
	return values
}

// Answer answers what has gone wrong in this session's own numbers; what was measured
// already need not be said again. Its ways open ticks of this session. The error is a
// *Refusal: no such question, no such strip, or what is no length.
func Answer(w *Work, wrong string, asked Asked) (calc.Answer, error) {
	return w.answer(wrong, asked, false)
}

// answer is Answer; anyEnd: which end of an edge is not asked.
func (w *Work) answer(wrong string, asked Asked, anyEnd bool) (calc.Answer, error) {
	t, ok := calc.TroubleOf(wrong)
	if !ok {
		return calc.Answer{}, unknown(UnknownWrong, "wrong", wrong)
	}
	if err := w.has(asked.About); err != nil {
		return calc.Answer{}, err
	}
	n := asked.names()
	in := calc.Entered{Border: asked.Border, Edges: n.edges(), Corner: asked.Corner, AnyEnd: anyEnd, Coped: w.copingOn(), First: w.edition == 1, Sewn: n["edge"] != "" && w.done(n.fill("sew.{edge}.sewn")), Lengths: map[string]calc.Length{}}
	ends := []string{n["corner"]}
	if anyEnd || slices.ContainsFunc(t.Asks, func(a calc.Ask) bool { return a.Kind == "edges" }) && !asked.hasEnd() {
		in.Corner, ends = 0, nil
	}
	if n["corner"] == "" || wrong == "upside-down" {
		ends = []string{n["cornerA"], n["cornerB"]}
	}
	for _, c := range ends {
		in.Mitered = in.Mitered || w.done("miter."+c+".sewn")
		in.Trimmed = in.Trimmed || w.done("miter."+c+".trimmed")
	}
	values := w.known(wrong, asked.About)
	for id, v := range asked.Values {
		values[id] = v
	}
	for _, ask := range t.Asks {
		if v := values[ask.ID]; v != "" {
			if l, err := calc.ParseLength(v, w.Plan.Unit); err == nil && l.Sign() == 0 && ask.ID == "left" {
				in.Lengths[ask.ID] = l // nothing is left: that is an answer
				continue
			}
			l, err := w.length(v)
			if err != nil {
				err.Field = ask.ID
				return calc.Answer{}, err
			}
			in.Lengths[ask.ID] = l
		}
	}
	if wrong == "center-trimmed" {
		for _, c := range w.cutStrips(w.readings()) {
			in.Strips = append(in.Strips, calc.CutStrip{Border: c.number("border"), Edges: c.edges(), Width: c.width, Length: c.length})
		}
	}
	a := t.Answer(w.built.plan, w.Sheet, in, w.limits())
	if in.Corner == 0 && slices.Equal(a.Missing, []string{"corner"}) && asked.Corner > 0 && asked.Edge != "" {
		a.Say = []string{n.fill(fmt.Sprintf("Corner %d is not on the {edge} edge. Its ends are corners {cornerA} and {cornerB}: say at which.", asked.Corner))}
	}
	return w.redoIn(a, n), nil
}

// has refuses a strip, edge or corner that no top of this plan has.
func (w *Work) has(a About) error {
	n := len(w.Plan.Borders)
	switch {
	case a.Border < 0 || a.Border > n:
		return &Refusal{Code: BadValue, Field: "border", Message: fmt.Sprintf("There is no border %d here: 1 is the innermost, %d the last.", a.Border, n)}
	case a.Edge != "" && a.names()["edge"] == "":
		return &Refusal{Code: BadValue, Field: "edge", Message: fmt.Sprintf("%.40q is no edge. Say left, right, top or bottom.", a.Edge)}
	case a.Edges != "" && a.Edges != calc.Sides && a.Edges != calc.TopBottom:
		return &Refusal{Code: BadValue, Field: "edges", Message: fmt.Sprintf("%.40q is no pair of edges. Say sides or topBottom.", a.Edges)}
	case a.Corner < 0 || a.Corner > len(corners):
		return &Refusal{Code: BadValue, Field: "corner", Message: fmt.Sprintf("There is no corner %d. They are 1 to 4, clockwise from the top left.", a.Corner)}
	}
	return nil
}
