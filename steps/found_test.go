package steps_test

import (
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

// foundOn is the finding about a thing on a step; the zero Finding where there is none.
func foundOn(w *steps.Work, step, of string) steps.Finding {
	_, s := w.Step(step)
	for _, f := range s.Findings {
		if f.Of == of {
			return f
		}
	}
	return steps.Finding{}
}

func figureOf(f steps.Finding, name string) string {
	for _, n := range f.Figures {
		if n.Name == name {
			return n.Figure.Shown()
		}
	}
	return ""
}

func wayOf(a calc.Answer, kind string) calc.WayOut {
	for _, way := range a.Ways {
		if way.Kind == kind {
			return way
		}
	}
	return calc.WayOut{}
}

// enterAll enters measures, "id value" each.
func enterAll(t *testing.T, w *steps.Work, measures ...string) *steps.Work {
	t.Helper()
	for _, m := range measures {
		id, value, _ := strings.Cut(m, " ")
		w = entered(t, w, id, value)
	}
	return w
}

func TestWhatTheCenterMeasuresIsJudged(t *testing.T) {
	plan := func(width, length string) string {
		return `{"center":{"width":"` + width + `","length":"` + length + `"},"borders":[{"cut":"5 1/2"}]}`
	}
	big := plan("60", "80")
	for name, c := range map[string]struct {
		plan     string
		measures []string
		step, of string
		kind     string
		figures  map[string]string
		says     string
	}{
		// Quilty Folk, 5 May 2014: mean 27.208, use 27 1/4.
		"three widths within 1/8 in": {plan("27 1/4", "32"), []string{"width-top 27 1/4", "width-middle 27 1/4", "width-bottom 27 1/8"},
			"widths", "width", calc.Ease, map[string]string{"build on": "27 1/4 in"}, "easing"},
		// The same: use 32.
		"three lengths within 1/8 in": {plan("27 1/4", "32"), []string{"length-left 32", "length-middle 31 7/8", "length-right 32"},
			"lengths", "length", calc.Ease, map[string]string{"build on": "32 in"}, "easing"},
		// The Quilting Board, 10 February 2018: 1/2 in apart, stop and mend.
		"three widths 1/2 in apart": {plan("36 1/2", "48 1/2"), []string{"width-top 36 1/2", "width-middle 36 1/4", "width-bottom 36"},
			"settle", "width", calc.Mend, nil, "A seam is off"},
		// (derived) 60 x 80 has diagonals of 100; 1/2 in apart is 0.3125 over one side and
		// 0.4167 over the other.
		"a leaning center": {big, []string{"width-top 60", "width-middle 60", "width-bottom 60", "length-left 80", "length-middle 80", "length-right 80", "diagonal-1 100 1/4", "diagonal-2 99 3/4"},
			"true-up", "shape", calc.Leaning, map[string]string{"leans over its width": "5/16 in", "leans over its length": "7/16 in"}, "It leans"},
		"a true rectangle": {big, []string{"width-top 60", "width-middle 60", "width-bottom 60", "length-left 80", "length-middle 80", "length-right 80", "diagonal-1 100", "diagonal-2 100"},
			"diagonals", "shape", calc.Rectangle, nil, "true rectangle"},
		// Sonoma State University, Math 150, Theorem 6: an isosceles trapezoid has equal diagonals.
		"a trapezoid with equal diagonals": {big, []string{"width-top 59 3/4", "width-middle 60", "width-bottom 60 1/4", "length-left 80", "length-middle 80", "length-right 80", "diagonal-1 100", "diagonal-2 100"},
			"true-up", "shape", calc.Trapezoid, nil, "Equal diagonals do not make that true"},
		// (derived) the parallelogram law: 106 is no diagonal of 60 x 80 beside 100.
		"a slip of the tape": {big, []string{"width-top 60", "width-middle 60", "width-bottom 60", "length-left 80", "length-middle 80", "length-right 80", "diagonal-1 100", "diagonal-2 106"},
			"diagonals", "shape", calc.Slip, map[string]string{"Two diagonals, corner 2 to 4, about": "100 in"}, "a number is wrong"},
	} {
		f := foundOn(enterAll(t, begin(t, c.plan), c.measures...), c.step, c.of)
		if f.Kind != c.kind || !strings.Contains(strings.Join(f.Say, " "), c.says) {
			t.Errorf("%s: found %q %q on %s, want %s with %q", name, f.Kind, f.Say, c.step, c.kind, c.says)
		}
		for of, want := range c.figures {
			if got := figureOf(f, of); got != want {
				t.Errorf("%s: %s is %q, want %s", name, of, got, want)
			}
		}
	}
}

// 1/4 in between the widths of 36 1/2 eases: the farthest is 1/6 from the mean, 36 7/12,
// which may be 0.2286 (cp). Nothing is to be trimmed then, in any sentence.
func TestWhatEasesIsNotTrimmed(t *testing.T) {
	w := enterAll(t, begin(t, plans["one border"]), uneven...)
	for _, step := range []string{"widths", "true-up", "settle"} {
		_, s := w.Step(step)
		for _, f := range s.Findings {
			if said := strings.Join(f.Say, " "); strings.Contains(strings.ToLower(said), "trim") || len(f.Ways) > 0 {
				t.Errorf("%s: found %q with %d ways, want it eased", step, said, len(f.Ways))
			}
		}
	}
	if w.Sheet.Center.Width.Shown() != "36 5/8 in" {
		t.Errorf("36 1/2, 36 1/2, 36 3/4: build on %s, want the mean, 36 5/8 in", w.Sheet.Center.Width.Shown())
	}
}

func TestAStripThatIsCutIsJudgedByItsLeastLength(t *testing.T) {
	// Center 36 1/2 x 48 1/2, strips 5 1/2 wide: side + 2 x 5 1/2 + 4 is 63 1/2 for the
	// sides, and the least (derived) side + 2 x 5 1/2 - 0.2929.
	cut := walk(t, begin(t, plans["one border"]), "cut.1.bottom.ready")
	for name, c := range map[string]struct {
		measures   []string
		kind, says string
		tail       string
		ways       []string
	}{
		"as planned, measured":           {[]string{"cut-1-left-length 63 1/2"}, calc.Right, "a tail of 7 1/2 in", "7 1/2 in", nil},
		"60 in, measured":                {[]string{"cut-1-left-length 60"}, calc.Covers, "3/8 in more than the miter needs", "5 3/4 in", nil},
		"59 in, measured":                {[]string{"cut-1-left-length 59"}, calc.Short, "Too short by 1/4 in: it needs 59 1/4 in", "5 1/4 in", []string{"narrower", "joined", "new-strip"}},
		"the center then longer":         {[]string{"size-length 52"}, calc.Covers, "a tail of 5 3/4 in at each end, 3/8 in more", "5 3/4 in", nil},
		"the center then much longer":    {[]string{"size-length 54"}, calc.Short, "Too short by 1 1/4 in", "4 3/4 in", []string{"narrower", "joined", "new-strip"}},
		"the center then shorter":        {[]string{"size-length 46"}, calc.Right, "a tail of 8 3/4 in", "8 3/4 in", nil},
		"too narrow, by 1/4 in":          {[]string{"cut-1-left-width 5 1/4"}, calc.Right, "Too narrow by 1/4 in", "7 1/2 in", []string{"trim-all", "new-strip"}},
		"too wide: trim the outer edge":  {[]string{"cut-1-left-width 5 3/4"}, calc.Right, "Trim it to 5 1/2 in, off the outer edge", "7 1/2 in", nil},
		"short, then measured once more": {[]string{"cut-1-left-length 59", "cut-1-left-length 63"}, calc.Covers, "Shorter than planned, but fine", "7 1/4 in", nil},
	} {
		f := foundOn(enterAll(t, cut, c.measures...), "cut-1-sides", "strip-1-left")
		if f.Kind != c.kind || !strings.Contains(strings.Join(f.Say, " "), c.says) || figureOf(f, "tail at each end") != c.tail {
			t.Errorf("%s: found %q %q with a tail of %s, want %s with %q and %s", name, f.Kind, f.Say, figureOf(f, "tail at each end"), c.kind, c.says, c.tail)
		}
		var ways []string
		for _, way := range f.Ways {
			ways = append(ways, way.Kind)
		}
		if !slices.Equal(ways, c.ways) {
			t.Errorf("%s: the ways out are %q, want %q", name, ways, c.ways)
		}
		if way := wayOf(f.Answer, "new-strip"); way.Kind != "" && !slices.Equal(way.Redo, []string{"cut.1.left.measured"}) {
			t.Errorf("%s: a new strip opens %q, want cut.1.left.measured", name, way.Redo)
		}
	}
	if f := foundOn(cut, "cut-1-sides", "strip-1-left"); f.Of != "" {
		t.Errorf("cut as planned and not measured: found %+v, want nothing to say", f)
	}
}

func TestTheSeamTestTellsTheNeedle(t *testing.T) {
	w := enterAll(t, begin(t, plans["one border"]), "seam-across 3 7/16")
	f := foundOn(w, "seam-test", "seam")
	// J. Cahoon, Quiltcentric, 16 September 2012: 3 7/16 means 0.2656. One border has two
	// seams across, each taking 1/64 in twice too much: (derived) 1/16 in; four 1/8 in.
	if f.Kind != calc.Fat || !strings.Contains(f.Say[0], "0.266 in") || !strings.Contains(f.Say[1], "toward the raw edge") {
		t.Errorf("3 7/16 in across: found %q %q, want fat with 0.266 in", f.Kind, f.Say)
	}
	if figureOf(f, "four seams of it") != "" || figureOf(f, "this top is off by") != "1/16 in" {
		t.Errorf("3 7/16 in across: found %+v, want 1/16 in on this top of two seams, and nothing of four", f.Figures)
	}
	if f = foundOn(entered(t, w, "seam-across", "3 1/2"), "seam-test", "seam"); f.Kind != calc.Right {
		t.Errorf("3 1/2 in across: found %+v, want right", f)
	}
}

func TestASewnEdgeIsHeldToItsSide(t *testing.T) {
	w := begin(t, plans["one border"])
	// 1/4 in eases in 20 in (cp): 0.456 in into the 36 1/2 in on top.
	for value, want := range map[string]string{"36 1/2": calc.Right, "36 7/8": calc.Ease, "37 1/4": calc.Wavy, "36": calc.Pulled} {
		f := foundOn(entered(t, w, "edge-top", value), "sew-top", "edge-top")
		if f.Kind != want {
			t.Errorf("the top edge sewn %s long: found %q, want %s", value, f.Kind, want)
		}
		if redo := wayOf(f.Answer, "redo").Redo; want == calc.Wavy && !slices.Equal(redo, []string{"mark.top.ends"}) {
			t.Errorf("the top edge sewn %s long: opens %q, want mark.top.ends", value, redo)
		}
	}
}

func TestALookAtACornerLeadsOn(t *testing.T) {
	w := begin(t, plans["one border"])
	for name, c := range map[string]struct {
		measures []string
		kind     string
		redo     string // of the first way
	}{
		"flat":                           {[]string{"look-2 flat"}, "flat", ""},
		"a pucker":                       {[]string{"look-2 pucker"}, "pucker", "miter.2.looked"},
		"a gap":                          {[]string{"look-2 gap"}, "gap", "miter.2.looked"},
		"stripes miss, not said how":     {[]string{"look-2 miss"}, "ask", ""},
		"stripes miss by 1/8 in (cp)":    {[]string{"look-2 miss", "miss-2 1/8"}, "stripes", ""},
		"stripes miss by 1/4 in":         {[]string{"miss-2 1/4"}, "stripes", "miter.2.folded"},
		"a pucker, then it is sewn anew": {[]string{"look-2 pucker", "look-2 flat"}, "flat", ""},
	} {
		next := enterAll(t, w, c.measures...)
		f := foundOn(next, "corner-2", "corner-2")
		redo := ""
		if len(f.Ways) > 0 && len(f.Ways[0].Redo) > 0 {
			redo = f.Ways[0].Redo[0]
		}
		if f.Kind != c.kind || redo != c.redo {
			t.Errorf("%s: found %q which opens %q, want %q and %q", name, f.Kind, redo, c.kind, c.redo)
		}
		if other := foundOn(next, "corner-1", "corner-1"); other.Of != "" {
			t.Errorf("%s at corner 2: found %+v at corner 1", name, other)
		}
	}
}

func TestTheBorderedTopIsComparedWithItsPlan(t *testing.T) {
	w := enterAll(t, begin(t, plans["one border"]),
		"top-width-top 46 1/4", "top-width-middle 46 1/4", "top-width-bottom 46 1/4")
	// Raw: 36 1/2 + 2 x 5.
	f := foundOn(w, "top-widths", "top-width")
	if f.Kind != calc.Ease || !strings.Contains(f.Say[0], "46 1/4 in: 1/4 in less than the 46 1/2 in expected") {
		t.Errorf("46 1/4 in wide: found %q %q, want 1/4 in less than 46 1/2 in", f.Kind, f.Say)
	}
	w = enterAll(t, w, "top-length-left 58 1/2", "top-length-middle 58 1/2", "top-length-right 58 1/2",
		"top-diagonal-1 74 9/16", "top-diagonal-2 74 9/16")
	// √(46 1/4² + 58 1/2²) = 74.57 (derived).
	if f = foundOn(w, "top-diagonals", "top-shape"); f.Kind != calc.Right || !strings.Contains(strings.Join(f.Say, " "), "lies flat") {
		t.Errorf("equal diagonals on equal sides: found %q %q, want right and flat", f.Kind, f.Say)
	}
}

// (derived) 60 1/2 in and two coping strips; 3/8 in too wide the prints miss by half, 3/16 in,
// and each of the two seams, which takes from strip and center, moves by 3/32 in.
func TestACopedCenterIsJudgedBeforeTheBorders(t *testing.T) {
	w := walk(t, begin(t, plans["coping on sides"]), "coping.measured")
	want := w.Sheet.Center.Width.Length
	enter := func(by calc.Length) *steps.Work {
		return entered(t, w, "coped-width", calc.Figure{Length: want.Add(by), Unit: calc.Inch}.Value())
	}
	next := enter(calc.Of(3, 8, calc.Inch))
	f := foundOn(next, "coping-size", "coped")
	if !strings.Contains(strings.Join(f.Say, " "), "miss each other by 3/16 in at every corner") || figureOf(f, "prints miss by") != "3/16 in" {
		t.Errorf("3/8 in too wide: %q %v; want the prints to miss by 3/16 in", f.Say, f.Figures)
	}
	way := wayOf(f.Answer, "redo")
	if !strings.Contains(strings.Join(way.Acts, " "), "Sew both seams 3/32 in farther from the raw edge") {
		t.Errorf("3/8 in too wide: %q; want each seam taken in by 3/32 in", way.Acts)
	}
	mended := do(t, next, steps.Op{Kind: steps.KindMend, Wrong: "coped", Way: "redo"})
	if step := mendStepOf(t, mended); done(mended, "coping.measured") || mended.Here != step.ID {
		t.Errorf("taken in: at %s; want at the mend, and the center measured anew", mended.Here)
	}
	if f = foundOn(enter(calc.Of(-1, 4, calc.Inch)), "coping-size", "coped"); f.Kind != calc.Ease || len(f.Ways) > 0 {
		t.Errorf("1/4 in too narrow, 1/8 in at a corner: %s %q; want it hardly seen (cp)", f.Kind, f.Say)
	}
	if f = foundOn(enter(calc.Length{}), "coping-size", "coped"); f.Of != "" {
		t.Errorf("as planned: %q; want nothing to say", f.Say)
	}
}

// (derived) Bands of 1 1/2 and 5 1/2 cut are 6 1/2 in wide. 1/4 in less is an allowance 1/8 in
// fat in the one seam.
func TestABandThatIsOffIsToldOf(t *testing.T) {
	w := walk(t, begin(t, plans["two borders"]), "band.1.bottom.checked")
	for width, c := range map[string]struct{ kind, says string }{
		"6 1/4": {calc.Narrow, "1/4 in narrower than the 6 1/2 in planned"},
		"6 3/4": {calc.Wide, "an allowance scant by 0.125 in"},
		"6 1/2": {calc.Right, "As wide as it should be"},
	} {
		next := entered(t, w, "band-left-width", width)
		f := foundOn(next, "band-1-sides", "band-left-width")
		if f.Kind != c.kind || !strings.Contains(strings.Join(f.Say, " "), c.says) {
			t.Errorf("a band of %s: %s %q; want %s with %q", width, f.Kind, f.Say, c.kind, c.says)
		}
		if c.kind == calc.Right {
			continue
		}
		mended := do(t, next, steps.Op{Kind: steps.KindMend, Wrong: "band-left-width", Way: "redo"})
		if mendStepOf(t, mended); done(mended, "band.1.left.checked") || !done(mended, "band.1.right.checked") {
			t.Errorf("a band of %s: want it measured anew, and no other", width)
		}
	}
}
