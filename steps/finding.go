package steps

import (
	"fmt"
	"reflect"
	"strings"

	"cornerwise/calc"
)

// A Finding is what was found out from measures: what is so, the figures it rests on,
// and the ways out, whose Redo are ticks of this session.
type Finding struct {
	Of    string `json:"of"` // what it is about: "width", "strip-1-left", "corner-2"
	Title string `json:"title"`
	About
	calc.Answer
}

// A found is a finding and the step that it stands on.
type found struct {
	step string
	Finding
}

// finders look at all that was measured; one file each.
var finders = []func(*Work, readings) []found{foundCenter, foundCoping, foundStrips, foundBands, foundSeam, foundEdges, foundCorners, foundTop}

// readings are all values entered so far, by measure id.
type readings struct {
	values map[string]string
	unit   calc.Unit
}

func (t readings) has(id string) bool { return t.values[id] != "" }

func (t readings) hasAny(prefix string) bool {
	for id := range t.values {
		if strings.HasPrefix(id, prefix) {
			return true
		}
	}
	return false
}

// length is a measured length; 0: not entered.
func (t readings) length(id string) calc.Length {
	if !t.has(id) {
		return calc.Length{}
	}
	l, err := calc.ParseLength(t.values[id], t.unit)
	if err != nil {
		return calc.Length{} // kept by an older program; measure refuses it now
	}
	return l
}

func (t readings) three(prefix string, ids ...string) (l [3]calc.Length) {
	for i, id := range ids {
		l[i] = t.length(prefix + id)
	}
	return l
}

// whole is a top or center as measured; prefix is "" or "top-".
func (t readings) whole(prefix string) calc.Measured {
	return calc.Measured{
		Widths:    t.three(prefix+"width-", "top", "middle", "bottom"),
		Lengths:   t.three(prefix+"length-", "left", "middle", "right"),
		Diagonals: [2]calc.Length{t.length(prefix + "diagonal-1"), t.length(prefix + "diagonal-2")},
	}
}

func (w *Work) readings() readings { return readings{w.measured(), w.Plan.Unit} }

func (w *Work) limits() calc.Limits { return w.Plan.Limits }

// find is the Work with its findings worked out anew. Steps whose findings stay as they
// were are shared.
func (w *Work) find() *Work {
	all := map[string][]Finding{}
	values := w.readings()
	for _, finder := range finders {
		for _, f := range finder(w, values) {
			all[f.step] = append(all[f.step], f.Finding)
		}
	}
	next := w
	for i := range w.Stages {
		for j := range w.Stages[i].Steps {
			is := all[w.Stages[i].Steps[j].ID]
			if was := w.Stages[i].Steps[j].Findings; len(is)+len(was) == 0 || reflect.DeepEqual(is, was) {
				continue
			}
			var step *Step
			next, step = next.clone(position{i, j, 0})
			step.Findings = is
		}
	}
	return next
}

// answerOf is a trouble's answer with what was measured.
func (w *Work) answerOf(id string, in calc.Entered) calc.Answer {
	t, _ := calc.TroubleOf(id)
	in.First = w.edition == 1
	return t.Answer(w.built.plan, w.Sheet, in, w.limits())
}

// redoIn gives the ways ids and fills the names of their ticks, an {edge} that is not known
// with both edges of the pair. What this session does not have, or can't tell, is left out.
func (w *Work) redoIn(a calc.Answer, n names) calc.Answer {
	ways, kinds := make([]calc.WayOut, len(a.Ways)), map[string]int{}
	for i, way := range a.Ways {
		var ids []string
		for _, id := range way.Redo {
			for _, full := range n.each(id) {
				if _, t := w.Tick(full); t != nil {
					ids = append(ids, full)
				}
			}
		}
		way.Redo = ids
		if way.ID = way.Kind; kinds[way.Kind] > 0 {
			way.ID = fmt.Sprintf("%s-%d", way.Kind, kinds[way.Kind]+1)
		}
		kinds[way.Kind]++
		ways[i] = way
	}
	a.Ways = ways
	return a
}

// each is an id filled in, for every edge of the pair where only the pair is known.
func (n names) each(id string) []string {
	for _, name := range []string{"corner", "border", "edge"} {
		if !strings.Contains(id, "{"+name+"}") || n[name] != "" {
			continue
		}
		if name == "edge" && n["edges"] != "" {
			var ids []string
			for _, edge := range edgesOf(n.edges()) {
				ids = append(ids, n.with(edge).fill(id))
			}
			return ids
		}
		if name == "edge" && n["corner"] == "" {
			var ids []string
			for _, edge := range everyEdge(nil, nil) {
				ids = append(ids, n.with(edge).fill(id))
			}
			return ids
		}
		return nil
	}
	return []string{n.fill(id)}
}

// answer puts a verdict and its figures into an answer without ways out.
func answer(v calc.Verdict, figures ...calc.Named) calc.Answer {
	say := []string{v.Text}
	if v.Act != "" {
		say = append(say, v.Act)
	}
	if figures == nil {
		figures = []calc.Named{}
	}
	return calc.Answer{Kind: v.Kind, Say: say, Figures: figures, Ways: []calc.WayOut{}}
}
