package steps_test

import (
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

func TestEveryTroubleIsReachedFromEveryStep(t *testing.T) {
	w := begin(t, plans["two borders"])
	// All is measured, so that what a trouble knows from it is known.
	for _, m := range measures(w) {
		if m.Expect != nil {
			w = entered(t, w, m.ID, m.Expect.Value())
		}
	}
	likely := map[string]bool{}
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			all := steps.Wrongs(w, step.ID)
			if len(all) != len(calc.Troubles()) {
				t.Errorf("from %s: %d troubles, want all %d", step.ID, len(all), len(calc.Troubles()))
			}
			for i, wrong := range all {
				likely[wrong.ID] = likely[wrong.ID] || wrong.Likely
				if i > 0 && wrong.Likely && !all[i-1].Likely {
					t.Errorf("from %s: %s is likely and stands after %s, which is not", step.ID, wrong.ID, all[i-1].ID)
				}
				for ask := range wrong.Values {
					if !slices.ContainsFunc(wrong.Asks, func(a calc.Ask) bool { return a.ID == ask }) {
						t.Errorf("%s knows %s, which it does not ask for", wrong.ID, ask)
					}
				}
			}
		}
	}
	for _, trouble := range calc.Troubles() {
		if !likely[trouble.ID] {
			t.Errorf("%s is likely nowhere", trouble.ID)
		}
	}
	w = entered(t, w, "miss-3", "1/4")
	for step, want := range map[string]string{"cut-1-sides": "short-strip", "corner-3": "past-dot", "sew-left": "allowance", "top-widths": "pleat", "moon": "short-strip"} {
		if all := steps.Wrongs(w, step); all[0].ID != want {
			t.Errorf("from %s: the first is %s, want %s", step, all[0].ID, want)
		}
	}
	for _, wrong := range steps.Wrongs(w, "corner-3") {
		if wrong.Corner != 3 || wrong.ID == "stripes-miss" && wrong.Values["miss"] != "1/4" {
			t.Errorf("from corner 3: %s is about corner %d and knows %v, want 3 and the miss", wrong.ID, wrong.Corner, wrong.Values)
		}
	}
}

func TestATroubleIsAnsweredWithThisSessionsNumbers(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "cut.1.bottom.ready")
	w = enterAll(t, w, "cut-1-left-length 59", "edge-top 37 1/4")
	for name, c := range map[string]struct {
		wrong  string
		asked  steps.Asked
		kind   string
		says   string
		redo   []string
		figure [2]string
	}{
		// Least: 48 1/2 + 11 - 0.2929 (derived), so 59 is 0.21 short.
		"a strip too short, as measured": {"short-strip", steps.Asked{About: steps.About{Border: 1, Edge: "left"}}, calc.Short, "Too short by 1/4 in", []string{"cut.1.left.measured"}, [2]string{"too short by", "1/4 in"}},
		"a strip measured again":         {"short-strip", steps.Asked{About: steps.About{Border: 1, Edge: "left"}, Values: map[string]string{"length": "60"}}, calc.Covers, "a tail of 5 3/4 in", nil, [2]string{}},
		"a center trimmed after cutting": {"center-trimmed", steps.Asked{Values: map[string]string{"width": "36", "length": "48"}}, calc.Right, "All strips are long enough", []string{"mark.left.ends", "mark.right.ends", "mark.top.ends", "mark.bottom.ends"}, [2]string{"middle to end, sides", "24 in"}},
		"an allowance to test":           {"allowance", steps.Asked{}, "ask", "Measure first", nil, [2]string{}},
		"an allowance tested":            {"allowance", steps.Asked{Values: map[string]string{"across": "3 9/16"}}, calc.Scant, "0.234 in", []string{"test.measured"}, [2]string{"this top is off by", "1/16 in"}},
		"sewn past the dot":              {"past-dot", steps.Asked{About: steps.About{Edge: "top", Corner: 1}, Values: map[string]string{"past": "1/8"}}, "past", "1/8 in past it", []string{"miter.1.folded"}, [2]string{"middle to dot", "18 in"}},
		"a band too long, as measured":   {"band-length", steps.Asked{About: steps.About{Edge: "top"}}, calc.Wavy, "3/4 in longer", []string{"mark.top.ends"}, [2]string{"off by", "3/4 in"}},
		"sewn past a dot at no end":      {"past-dot", steps.Asked{About: steps.About{Edge: "top"}, Values: map[string]string{"past": "1/8"}}, "ask", "Say first: at which end", nil, [2]string{}},
		"past a dot of another edge":     {"past-dot", steps.Asked{About: steps.About{Edge: "top", Corner: 3}, Values: map[string]string{"past": "1/8"}}, "ask", "Corner 3 is not on the top edge. Its ends are corners 1 and 2", nil, [2]string{}},
		"a caught tail":                  {"caught-tail", steps.Asked{About: steps.About{Edge: "left", Corner: 1}}, "caught", "can't be mitered", []string{"miter.1.folded"}, [2]string{"middle to dot", "24 in"}},
		"upside down":                    {"upside-down", steps.Asked{About: steps.About{Border: 1, Edge: "left"}}, "turned", "mirror at the corners", []string{"mark.left.middle"}, [2]string{"cut width", "5 1/2 in"}},
		"trimmed and wrong":              {"trimmed-wrong", steps.Asked{About: steps.About{Corner: 2}}, "trimmed", "unpicked and sewn again", []string{"miter.2.folded"}, [2]string{"the line can move by", "1/8 in"}},
		"a pleat":                        {"pleat", steps.Asked{About: steps.About{Corner: 2}}, "pleat", "sewn in", []string{"miter.2.turned"}, [2]string{}},
		"a hole":                         {"hole", steps.Asked{About: steps.About{Corner: 2}}, "gap", "short of the dot", []string{"miter.2.looked"}, [2]string{}},
		"stripes that miss":              {"stripes-miss", steps.Asked{About: steps.About{Corner: 4}, Values: map[string]string{"miss": "1/4"}}, "stripes", "They miss by 1/4 in", []string{"miter.4.folded"}, [2]string{"miss", "1/4 in"}},
		"a corner that stands up":        {"not-flat", steps.Asked{About: steps.About{Corner: 1}}, "not-flat", "true diagonal", []string{"miter.1.folded"}, [2]string{"miter, dot to raw outer edge", "7 7/16 in"}},
		"a top out of square":            {"out-of-square", steps.Asked{Values: map[string]string{"top-width-top": "46 1/2", "top-width-middle": "46 1/2", "top-width-bottom": "46 1/2", "top-length-left": "58 1/2", "top-length-middle": "58 1/2", "top-length-right": "58 1/2", "top-diagonal-1": "75", "top-diagonal-2": "74 1/2"}}, calc.Leaning, "It leans", []string{"top.diagonals"}, [2]string{"diagonals apart", "1/2 in"}},
	} {
		a, err := steps.Answer(w, c.wrong, c.asked)
		if err != nil {
			t.Errorf("%s: got %v", name, err)
			continue
		}
		var redo []string
		for _, way := range a.Ways {
			if redo == nil {
				redo = way.Redo
			}
		}
		if a.Kind != c.kind || !strings.Contains(strings.Join(a.Say, " "), c.says) || !slices.Equal(redo, c.redo) {
			t.Errorf("%s: got %s %q, opening %q; want %s with %q, opening %q", name, a.Kind, a.Say, redo, c.kind, c.says, c.redo)
		}
		if got := figureOf(steps.Finding{Answer: a}, c.figure[0]); got != c.figure[1] {
			t.Errorf("%s: %s is %q, want %s", name, c.figure[0], got, c.figure[1])
		}
	}
}

func TestATroubleThatIsNoneIsRefused(t *testing.T) {
	w := begin(t, plans["one border"])
	for name, c := range map[string]struct {
		wrong string
		asked steps.Asked
		field string
	}{
		"no such question":  {"moth", steps.Asked{}, "wrong"},
		"no such border":    {"short-strip", steps.Asked{About: steps.About{Border: 2}}, "border"},
		"no such edge":      {"short-strip", steps.Asked{About: steps.About{Border: 1, Edge: "north"}}, "edge"},
		"no such pair":      {"band-length", steps.Asked{About: steps.About{Edges: "all"}}, "edges"},
		"no such corner":    {"pleat", steps.Asked{About: steps.About{Corner: 5}}, "corner"},
		"what is no length": {"allowance", steps.Asked{Values: map[string]string{"across": "wide"}}, "across"},
		"far too long":      {"allowance", steps.Asked{Values: map[string]string{"across": "2000"}}, "across"},
	} {
		_, err := steps.Answer(w, c.wrong, c.asked)
		if r, ok := err.(*steps.Refusal); !ok || r.Field != c.field || r.Clash() || len(r.Message) < 10 {
			t.Errorf("%s: got %v, want it refused on %s with a sentence", name, err, c.field)
		}
	}
}

// Once both coping strips are on, the center is asked for and known with them.
func TestACopedCenterIsAskedForWithItsStrips(t *testing.T) {
	w := walk(t, begin(t, plans["coping on top"]), "coping.measured")
	asks := func(w *steps.Work) (string, map[string]string) {
		for _, x := range steps.Wrongs(w, "") {
			if x.ID == "center-trimmed" {
				return x.Asks[1].Label, x.Values
			}
		}
		return "", nil
	}
	w = entered(t, w, "coped-length", "52 3/8")
	label, known := asks(w)
	if label != "Center's length now, with its coping strips" || known["length"] != "52 3/8" {
		t.Errorf("with the strips on: asks for %q, knows %v; want it with them, 52 3/8", label, known)
	}
	if label, _ = asks(begin(t, plans["coping on top"])); strings.Contains(label, "coping") {
		t.Errorf("before they are sewn: asks for %q", label)
	}
	// (derived) 36 1/2 x 48 1/2 with two strips of 2 1/2 is 52 1/2; trimmed to 52 a side's
	// marks lie 26 in from its middle.
	a, err := steps.Answer(w, "center-trimmed", steps.Asked{Values: map[string]string{"width": "36 1/2", "length": "52"}})
	if got := figureOf(steps.Finding{Answer: a}, "middle to end, sides"); err != nil || got != "26 in" {
		t.Errorf("trimmed to 52 with its strips: marks at %s, %v; want 26 in", got, err)
	}
}
