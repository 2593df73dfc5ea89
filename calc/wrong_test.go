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
		Corner  int               `json:"corner"`
		Mitered bool              `json:"mitered"`
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
			in := calc.Entered{Border: w.Entered.Border, Edges: w.Entered.Edges, Corner: w.Entered.Corner, Mitered: w.Entered.Mitered, Lengths: map[string]calc.Length{}}
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
	if len(list) != 13 {
		t.Errorf("%d troubles; want 13", len(list))
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
	line := s.Corner.DrawnLineSides.Length // √18 × 3 1/4 ÷ 3, to the raw edge
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
		got := x.Answer(p, calc.NewSheet(p), calc.Entered{Edges: calc.Sides, Corner: 1, Lengths: map[string]calc.Length{"past": length(t, past)}}, usual)
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
	if got.Kind != calc.Short || len(got.Say) != 3 || len(got.Ways) == 0 {
		t.Errorf("a center of 36 x 40 for strips of 46: %s, %q, %d ways; want %s, the size asked about, a sentence a pair and ways out", got.Kind, got.Say, len(got.Ways), calc.Short)
	}
}

// What is seen at a corner is answered in full, lists of nothing included.
func TestALookIsAnswered(t *testing.T) {
	p := planOf(t, lanterns)
	s := calc.NewSheet(p)
	for _, look := range calc.Looks {
		a, pass := calc.AnswerLook(p, s, look, 1, length(t, "1/4"), usual)
		if a.Figures == nil || a.Ways == nil || len(a.Say) == 0 || pass != (look == calc.LookFlat) {
			t.Errorf("%s: %+v, pass %t; want lists, words, and a pass of what is flat only", look, a, pass)
		}
		if (len(a.Ways) > 0) == pass {
			t.Errorf("%s: %d ways out; want some where it does not pass", look, len(a.Ways))
		}
	}
}

// Where the miter of that end is sewn, its beginning is unpicked first and the corner done
// again; where it is not, nothing of a corner is told. The other end is left alone.
func TestWhatIsWrongAtOneEndStaysThere(t *testing.T) {
	p := planOf(t, one("36 1/2", "48 1/2", "5 1/2", "4"))
	s := calc.NewSheet(p)
	for _, id := range []string{"past-dot", "caught-tail"} {
		x, _ := calc.TroubleOf(id)
		for _, mitered := range []bool{false, true} {
			in := calc.Entered{Edges: calc.Sides, Corner: 2, Mitered: mitered, Lengths: map[string]calc.Length{"past": length(t, "1/8")}}
			way := x.Answer(p, s, in, usual).Ways[0]
			if !slices.Equal(way.Redo, []string{"miter.{corner}.folded"}) || strings.HasPrefix(way.Acts[0], "Unpick the miter") != mitered || (len(way.Then) > 0) != mitered {
				t.Errorf("%s, mitered %v: %+v; want that corner, its miter unpicked first where it is sewn", id, mitered, way)
			}
		}
		in := calc.Entered{Edges: calc.Sides, Lengths: map[string]calc.Length{"past": length(t, "1/8")}}
		if got := x.Answer(p, s, in, usual); !slices.Equal(got.Missing, []string{"corner"}) {
			t.Errorf("%s: missing %q; want the end to be asked for", id, got.Missing)
		}
	}
}

// An allowance of 1/4 holds with 1/8, so a trimmed miter moves by 1/8; with 1/16 left it
// does not hold, and one of the two strips at corner 3 is cut anew.
func TestATrimmedCornerIsSavedByWhatIsLeft(t *testing.T) {
	p := planOf(t, lanterns)
	s := calc.NewSheet(p)
	x, _ := calc.TroubleOf("trimmed-wrong")
	for left, c := range map[string]struct {
		kind, says string
		ways       []string
	}{
		"":     {"trimmed", "up to 1/8 in from the old one", []string{"Sew the miter again", "A new right strip", "A new bottom strip", "Leave it"}},
		"3/16": {"trimmed", "With 3/16 in left, the new line may lie up to 1/16 in", []string{"Sew the miter again", "A new right strip", "A new bottom strip", "Leave it"}},
		"1/8":  {"trimmed", "1/8 in is left: sew again on the old line, no farther in.", []string{"Sew the miter again", "A new right strip", "A new bottom strip", "Leave it"}},
		"0":    {calc.Short, "Nothing is left to sew.", []string{"A new right strip", "A new bottom strip", "Leave it"}},
		"1/16": {calc.Short, "Too little is left to hold a seam", []string{"A new right strip", "A new bottom strip", "Leave it"}},
	} {
		in := calc.Entered{Corner: 3}
		if left != "" {
			in.Lengths = map[string]calc.Length{"left": length(t, left)}
		}
		got := x.Answer(p, s, in, usual)
		var ways []string
		for _, way := range got.Ways {
			ways = append(ways, way.Title)
		}
		if got.Kind != c.kind || !strings.Contains(strings.Join(got.Say, " "), c.says) || !slices.Equal(ways, c.ways) {
			t.Errorf("%s left: %s, %q, %q; want %s, %q, %q", left, got.Kind, got.Say, ways, c.kind, c.says, c.ways)
		}
	}
}

// Upside down does not show on plain fabric. On others it is turned, unless its tails are
// trimmed: then it does not fit.
func TestAStripThatIsUpsideDown(t *testing.T) {
	x, _ := calc.TroubleOf("upside-down")
	for name, c := range map[string]struct {
		plan    string
		trimmed bool
		kind    string
		ways    []string
	}{
		"plain":            {one("36", "36", "6", "4"), false, calc.Right, nil},
		"striped":          {`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6","stripe":"1"}]}`, false, "turned", []string{"Take it off and turn it", "A new strip", "Leave it"}},
		"striped, trimmed": {`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6","stripe":"1"}]}`, true, "turned", []string{"A new strip", "Leave it"}},
		"a print":          {`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6","motif":"3"}]}`, false, "turned", []string{"Take it off and turn it", "A new strip", "Leave it"}},
	} {
		p := planOf(t, c.plan)
		got := x.Answer(p, calc.NewSheet(p), calc.Entered{Border: 1, Edges: calc.Sides, Trimmed: c.trimmed}, usual)
		var ways []string
		for _, way := range got.Ways {
			ways = append(ways, way.Title)
		}
		if got.Kind != c.kind || !slices.Equal(ways, c.ways) {
			t.Errorf("%s: %s, %q; want %s, %q", name, got.Kind, ways, c.kind, c.ways)
		}
	}
}

// The list speaks of what the plan has.
func TestTheListIsInThePlansWords(t *testing.T) {
	for plan, title := range map[string]string{
		lanterns: "The stripes miss at the corner. Can they be brought together?",
		`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6"},{"cut":"3"}]}`: "The seams miss at the corner. Can they be brought together?",
		one("36", "36", "6", "4"): "",
	} {
		p := planOf(t, plan)
		got := ""
		for _, x := range p.Troubles() {
			if x.ID == "stripes-miss" {
				got = x.Title
			}
		}
		if got != title || title != "" && len(p.Troubles()) != len(calc.Troubles()) {
			t.Errorf("%s: asks %q, want %q", plan, got, title)
		}
	}
}
