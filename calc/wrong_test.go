package calc_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
)

// A worked example of something gone wrong: figures and ways out are reckoned by hand,
// in its words.
type worked struct {
	Plan    string `json:"plan"` // of testdata/plans
	Trouble string `json:"trouble"`
	Entered struct {
		Border  int               `json:"border"`
		Edges   calc.Edges        `json:"edges"`
		Lengths map[string]string `json:"lengths"`
	} `json:"entered"`
	Reckoning []string          `json:"reckoning"`
	Kind      string            `json:"kind"`
	Say       []string          `json:"say"`
	Figures   map[string]string `json:"figures"`
	Ways      []struct {
		Kind    string            `json:"kind"`
		Figures map[string]string `json:"figures"`
		Redo    []string          `json:"redo"`
	} `json:"ways"`
}

func shown(list []calc.Named) map[string]string {
	m := map[string]string{}
	for _, f := range list {
		m[f.Name] = f.Figure.Shown()
	}
	return m
}

func sameFigures(a, b map[string]string) bool {
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	return string(x) == string(y)
}

func TestEveryTroubleHasItsWorkedExample(t *testing.T) {
	for _, trouble := range calc.Troubles() {
		t.Run(trouble.ID, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join("../testdata/wrong", trouble.ID+".json"))
			if err != nil {
				t.Fatal(err)
			}
			var w worked
			if err := json.Unmarshal(text, &w); err != nil {
				t.Fatal(err)
			}
			plan, err := os.ReadFile(filepath.Join("../testdata/plans", w.Plan+".json"))
			if err != nil {
				t.Fatal(err)
			}
			p := planOf(t, string(plan))
			in := calc.Entered{Border: w.Entered.Border, Edges: w.Entered.Edges, Lengths: map[string]calc.Length{}}
			for id, written := range w.Entered.Lengths {
				in.Lengths[id] = length(t, written)
			}
			got := trouble.Answer(p, calc.NewSheet(p), in, calc.DefaultLimits(p.Unit))
			if w.Trouble != trouble.ID || len(w.Reckoning) == 0 {
				t.Errorf("the example is of %q with %d lines of reckoning", w.Trouble, len(w.Reckoning))
			}
			if got.Kind != w.Kind || !sameFigures(shown(got.Figures), w.Figures) {
				t.Errorf("%v = %s, %v; want %s, %v", w.Entered, got.Kind, shown(got.Figures), w.Kind, w.Figures)
			}
			if !slices.Equal(got.Say, w.Say) {
				said, _ := json.MarshalIndent(got.Say, "  ", "  ")
				t.Errorf("%v says %s; want %q", w.Entered, said, w.Say)
			}
			if len(got.Ways) != len(w.Ways) {
				t.Fatalf("%v: %d ways out, %+v; want %d", w.Entered, len(got.Ways), got.Ways, len(w.Ways))
			}
			for i, want := range w.Ways {
				way := got.Ways[i]
				if way.Kind != want.Kind || !sameFigures(shown(way.Figures), want.Figures) || !slices.Equal(way.Redo, want.Redo) || len(way.Acts) == 0 {
					t.Errorf("way %d is %s, %v, opens %q; want %s, %v, %q", i, way.Kind, shown(way.Figures), way.Redo, want.Kind, want.Figures, want.Redo)
				}
			}
		})
	}
}

func TestTroublesAreSound(t *testing.T) {
	list := calc.Troubles()
	if len(list) != 10 {
		t.Errorf("%d troubles; the trade has ten", len(list))
	}
	p := planOf(t, lanterns)
	for _, x := range list {
		if !strings.Contains(x.Title, "?") {
			t.Errorf("%s: %q is no question", x.ID, x.Title)
		}
		if found, ok := calc.TroubleOf(x.ID); !ok || found.Title != x.Title {
			t.Errorf("TroubleOf(%s) = %q, %v", x.ID, found.Title, ok)
		}
		needs := 0
		for _, a := range x.Asks {
			if a.Needed {
				needs++
			}
		}
		got := x.Answer(p, calc.NewSheet(p), calc.Entered{}, usual)
		if len(got.Missing) != needs || (needs > 0) != (got.Kind == "ask") {
			t.Errorf("%s with nothing entered: %s, missing %q; want the %d that it needs", x.ID, got.Kind, got.Missing, needs)
		}
	}
	if _, ok := calc.TroubleOf("rain"); ok {
		t.Error("TroubleOf(rain) is there")
	}
}

// Measures as planned are no trouble: nothing is to be done.
func TestNoTroubleWhereAllIsAsPlanned(t *testing.T) {
	p := planOf(t, lanterns)
	s := calc.NewSheet(p)
	diagonal := calc.Hypot(s.Raw.Width.Length, s.Raw.Length.Length)
	in := calc.Entered{Border: 2, Edges: calc.Sides, Lengths: map[string]calc.Length{
		"length": stripOf(t, s, 2, calc.Sides).CutLength.Length, "across": calc.NewSeamTest(p).Across.Length, "band": p.Center.Length,
		"top-width-top": s.Raw.Width.Length, "top-width-bottom": s.Raw.Width.Length, "top-length-left": s.Raw.Length.Length, "top-length-right": s.Raw.Length.Length,
		"top-diagonal-1": diagonal, "top-diagonal-2": diagonal,
	}}
	for id, kind := range map[string]string{"short-strip": calc.Right, "allowance": calc.Right, "band-length": calc.Right, "out-of-square": calc.Rectangle} {
		x, _ := calc.TroubleOf(id)
		if got := x.Answer(p, s, in, usual); got.Kind != kind || len(got.Ways) != 0 {
			t.Errorf("%s as planned: %s, ways out %+v; want %s and none", id, got.Kind, got.Ways, kind)
		}
	}
}

// What is missing is asked for, whatever else was entered.
func TestAStripIsNamedByItsBorderAndItsEdges(t *testing.T) {
	p := planOf(t, lanterns)
	x, _ := calc.TroubleOf("short-strip")
	long := map[string]calc.Length{"length": length(t, "60")}
	for _, c := range []struct {
		name string
		in   calc.Entered
		ask  bool
	}{
		{"the first border", calc.Entered{Border: 1, Edges: calc.Sides, Lengths: long}, false},
		{"the last border", calc.Entered{Border: 2, Edges: calc.Sides, Lengths: long}, false},
		{"no border", calc.Entered{Edges: calc.Sides, Lengths: long}, true},
		{"a border that is not there", calc.Entered{Border: 3, Edges: calc.Sides, Lengths: long}, true},
		{"no edges", calc.Entered{Border: 1, Lengths: long}, true},
	} {
		got := x.Answer(p, calc.NewSheet(p), c.in, usual)
		if (got.Kind == "ask") != c.ask || c.ask && !slices.Equal(got.Missing, []string{"strip"}) {
			t.Errorf("%s: %s, missing %q; want asked for the strip: %t", c.name, got.Kind, got.Missing, c.ask)
		}
	}
}

// Without the miter's length nothing is compared; with it, up to 1/8 in off (cp) its angle
// is right and can't be the cause any more.
func TestAMiterIsComparedWithItsLength(t *testing.T) {
	p := planOf(t, one("36 1/2", "36 1/2", "3 1/2", "4")) // bands of 3: √18 = 4.2426
	s := calc.NewSheet(p)
	x, _ := calc.TroubleOf("not-flat")
	line := s.Corner.FinishedLine.Length
	for _, c := range []struct {
		name          string
		line          calc.Length
		figures, ways int
		says          string
	}{
		{"not measured", calc.Length{}, 1, 3, ""},
		{"as long as it should be", line, 3, 2, "the angle is right"},
		{"1/8 in more", line.Add(length(t, "1/8")), 3, 2, "the angle is right"},
		{"3/16 in less", line.Sub(length(t, "3/16")), 3, 3, "Yours is off by 3/16 in: the angle is wrong."},
	} {
		got := x.Answer(p, s, calc.Entered{Lengths: map[string]calc.Length{"line": c.line}}, usual)
		if len(got.Figures) != c.figures || len(got.Ways) != c.ways || !strings.Contains(strings.Join(got.Say, " "), c.says) {
			t.Errorf("%s: %q, %d figures, %d ways; want %q, %d, %d", c.name, got.Say, len(got.Figures), len(got.Ways), c.says, c.figures, c.ways)
		}
	}
}

// Sewn on by a whole allowance the seam runs out over the raw edge.
func TestASeamThatRunsOutOverTheEdge(t *testing.T) {
	p := planOf(t, lanterns)
	x, _ := calc.TroubleOf("past-dot")
	for past, says := range map[string]string{"3/16": "3/16 in past it, 1/16 in from the raw edge", "1/4": "runs out over the raw edge", "1/2": "runs out over the raw edge"} {
		got := x.Answer(p, calc.NewSheet(p), calc.Entered{Edges: calc.Sides, Lengths: map[string]calc.Length{"past": length(t, past)}}, usual)
		if !strings.Contains(strings.Join(got.Say, " "), says) {
			t.Errorf("%s past the dot: %q; want %q", past, got.Say, says)
		}
	}
}

// Strips that are too short for the center as it is now make the answer, and the rest of
// them stay named.
func TestATrimmedCenterWithAShortStrip(t *testing.T) {
	p := planOf(t, one("36", "36", "4", "2"))
	x, _ := calc.TroubleOf("center-trimmed")
	// The center grew to 40: the least is 40 + 8 − 0.29289, and a side strip has 46.
	got := x.Answer(p, calc.NewSheet(p), calc.Entered{Lengths: map[string]calc.Length{"width": length(t, "36"), "length": length(t, "40")}}, usual)
	if got.Kind != calc.Short || len(got.Say) != 2 || len(got.Ways) == 0 {
		t.Errorf("a center of 36 x 40 for strips of 46: %s, %q, %d ways; want %s, a sentence a pair and ways out", got.Kind, got.Say, len(got.Ways), calc.Short)
	}
}

// What is seen at a corner is answered in full, lists of nothing included.
func TestALookIsAnswered(t *testing.T) {
	p := planOf(t, lanterns)
	s := calc.NewSheet(p)
	for _, look := range calc.Looks {
		a, pass := calc.AnswerLook(p, s, look, length(t, "1/4"), usual)
		if a.Figures == nil || a.Ways == nil || len(a.Say) == 0 || pass != (look == calc.LookFlat) {
			t.Errorf("%s: %+v, pass %t; want lists, words, and a pass of what is flat only", look, a, pass)
		}
		if (len(a.Ways) > 0) == pass {
			t.Errorf("%s: %d ways out; want some where it does not pass", look, len(a.Ways))
		}
	}
}
