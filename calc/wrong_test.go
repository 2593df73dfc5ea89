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
