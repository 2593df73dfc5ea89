package web

import (
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

// A tick that has come since its quilt was begun says so, and what there is to say of its
// measures goes before that.
func TestANewTickSaysSo(t *testing.T) {
	step := &stepView{Step: &steps.Step{ID: "widths"}}
	for name, c := range map[string]struct {
		tick        steps.Tick
		word, mark  string
		says        string
		nothingSaid bool
	}{
		"an old one":            {tick: steps.Tick{}, nothingSaid: true},
		"a new one":             {steps.Tick{New: true}, "New", "open", "has come to the procedure", false},
		"one that was passed":   {steps.Tick{New: true, Passed: true}, "New", "open", "it may stay open", false},
		"one that opened again": {steps.Tick{New: true, Opened: "It was cut short."}, "Again", "hazard", "has come", false},
	} {
		f := newFound("id", step, &tickView{Tick: &c.tick})
		if c.nothingSaid {
			if f != nil {
				t.Errorf("%s: found %+v, want nothing", name, f)
			}
			continue
		}
		if f == nil || f.Word() != c.word || f.Mark() != c.mark || !strings.Contains(f.New, c.says) {
			t.Errorf("%s: found %+v, want %q with the mark %s", name, f, c.word, c.mark)
		}
	}
	found := *step
	found.Step = &steps.Step{ID: "widths", Findings: []steps.Finding{{Of: "width", Answer: calc.Answer{Kind: calc.Ease}}}}
	if f := newFound("id", &found, &tickView{Tick: &steps.Tick{New: true}}); f.Word() != "Ease" || f.Mark() != "done" || f.New == "" {
		t.Errorf("new, with a finding: %q and the mark %s, want Ease and done", f.Word(), f.Mark())
	}
}
