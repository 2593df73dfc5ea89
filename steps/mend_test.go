package steps_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

// mendStep is the last mend in the work, which must be sound as every step is.
func mendStepOf(t *testing.T, w *steps.Work) *steps.Step {
	t.Helper()
	var step *steps.Step
	for n := 1; ; n++ {
		_, mend := w.Step(fmt.Sprintf("mend-%d", n))
		if mend == nil {
			break
		}
		step = mend
	}
	if step == nil {
		t.Fatal("the mend is no step of the work")
	}
	before := map[string]bool{}
	for _, s := range w.Stages {
		for _, other := range s.Steps {
			for _, tick := range other.Ticks {
				if other.ID == step.ID {
					checkTick(t, w, tick, before)
					if tick.Label == "" || len(tick.Title) > 40 {
						t.Errorf("%s is called %q, %q", tick.ID, tick.Title, tick.Label)
					}
					if svg := w.Quilt().Draw(tick.Scene); !strings.Contains(svg, "<path") {
						t.Errorf("%s: %+v draws nothing", tick.ID, tick.Scene)
					}
				}
				before[tick.ID] = true
			}
		}
	}
	if len(step.Ticks) == 0 {
		t.Fatalf("the mend has no ticks")
	}
	return step
}

func finish(t *testing.T, w *steps.Work, step *steps.Step) *steps.Work {
	t.Helper()
	for _, tick := range step.Ticks {
		w = do(t, w, tickOp(tick.ID, true))
	}
	return w
}

// labelOf is what a drawing says to who can't see it.
func labelOf(svg string) string {
	_, after, _ := strings.Cut(svg, `aria-label="`)
	label, _, _ := strings.Cut(after, `"`)
	return label
}

func TestAShortStripIsMendedByAJoinedPiece(t *testing.T) {
	w := walk(t, begin(t, plans["one plain border"]), "mark.dot.4")
	// 48 1/2 wide: the top strip is planned 48 1/2 + 11 + 4 = 63 1/2, and 58 is too short.
	w = entered(t, w, "cut-1-top-length", "58")
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "strip-1-top", Way: "joined"})
	step := mendStepOf(t, w)
	if w.Here != step.ID || step.Title != "Mend: border 1: top strip" {
		t.Errorf("work is at %s, %q; want at the mend", w.Here, step.Title)
	}
	// Joined on the diagonal: together as long as the whole and one cut width (derived).
	var say []string
	for _, tick := range step.Ticks {
		say = append(say, tick.Say)
	}
	if got := strings.Join(say, " "); !strings.Contains(got, "Cut a piece 5 1/2 in wide") || !strings.Contains(got, "Draw from where the edges cross") || !strings.Contains(got, "Trim the whole to 63 1/2 in") {
		t.Errorf("the mend says %q, want a piece cut, sewn and the whole trimmed to 63 1/2 in", got)
	}
	for i, want := range []string{"cut across its end: 4 1/4 in off", "strip&#39;s piece of border 1, 15 1/4 in long and 5 1/2 in wide", "crossed at right angles", "corner to corner", "corner to corner", "corner to corner", "", "", "", "cut across its end: 63 1/2 in long"} {
		if i >= len(step.Ticks) {
			t.Fatalf("the mend has %d ticks, want one for each drawing", len(step.Ticks))
		}
		if svg := w.Quilt().Draw(step.Ticks[i].Scene); !strings.Contains(svg, want) {
			t.Errorf("%q is drawn as %q, want %q in it", step.Ticks[i].Say, labelOf(svg), want)
		}
	}
	if done(w, "mark.top.middle") || done(w, "mark.top.ends") || !done(w, "mark.left.middle") || !done(w, "cut.1.top.cut") {
		t.Error("want the marks of the top strip open, and no others")
	}
	if _, tick := w.Tick("mark.top.middle"); !strings.Contains(tick.Opened, "It comes after what is open now") {
		t.Errorf("the mark tells %q, want why it is open", tick.Opened)
	}
	if _, _, err := try(w, tickOp("mark.top.middle", true)); err == nil {
		t.Error("marking the strip before it is mended was taken")
	}
	if f := foundOn(w, "cut-1-topBottom", "strip-1-top"); f.Of != "" {
		t.Errorf("while it is mended: still found %+v", f)
	}
	w = finish(t, w, step)
	w = do(t, w, tickOp("mark.top.middle", true))
	w = walk(t, w, "")
	if done, total := w.Progress(); done != total {
		t.Errorf("mended: got %d of %d done at the end", done, total)
	}
}

func TestAShortStripIsMendedByANarrowerBorder(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "cut.1.bottom.ready")
	w = entered(t, w, "cut-1-left-length", "59")
	way := wayOf(foundOn(w, "cut-1-sides", "strip-1-left").Answer, "narrower")
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "strip-1-left", Way: "narrower"})
	// The least length is side + 2 x cut - 0.2929 (derived): 59 covers 5 3/8, as
	// 48 1/2 + 10 3/4 - 0.2929 = 58.957.
	if got := way.Change.Cut.Shown(); got != "5 3/8 in" {
		t.Fatalf("the narrower border is %s, want 5 3/8 in", got)
	}
	if got := w.Sheet.Strips[0].CutWidth.Shown(); got != "5 3/8 in" {
		t.Errorf("the sheet has strips of %s, want 5 3/8 in", got)
	}
	again, err := steps.Begin(w.Source)
	if err != nil || again.Sheet.Strips[1].CutWidth.Shown() != "5 3/8 in" {
		t.Errorf("the plan is %s, want the new width in it", w.Source)
	}
	if !done(w, "cut.1.left.cut") || !done(w, "cut.1.top.ready") {
		t.Error("want the strips that are cut still done: they are trimmed")
	}
	step := mendStepOf(t, w)
	if !step.Ticks[0].Cuts || step.Ticks[0].Needs[0] != "cut.1.left.cut" {
		t.Errorf("the first tick is %+v, want a cut after the strips are cut", step.Ticks[0])
	}
	w = walk(t, finish(t, w, step), "")
	if done, total := w.Progress(); done != total {
		t.Errorf("mended: got %d of %d done at the end", done, total)
	}
}

func TestACornerIsMendedFromItsLook(t *testing.T) {
	for _, plan := range []string{"one border", "unequal bands"} {
		looked := walk(t, begin(t, plans[plan]), "miter.2.looked")
		for _, measures := range [][]string{{"look-2 pucker"}, {"look-2 gap"}, {"look-2 miss", "miss-2 1/4"}} {
			w := enterAll(t, looked, measures...)
			for _, way := range foundOn(w, "corner-2", "corner-2").Ways {
				if len(way.Redo) == 0 {
					_, _, err := try(w, steps.Op{Kind: steps.KindMend, Wrong: "corner-2", Way: way.ID})
					if r, ok := err.(*steps.Refusal); !ok || r.Field != "way" {
						t.Errorf("%s, %s, %s: opens nothing; got %v, want it refused", plan, measures, way.ID, err)
					}
					continue
				}
				next := do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "corner-2", Way: way.ID})
				step := mendStepOf(t, next)
				if next.Here != step.ID || done(next, way.Redo[0]) || done(next, "miter.2.looked") || valued(t, next, "look-2").Value != "" {
					t.Errorf("%s, %s, %s: at %s with %s done: %v; want at the mend, and the look to be taken anew", plan, measures, way.ID, next.Here, way.Redo[0], done(next, way.Redo[0]))
				}
				if !done(next, "sew.top.pressed") {
					t.Errorf("%s, %s, %s: want the edges still sewn", plan, measures, way.ID)
				}
				if _, _, err := try(next, tickOp(way.Redo[0], true)); err == nil {
					t.Errorf("%s, %s, %s: %s was taken before the mend", plan, measures, way.ID, way.Redo[0])
				}
				undone := do(t, next, steps.Op{Kind: steps.KindUndo, Of: next.Last.Op.ID})
				if state(t, undone) != state(t, w) {
					t.Errorf("%s, %s, %s: undo is not the state before", plan, measures, way.ID)
				}
				if next = walk(t, finish(t, next, step), ""); next.Here == "" {
					t.Errorf("%s: no end", plan)
				}
			}
		}
	}
}

func TestTroublesAreMendedByTheirWays(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "")
	square := map[string]string{"top-width-top": "46 1/2", "top-width-middle": "46 1/2", "top-width-bottom": "46 1/2",
		"top-length-left": "58 1/2", "top-length-middle": "58 1/2", "top-length-right": "58 1/2", "top-diagonal-1": "75", "top-diagonal-2": "74 1/2"}
	for name, c := range map[string]struct {
		op     steps.Op
		opens  string
		before string // the step that the mend comes before
	}{
		"past the dot":   {steps.Op{Wrong: "past-dot", Way: "redo", Edge: "top", Corner: 2, Values: map[string]string{"past": "1/8"}}, "press.2.opened", "sew-top"},
		"no end said":    {steps.Op{Wrong: "past-dot", Way: "redo", Edge: "top", Values: map[string]string{"past": "1/8"}}, "sew.top.checked", "sew-top"},
		"a caught tail":  {steps.Op{Wrong: "caught-tail", Way: "redo", Edge: "left", Corner: 4}, "press.4.opened", "sew-left"},
		"upside down":    {steps.Op{Wrong: "upside-down", Way: "new-strip", Border: 1, Edge: "left"}, "cut.1.left.measured", "cut-1-sides"},
		"trimmed":        {steps.Op{Wrong: "trimmed-wrong", Way: "redo", Corner: 1}, "miter.1.folded", "corner-1"},
		"a new strip":    {steps.Op{Wrong: "trimmed-wrong", Way: "redo-2", Corner: 1}, "cut.1.left.measured", "cut-1-sides"},
		"a wavy band":    {steps.Op{Wrong: "band-length", Way: "redo", Edge: "left", Values: map[string]string{"band": "50"}}, "mark.left.ends", "strip-ends"},
		"a pleat":        {steps.Op{Wrong: "pleat", Way: "redo", Corner: 3}, "miter.3.turned", "corner-3"},
		"a hole":         {steps.Op{Wrong: "hole", Way: "redo-2", Corner: 3}, "miter.3.looked", "corner-3"},
		"stripes miss":   {steps.Op{Wrong: "stripes-miss", Way: "redo", Corner: 3, Values: map[string]string{"miss": "3/16"}}, "miter.3.sewn", "corner-3"},
		"not flat":       {steps.Op{Wrong: "not-flat", Way: "redo-2", Corner: 3}, "miter.3.pinned", "corner-3"},
		"a fat seam":     {steps.Op{Wrong: "allowance", Way: "needle", Values: map[string]string{"across": "3 7/16"}}, "test.measured", "seam-test"},
		"out of square":  {steps.Op{Wrong: "out-of-square", Way: "block", Values: square}, "top.diagonals", "top-diagonals"},
		"center trimmed": {steps.Op{Wrong: "center-trimmed", Way: "redo", Values: map[string]string{"width": "36", "length": "48"}}, "mark.top.ends", "strip-ends"},
	} {
		c.op.Kind = steps.KindMend
		next := do(t, w, c.op)
		if done(next, c.opens) {
			t.Errorf("%s: %s is still done", name, c.opens)
		}
		if c.op.Way == "new-strip" { // its steps stand in the procedure
			continue
		}
		step := mendStepOf(t, next)
		stage, _ := next.Step(c.before)
		i := slices.IndexFunc(stage.Steps, func(s steps.Step) bool { return s.ID == c.before })
		if i == 0 || stage.Steps[i-1].ID != step.ID {
			t.Errorf("%s: the mend does not stand right before %s", name, c.before)
		}
		next = walk(t, finish(t, next, step), "")
		if done, total := next.Progress(); done != total {
			t.Errorf("%s: got %d of %d done at the end", name, done, total)
		}
	}
}

// A picture shows what its act is done to: the strips where strips are mended, wherever it
// was asked about.
func TestAMendIsDrawnWhereItIsDone(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "")
	values := map[string]string{"past": "1/8 in", "band": "50 in", "miss": "3/16 in", "across": "3 7/16",
		"top-width-top": "46 1/2", "top-width-middle": "46 1/2", "top-width-bottom": "46 1/2",
		"top-length-left": "58 1/2", "top-length-middle": "58 1/2", "top-length-right": "58 1/2", "top-diagonal-1": "75", "top-diagonal-2": "74 1/2"}
	called := map[string]string{
		"center-trimmed narrower": "Trim all four strips, Measure it once more",
		"allowance needle":        "Move the needle, Sew a new test",
		"past-dot redo":           "Unpick the miter's beginning, Unpick back to the dot, Press the seam's end flat, Mark the dot anew, Pin the seam's end again, Backstitch from the dot, Look at the end, Fold the corner again, Pin the allowances back, Pin beside the dot, Sew the miter's beginning, Look at the corner",
		"pleat redo-2":            "Unpick the miter, Press both tails, Fold the corner again, Pin the allowances back, Smooth both tails",
	}
	top, corner := steps.About{Border: 1, Edge: "top"}, steps.About{Corner: 2}
	for name, c := range map[string]struct {
		about steps.About
		want  string
	}{
		"center-trimmed narrower": {corner, "strip cut left sides, strip measure left sides"},
		"short-strip joined":      {top, "strip end top topBottom, strip cut top topBottom, strip join top topBottom, strip join top topBottom, strip join top topBottom, strip join top topBottom, strip join-press top topBottom, strip end top topBottom, strip measure top topBottom"},
		"allowance needle":        {top, "test sew top topBottom, test sew top topBottom"},
		"past-dot redo":           {steps.About{Edge: "top", Corner: 2}, "edge check top topBottom, edge check top topBottom, edge press top topBottom, edge pin top topBottom, edge pin top topBottom, edge sew top topBottom, edge check top topBottom, corner fold top topBottom 2, corner turn top topBottom 2, corner pin top topBottom 2, corner sew top topBottom 2, corner look top topBottom 2"},
		"band-length redo":        {top, "edge check top topBottom, edge check top topBottom, edge press top topBottom, strip ends top topBottom"},
		"band-length redo ":       {steps.About{Edges: calc.TopBottom}, "edge check top topBottom, edge press top topBottom, strip ends top topBottom"},
		"pleat redo-2":            {corner, "corner sew left sides 2, corner behind left sides 2, corner fold left sides 2, corner turn left sides 2, corner pin left sides 2"},
		"not-flat redo-2":         {corner, "corner sew left sides 2, corner behind left sides 2, corner fold left sides 2, corner turn left sides 2"},
		"out-of-square block":     {steps.About{}, "top diagonals left sides, top diagonals left sides, top diagonals left sides, top diagonals left sides"},
	} {
		wrong, way, _ := strings.Cut(strings.TrimSpace(name), " ")
		of := maps.Clone(values)
		switch wrong {
		case "short-strip":
			of["length"] = "45"
		case "center-trimmed":
			of["width"], of["length"] = "36", "58"
		}
		next := do(t, w, steps.Op{Kind: steps.KindMend, Wrong: wrong, Way: way, Border: c.about.Border, Edge: c.about.Edge,
			Edges: c.about.Edges, Corner: c.about.Corner, Values: of})
		var got, titles []string
		for _, tick := range mendStepOf(t, next).Ticks {
			s := tick.Scene
			words := fmt.Sprint(s.Kind, " ", s.Act, " ", s.Edge, " ", s.Edges)
			if s.Corner > 0 {
				words += fmt.Sprint(" ", s.Corner)
			}
			if s.Second != (s.Edges == calc.TopBottom) {
				t.Errorf("%s: %+v, want it second where top and bottom are", name, s)
			}
			got = append(got, words)
			titles = append(titles, tick.Title)
		}
		if want := called[name]; want != "" && strings.Join(titles, ", ") != want {
			t.Errorf("%s: its acts are called %q, want %q", name, titles, want)
		}
		if got := strings.Join(got, ", "); got != c.want {
			t.Errorf("%s is drawn as %q, want %q", name, got, c.want)
		}
	}
}

func TestANewStripOpensItsTicks(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "mark.dot.4")
	w = entered(t, w, "cut-1-left-length", "50")
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "short-strip", Way: "new-strip", Border: 1, Edge: "left"})
	if done(w, "cut.1.left.measured") || done(w, "mark.left.ends") || !done(w, "cut.1.right.cut") || w.Here != "cut-1-sides" {
		t.Errorf("a new strip: at %s, want its ticks open and no others", w.Here)
	}
	if f := foundOn(w, "cut-1-sides", "strip-1-left"); f.Of != "" || valued(t, w, "cut-1-left-length").Value != "" {
		t.Errorf("a new strip: the old one is still told of: %+v", f)
	}
}

func TestMendsOutlastMeasuresAndPlans(t *testing.T) {
	w := walk(t, begin(t, plans["one plain border"]), "cut.1.bottom.ready")
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "short-strip", Way: "joined", Border: 1, Edge: "top", Values: map[string]string{"length": "58"}})
	first := mendStepOf(t, w).ID
	w = do(t, w, tickOp("mend.1.1", true))
	w = entered(t, w, "size-length", "36")
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "short-strip", Way: "joined", Border: 1, Edge: "left", Values: map[string]string{"length": "46"}})
	if second := mendStepOf(t, w).ID; second == first || !done(w, "mend.1.1") {
		t.Errorf("a second mend is %s, and the first tick of the first done: %v", second, done(w, "mend.1.1"))
	}
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(strings.Replace(plans["one plain border"], `"5 1/2"`, `"5 1/4"`, 1))})
	if !done(w, "mend.1.1") {
		t.Error("another plan: the mend is gone")
	}
}

func TestMendsThatCanNotBe(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "cut.1.bottom.ready")
	many := map[string]string{}
	for _, id := range ids(w)[:30] {
		many[id] = "1"
	}
	for name, c := range map[string]struct {
		op    steps.Op
		field string
	}{
		"no such trouble":   {steps.Op{Wrong: "moth", Way: "redo"}, "wrong"},
		"no such way":       {steps.Op{Wrong: "pleat", Way: "prayer", Corner: 1}, "way"},
		"nothing measured":  {steps.Op{Wrong: "band-length", Way: "redo", Edge: "left"}, "values"},
		"a way of no steps": {steps.Op{Wrong: "allowance", Way: "leave", Values: map[string]string{"across": "3 7/16"}}, "way"},
		"no strip said":     {steps.Op{Wrong: "short-strip", Way: "joined", Border: 1, Edges: calc.Sides, Values: map[string]string{"length": "50"}}, "edge"},
		"no length":         {steps.Op{Wrong: "allowance", Way: "needle", Values: map[string]string{"across": "x"}}, "across"},
		"too many values":   {steps.Op{Wrong: "allowance", Way: "needle", Values: many}, "values"},
		"no corner like it": {steps.Op{Wrong: "pleat", Way: "redo", Corner: 9}, "corner"},
	} {
		c.op.Kind = steps.KindMend
		_, _, err := try(w, c.op)
		if r, ok := err.(*steps.Refusal); !ok || r.Field != c.field || len(r.Message) < 10 {
			t.Errorf("%s: got %v, want it refused on %s", name, err, c.field)
		}
	}
}

// A way out is taken apart into deeds. What is no deed is told as the why of the one before.
func TestAWayIsTakenApart(t *testing.T) {
	twenty := "Sew " + strings.Repeat("on ", 18) + "on."
	for name, c := range map[string]struct {
		acts []string
		want []string
	}{
		"one deed":                   {[]string{"Sew it."}, []string{"Sew it. | "}},
		"a lead before it":           {[]string{"The strip is short.", "Sew it."}, []string{"Sew it. | The strip is short."}},
		"told behind it":             {[]string{"Sew it.", "It lies flat then."}, []string{"Sew it. | It lies flat then."}},
		"then":                       {[]string{"Cut it.", "Then sew it."}, []string{"Cut it. | ", "Sew it. | "}},
		"two sentences":              {[]string{"Sew it. Press it."}, []string{"Sew it. Press it. | "}},
		"twenty words, two of them":  {[]string{twenty[:len(twenty)-4] + ". On."}, []string{twenty[:len(twenty)-4] + ". On. | "}},
		"twenty words and a few":     {[]string{twenty + " It is so."}, []string{twenty + " | It is so."}},
		"no deed at all":             {[]string{"No way."}, nil},
		"a lead and told behind it":  {[]string{"No way.", "Sew it.", "So."}, []string{"Sew it. | No way. So."}},
		"a deed with a lead between": {[]string{"Sew it.", "So.", "Press it."}, []string{"Sew it. | So.", "Press it. | "}},
	} {
		if got := steps.ActsOf(calc.WayOut{Title: "mend it", Acts: c.acts}); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %q, want %q", name, got, c.want)
		}
	}
	if got := steps.ActsOf(calc.WayOut{Title: "Mend it.", Acts: []string{"How to tell: it is off.", "Sew it."}})[0]; got != "Sew it. | " {
		t.Errorf("how to tell: got %q, want the deed alone", got)
	}
}

// Every act of every way begins with a verb that is known, or is no deed.
func TestEveryActOfAWayIsKnown(t *testing.T) {
	noDeed := []string{"How", "The", "If", "No", "Cut lengthwise", "Cut crosswise"}
	for _, plan := range []string{"one border", "one plain border", "unequal bands", "joined straight", "in centimeters"} {
		w := walk(t, begin(t, plans[plan]), "")
		short := w.Sheet.Strips[0].LeastLength.Length.Sub(calc.Of(1, 1, calc.Inch))
		values := map[string]string{"length": calc.Figure{Length: short, Unit: w.Plan.Unit}.Value(), "past": "1/8 in", "band": "90 in", "miss": "3/16 in", "across": "3.4 in"}
		if plan == "in centimeters" {
			values["across"] = "8.8"
		}
		for _, trouble := range calc.Troubles() {
			a, err := steps.Answer(w, trouble.ID, steps.Asked{steps.About{1, "left", "", 2}, values})
			if err != nil {
				t.Fatal(err)
			}
			for _, way := range a.Ways {
				for _, text := range way.Acts {
					word, _, _ := strings.Cut(strings.TrimPrefix(text, "Then "), " ")
					known := steps.KnowsVerb(word)
					if !known && !slices.ContainsFunc(noDeed, func(s string) bool { return strings.HasPrefix(text, s) }) && way.Kind != "leave" && way.Kind != "new-strip" {
						t.Errorf("%s, %s, %s: nobody knows how to %q", plan, trouble.ID, way.ID, text)
					}
				}
				for _, act := range steps.ActsOf(way) {
					say, _, _ := strings.Cut(act, " | ")
					if n := len(strings.Fields(say)); n > 20 {
						t.Errorf("%s, %s, %s: %d words: %q", plan, trouble.ID, way.ID, n, say)
					}
				}
			}
		}
	}
}

// A way out that was taken under the first edition keeps as many ticks as it had, and opens
// what it opened; what it has more by now is told with the last.
func TestAMendOfBeforeKeepsItsTicks(t *testing.T) {
	for _, c := range []struct {
		op    steps.Op
		ticks int
		opens string
		stays string // done
	}{
		{steps.Op{Wrong: "stripes-miss", Way: "redo", Corner: 3, Values: map[string]string{"miss": "3/16"}}, 3, "miter.3.folded", "miter.3.turned"},
		{steps.Op{Wrong: "past-dot", Way: "redo", Edge: "right", Corner: 3, Values: map[string]string{"past": "1/8"}}, 2, "sew.right.checked", "sew.left.checked"},
		{steps.Op{Wrong: "hole", Way: "redo-2", Corner: 3}, 2, "miter.3.sewn", "miter.3.pinned"},
		{steps.Op{Wrong: "not-flat", Way: "redo-2", Corner: 3}, 1, "miter.3.pinned", "miter.3.folded"},
	} {
		plan := plans["unequal bands"]
		w, err := steps.Resume(steps.Entry{Edition: 1, Op: steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plan)}})
		if err != nil {
			t.Fatal(err)
		}
		for _, id := range ids(w) {
			w, _ = w.Recall(steps.Entry{Edition: 1, Op: tickOp(id, true)})
		}
		c.op.Kind = steps.KindMend
		then, _ := w.Recall(steps.Entry{Edition: 1, Op: c.op})
		step := mendStepOf(t, then)
		if len(step.Ticks) != c.ticks || done(then, c.opens) || !done(then, c.stays) {
			t.Errorf("%s %s, taken before: %d ticks, %s done: %v, %s done: %v; want %d, open, done", c.op.Wrong, c.op.Way, len(step.Ticks), c.opens, done(then, c.opens), c.stays, done(then, c.stays), c.ticks)
		}
		if now := do(t, w, c.op); len(mendStepOf(t, now).Ticks) <= c.ticks {
			t.Errorf("%s %s, taken now: want more ticks than %d", c.op.Wrong, c.op.Way, c.ticks)
		}
	}
}

// Past the dot at one end, after all is pressed: that corner is pressed anew, and not trimmed
// once more; the other three stay. With one miter sewn the seam's own check stays done too.
func TestPastTheDotOpensOneCorner(t *testing.T) {
	for _, plan := range []string{"one border", "unequal bands"} {
		w := walk(t, begin(t, plans[plan]), "")
		op := steps.Op{Kind: steps.KindMend, Wrong: "past-dot", Way: "redo", Edge: "left", Corner: 4, Values: map[string]string{"past": "1/8"}}
		next := do(t, w, op)
		step := mendStepOf(t, next)
		for _, id := range ids(w) {
			at := strings.HasPrefix(id, "press.4.") || strings.HasPrefix(id, "top.")
			if done(next, id) == at && done(w, id) {
				t.Errorf("%s: %s done: %v; want corner 4 and the measures of the top open, and nothing else", plan, id, !at)
			}
		}
		if first := step.Ticks[0]; !strings.HasPrefix(first.Say, "Unpick the miter for 2 in") || next.Here != step.ID {
			t.Errorf("%s: at %s, %q; want the miter's beginning unpicked first", plan, next.Here, first.Say)
		}
		var said []string
		for _, tick := range step.Ticks {
			said = append(said, tick.Say)
		}
		if told := strings.Join(said, " "); !strings.Contains(told, "Sew from the dot to the stitches that are left") {
			t.Errorf("%s: %q; want what was unpicked sewn again, and no more", plan, told)
		}
		next = walk(t, finish(t, next, step), "")
		if done, total := next.Progress(); done != total {
			t.Errorf("%s: got %d of %d done at the end", plan, done, total)
		}
	}
}

// Before the trim the corner itself is done again.
func TestPastTheDotBeforeTheTrimOpensTheCorner(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "miter.4.sewn")
	next := do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "past-dot", Way: "redo", Edge: "left", Corner: 4, Values: map[string]string{"past": "1/8"}})
	if done(next, "miter.4.folded") || done(next, "miter.4.sewn") || !done(next, "sew.left.sewn") {
		t.Error("want the corner open from its fold, and the seam kept")
	}
}

// Joined parts stay as they are where the border becomes narrower before the strip is cut:
// it is cut narrower from them. A new strip on a joined plan begins with its parts.
func TestAJoinedStripIsMendedFromItsParts(t *testing.T) {
	w := walk(t, begin(t, plans["joined aslant"]), "cut.1.bottom.measured")
	way := steps.Op{Kind: steps.KindMend, Wrong: "short-strip", Border: 1, Edge: "left", Values: map[string]string{"length": "90"}}
	a, err := steps.Answer(w, "short-strip", steps.Asked{About: steps.About{Border: 1, Edge: "left"}, Values: way.Values})
	if err != nil || wayOf(a, "narrower").Change == nil {
		t.Fatalf("got %+v, %v; want a narrower border offered", a.Ways, err)
	}
	if way.Way = "narrower"; !done(do(t, w, way), "join.1.bottom.pressed") {
		t.Error("a narrower border: the parts that are joined are open; want them kept")
	}
	way.Way = "new-strip"
	next := do(t, w, way)
	if done(next, "join.1.left.measured") || done(next, "cut.1.left.measured") || !done(next, "join.1.right.measured") || next.Here != "join-1-left" {
		t.Errorf("a new strip: at %s; want its parts open, and no others", next.Here)
	}
	next = do(t, walk(t, w, ""), steps.Op{Kind: steps.KindMend, Wrong: "trimmed-wrong", Way: "redo-2", Corner: 1})
	if done(next, "join.1.left.measured") || !done(next, "join.1.top.measured") {
		t.Error("a new left strip after the trim: want its parts open, and no others")
	}
}

// A strip that was cut on another line is one of the two at the corner: either has the acts
// of a new strip, and its steps.
func TestAStripCutOnAnotherLineIsCutAnew(t *testing.T) {
	w := enterAll(t, walk(t, begin(t, plans["one border"]), "miter.2.looked"), "look-2 miss", "miss-2 1/2")
	found := foundOn(w, "corner-2", "corner-2")
	for i, want := range []string{"cut.1.right.measured", "cut.1.top.measured"} {
		way := found.Ways[i+1]
		next := do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "corner-2", Way: way.ID})
		if step := mendStepOf(t, next); done(next, want) || !strings.HasPrefix(step.Ticks[0].Say, "Unpick the miters at both ends") {
			t.Errorf("%s, %q: %s is done: %v, %q; want it open, its miters unpicked first", way.ID, way.Title, want, done(next, want), step.Ticks[0].Say)
		}
	}
}

// While the seam is not looked at yet, the look waits for the mend.
func TestPastTheDotIsMendedBeforeTheSeamIsLookedAt(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "sew.left.sewn")
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "past-dot", Way: "redo", Edge: "left", Corner: 4, Values: map[string]string{"past": "1/8"}})
	step := mendStepOf(t, w)
	if strings.Contains(step.Ticks[0].Say, "miter") {
		t.Errorf("no miter is sewn: %q", step.Ticks[0].Say)
	}
	if _, _, err := try(w, tickOp("sew.left.checked", true)); err == nil {
		t.Error("the seam was looked at before it was mended")
	}
	w = do(t, finish(t, w, step), tickOp("sew.left.checked", true))
	if !done(w, "sew.left.checked") {
		t.Error("mended: want the seam looked at")
	}
}

// A new strip for one that is sewn on and mitered is cut once the old one is off.
func TestANewStripIsCutOnceTheOldOneIsOff(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "")
	next := do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "upside-down", Way: "new-strip", Border: 1, Edge: "left"})
	step := mendStepOf(t, next)
	var said []string
	for _, tick := range step.Ticks {
		said = append(said, tick.Say)
	}
	if want := []string{"Unpick the miters at both its ends.", "Unpick its seam from dot to dot.", "Press the center's edge flat."}; !slices.Equal(said, want) || next.Here != step.ID {
		t.Errorf("at %s: %q; want %q", next.Here, said, want)
	}
	if _, _, err := try(next, tickOp("cut.1.left.measured", true)); err == nil {
		t.Error("the new strip was measured before the old one was off")
	}
	next = walk(t, finish(t, next, step), "")
	if done, total := next.Progress(); done != total {
		t.Errorf("mended: %d of %d done at the end", done, total)
	}
}

// A strip that was joined is cut in one on the plan of now: where its joins were, nothing is.
func TestANewStripForOneThatIsJoinedNoMore(t *testing.T) {
	w := walk(t, begin(t, plans["coping in cm"]), "cut.1.left.ready")
	w = do(t, w, steps.Op{Kind: steps.KindMeasure, Measure: "cut-1-left-length", Value: "5"})
	w = do(t, w, steps.Op{Kind: steps.KindPlan, Plan: json.RawMessage(plans["one border"])})
	w = do(t, w, steps.Op{Kind: steps.KindMend, Wrong: "strip-1-left", Way: "new-strip"})
	step, _ := w.Step(w.Here)
	if _, tick := w.Tick("cut.1.left.cut"); tick == nil || tick.Done || step == nil {
		t.Errorf("a new strip: its cut is %+v and work at %q, want it open, in one, and work at a step", tick, w.Here)
	}
}
