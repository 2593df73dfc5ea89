package steps_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// printed are plans whose print runs along the strips: one border cut in one, one that is
// joined, one with a stripe besides, and one beside a plain border.
var printed = map[string]string{
	"in one":      `{"center":{"width":"46 1/2","length":"58 1/2"},"borders":[{"name":"lanterns","cut":"5 1/2","motif":"5","fabric":{"runs":"lengthwise"}}]}`,
	"joined":      plans["joined straight"],
	"and striped": `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","stripe":"1 1/8","motif":"6","fabric":{"runs":"lengthwise"}}]}`,
	"in a band":   `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"line","cut":"1 1/2"},{"name":"lanterns","cut":"5 1/2","motif":"6","fabric":{"runs":"lengthwise"}}]}`,
}

// place is where a tick stands in the order of work; -1: nowhere.
func place(w *steps.Work, id string) int { return slices.Index(ids(w), id) }

// The print decides where a strip lies: it is found, and its middle marked, before the blade;
// and that middle is not looked for again by folding.
func TestAPrintIsPlacedBeforeItsStripIsCut(t *testing.T) {
	for name, plan := range printed {
		w := begin(t, plan)
		last := len(w.Plan.Borders)
		for _, edge := range []string{"left", "right", "top", "bottom"} {
			id := func(act string) string { return "cut." + string(rune('0'+last)) + "." + edge + "." + act }
			measured := tickOf(t, w, id("measured"))
			if !regexp.MustCompile(`[Ff]ind a (motif|gap)'s middle`).MatchString(measured.Say) || !strings.Contains(measured.Say, "half the length each way") {
				t.Errorf("%s, %s: measured by %q, want from the middle of the print", name, edge, measured.Say)
			}
			if needs := tickOf(t, w, id("cut")).Needs; !slices.Contains(needs, id("middle")) {
				t.Errorf("%s, %s: the cut needs %v, want the middle marked", name, edge, needs)
			}
			if tick := tickOf(t, w, "mark."+edge+".middle"); strings.Contains(tick.Say, "Fold") {
				t.Errorf("%s, %s: the middle is marked by %q, want no folding", name, edge, tick.Say)
			}
		}
	}
	// 46 1/2 + 2 x 5 1/2 + 4 = 61 1/2, half of it 30 3/4; 58 1/2 + 15 = 73 1/2, half 36 3/4.
	w := begin(t, printed["in one"])
	for edge, half := range map[string]string{"top": "30 3/4 in", "left": "36 3/4 in"} {
		if got := tickOf(t, w, "cut.1."+edge+".measured").Numbers[1]; got.Shown() != half || got.Name != "each way from its middle" {
			t.Errorf("the %s strip goes %s %q, want %s", edge, got.Shown(), got.Name, half)
		}
	}
}

// Whatever is sewn first, coping strips, joins, bands or the first edge, the machine is made
// ready and the seam is tested before it.
func TestTheSeamIsTestedBeforeTheFirstSeam(t *testing.T) {
	first := map[string]string{}
	for name, plan := range plans {
		w := begin(t, plan)
		machine, test := place(w, "machine.noted"), place(w, "test.measured")
		if machine < 0 || test != machine+2 || place(w, "test.made") != machine+1 {
			t.Errorf("%s: the machine stands at %d, the test seam at %d, want it right after", name, machine, test)
		}
		for i, id := range ids(w) {
			if !strings.HasSuffix(id, ".sewn") || strings.HasPrefix(id, "join.") && name == "two borders" {
				continue
			}
			if first[name] = id; i < test {
				t.Errorf("%s: %s stands before the test seam", name, id)
			}
			break
		}
	}
	for name, want := range map[string]string{"coping on sides": "coping.", "joined aslant": "join.", "two borders": "band.", "one border": "sew."} {
		if got := first[name]; !strings.HasPrefix(got, want) {
			t.Errorf("%s: the first seam is %s, want one of %s", name, got, want)
		}
	}
}

// Mirrored at the fold, seams pressed the same way on both strips lie on each other; pressed
// outward on the sides and inward on top and bottom they lie side by side (cp).
func TestBandSeamsArePressedSoThatTheyNest(t *testing.T) {
	w := begin(t, plans["two borders"])
	for edge, way := range map[string]string{"left": "outward", "right": "outward", "top": "inward", "bottom": "inward"} {
		if tick := tickOf(t, w, "band.1."+edge+".pressed"); !strings.Contains(tick.Say, way) || !strings.Contains(tick.Why, "nest") {
			t.Errorf("%s: %q because %q, want %s, and why", edge, tick.Say, tick.Why, way)
		}
	}
	w = begin(t, plans["twelve borders"])
	for seam, turned := range map[string]bool{"1": false, "2": true, "11": true} {
		if say := tickOf(t, w, "band."+seam+".left.sewn").Say; strings.Contains(say, "from the end where the last seam stopped") != turned {
			t.Errorf("seam %s: %q, want it sewn from the other end: %v", seam, say, turned)
		}
	}
	for seam, checked := range map[string]bool{"1": false, "10": false, "11": true} {
		if _, tick := w.Tick("band." + seam + ".top.checked"); (tick != nil) != checked {
			t.Errorf("the band's width is checked after seam %s: %v, want %v", seam, tick != nil, checked)
		}
	}
	if got := shownOf(t, w, "band.11.left.checked"); got != "band, raw edge to raw edge: "+w.Sheet.Bands.Sides.Cut.Shown() {
		t.Errorf("the band's width is %q, want the sheet's %s", got, w.Sheet.Bands.Sides.Cut.Shown())
	}
}

// Both dots of a corner are looked at before it is folded.
func TestACornerIsFoldedAfterBothItsDotsAreChecked(t *testing.T) {
	for _, name := range []string{"one border", "unequal bands"} {
		w := walk(t, begin(t, plans[name]), "sew.bottom.sewn")
		for _, x := range []struct{ corner, open string }{{"3", "sew.bottom.checked"}, {"4", "sew.bottom.checked"}} {
			folded := tickOf(t, w, "miter."+x.corner+".folded")
			open := map[string]bool{}
			for queue := []string{folded.ID}; len(queue) > 0; queue = queue[1:] {
				for _, need := range missing(w, queue[0]) {
					open[need] = true
					queue = append(queue, need)
				}
			}
			if !open[x.open] {
				t.Errorf("%s: corner %s can be folded while %s is open", name, x.corner, x.open)
			}
		}
	}
}

// Only a stripe or a print has an inner edge that must not be turned round.
func TestTheInnerEdgeIsMarkedWhereThereIsOne(t *testing.T) {
	for name, inner := range map[string]bool{"one plain border": false, "one border": true, "coping on sides": true} {
		tick := tickOf(t, begin(t, plans[name]), "cut.1.left.ready")
		if got := strings.Contains(tick.Title, "inner edge"); got != inner || !inner && !strings.Contains(tick.Say, "Measure") {
			t.Errorf("%s: after the cut %q, %q; want the inner edge marked: %v", name, tick.Title, tick.Say, inner)
		}
	}
}

// Without a stripe or a print no word and no picture of the procedure speaks of one.
func TestAPlainBorderSpeaksOfNoStripes(t *testing.T) {
	speaks := regexp.MustCompile(`(?i)\b(stripes?|striped|prints?|motifs?|on the chosen)\b`)
	for _, name := range []string{"one plain border", "unequal bands", "in centimeters", "twelve borders", "a wide allowance"} {
		w := begin(t, plans[name])
		q := draw.Quilt{Plan: w.Plan, Sheet: w.Sheet}
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				said := []string{step.Title}
				for _, m := range step.Measures {
					said = append(said, m.Label)
					for _, o := range m.Options {
						said = append(said, o.Label)
					}
				}
				for _, tick := range step.Ticks {
					said = append(said, tick.Title, tick.Label, tick.Say, tick.Why)
					for _, n := range tick.Numbers {
						said = append(said, n.Name, n.Text, n.How)
					}
					label, _, _ := strings.Cut(q.Draw(tick.Scene), ">")
					said = append(said, label)
				}
				for _, s := range said {
					if speaks.MatchString(s) {
						t.Errorf("%s, %s: %q", name, step.ID, s)
					}
				}
			}
		}
	}
}

// A notice is about fabric, and stands once a stage; a caution is about a person, and stands
// once a step; a warning stands at every cut.
func TestANoticeStandsOnceAStage(t *testing.T) {
	for name, plan := range plans {
		for _, stage := range begin(t, plan).Stages {
			told := map[string]string{}
			for _, step := range stage.Steps {
				inStep := map[string]bool{}
				for _, tick := range step.Ticks {
					if tick.Cuts && (tick.Caution == nil || tick.Caution.Word != "WARNING") {
						t.Errorf("%s: %s cuts without a warning", name, tick.ID)
					}
					if tick.Caution == nil || tick.Caution.Word == "WARNING" {
						continue
					}
					if tick.Caution.Word == "CAUTION" {
						if inStep[tick.Caution.Text] {
							t.Errorf("%s: %q stands twice in %s", name, tick.Caution.Text, step.ID)
						}
						inStep[tick.Caution.Text] = true
						continue
					}
					if other := told[tick.Caution.Text]; other != "" {
						t.Errorf("%s: %q stands at %s and at %s", name, tick.Caution.Text, other, tick.ID)
					}
					told[tick.Caution.Text] = tick.ID
				}
			}
		}
	}
	w := begin(t, plans["one border"])
	for id, says := range map[string]string{
		"mark.center.left": "Heat can set ink", "miter.1.lined": "Heat can set ink",
		"sew.left.pinned": "Count them in and out", "miter.1.folded": "Count them in and out", "sew.left.sewn": "Take each out",
		"miter.1.trimmed": "Nothing of the quilt under ruler or blade", "press.1.squared": "Nothing of the quilt under ruler or blade",
		"cut.1.left.cut": "Mat below", "center.pressed": "Pins out", "press.1.behind": "off when you go",
	} {
		if tick := tickOf(t, w, id); tick.Caution == nil || !strings.Contains(tick.Caution.Text, says) {
			t.Errorf("%s has the caution %+v, want %q in it", id, tick.Caution, says)
		}
	}
}

// The second pair stops as it starts: in the hole where the earlier stitches end.
func TestTheCenterLiesOnTopAndBothEndsAreBackstitched(t *testing.T) {
	w := begin(t, plans["one border"])
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		say := tickOf(t, w, "sew."+edge+".sewn").Say
		if !strings.HasPrefix(say, "Center on top") || !strings.Contains(say, "backstitch at both") {
			t.Errorf("%s: %q, want the center on top, and a backstitch at both ends", edge, say)
		}
		if second := strings.Contains(say, "Start and stop in the holes"); second != (edge == "top" || edge == "bottom") {
			t.Errorf("%s: %q", edge, say)
		}
	}
}

// Fabric is squared before anything is measured on it, once for all borders cut from it.
func TestFabricIsSquaredOnceBeforeItIsMeasured(t *testing.T) {
	w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[
		{"cut":"1 1/2","fabric":{"name":"indigo","runs":"lengthwise"}},{"cut":"2","fabric":{"runs":"lengthwise"}},{"cut":"5 1/2","fabric":{"name":"indigo","runs":"lengthwise","usableWidth":"39","even":"3"}}]}`)
	for border, from := range map[string]string{"1": "1", "2": "2", "3": "1"} {
		squared := "fabric." + from + ".squared"
		if needs := tickOf(t, w, "cut."+border+".left.measured").Needs; !slices.Contains(needs, squared) {
			t.Errorf("border %s is measured after %v, want %s", border, needs, squared)
		}
		if tick := tickOf(t, w, squared); !tick.Cuts {
			t.Errorf("%s is no cut", squared)
		}
	}
	if _, tick := w.Tick("fabric.3.squared"); tick != nil {
		t.Error("the fabric of borders 1 and 3 is squared twice")
	}
	if got, want := shownOf(t, w, "fabric.1.squared"), "end to selvage: 90° | usable width that must remain: 39 in | bought for squaring: 3 in"; got != want {
		t.Errorf("squaring shows %q, want %q: the narrower width and the greater loss of the two", got, want)
	}
}

// What the words lay on top, the picture does too: the next strip, and at every second seam,
// which the picture starts at the other end as well, the strips before it.
func TestWordsAndPictureLayTheSameStripOnTop(t *testing.T) {
	w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ink","cut":"1 1/2"},{"name":"ticking","cut":"3 1/2"},{"name":"ochre","cut":"2"},{"name":"plain","cut":"6"}]}`)
	for seam, want := range map[string][2]string{"1": {"ticking", "ink"}, "2": {"ticking", "ochre"}, "3": {"plain", "ochre"}} {
		pinned := tickOf(t, w, "band."+seam+".left.pinned")
		words, label := "On top, wrong side up, lies "+want[0], want[0]+" wrong side up on "+want[1]
		if picture := w.Quilt().Draw(pinned.Scene); !strings.Contains(pinned.Why, words) || !strings.Contains(picture, label) {
			t.Errorf("seam %s: because %q, picture %.200s; want %q and %q", seam, pinned.Why, picture, words, label)
		}
	}
	for tick, end := range map[string]string{
		"band.1.left.sewn": "bottom", "band.2.left.sewn": "top", "band.3.left.sewn": "bottom", "band.1.right.sewn": "top", "band.2.right.sewn": "bottom",
		"band.1.top.sewn": "left", "band.2.top.sewn": "right", "band.1.bottom.sewn": "right", "band.2.bottom.sewn": "left",
	} {
		picture := w.Quilt().Draw(tickOf(t, w, tick).Scene)
		if !strings.Contains(picture, "sewn from the "+end+" end") || !strings.Contains(picture, ">"+end+" end<") {
			t.Errorf("%s: picture %.200s; want it sewn from the %s end", tick, picture, end)
		}
	}
}
