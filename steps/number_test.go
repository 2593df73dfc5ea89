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

// shownOf are a tick's numbers as they stand on the screen.
func shownOf(t *testing.T, w *steps.Work, id string) string {
	t.Helper()
	var all []string
	for _, n := range tickOf(t, w, id).Numbers {
		all = append(all, n.Name+": "+n.Shown())
	}
	return strings.Join(all, " | ")
}

func wantNumbers(t *testing.T, w *steps.Work, want map[string]string) {
	t.Helper()
	for id, numbers := range want {
		if got := shownOf(t, w, id); got != numbers {
			t.Errorf("%s shows %q, want %q", id, got, numbers)
		}
	}
}

// All derived: center 36 1/2 x 48 1/2, border 5 1/2, allowance 1/4. A strip is the side,
// two bands and 4 (cp); its least length the side and two bands less 0.2929; a diagonal is
// the root of two squares; the line runs 5 1/4 out and 5 1/4 along.
func TestNumbersOfEqualBands(t *testing.T) {
	wantNumbers(t, begin(t, plans["one border"]), map[string]string{
		"center.pressed":   "center, wide × long: 36 1/2 in × 48 1/2 in",
		"width.middle":     "width, as planned: 36 1/2 in",
		"length.left":      "length, as planned: 48 1/2 in",
		"diagonal.1":       "each diagonal: 60 11/16 in",
		"square.1.looked":  "at the corner: 90°",
		"size.settled":     "build on, wide × long: 36 1/2 in × 48 1/2 in",
		"fabric.1.line":    "repeat of the stripe: 1 1/8 in | lines to chalk, counted from the cut edge: 1st, 6th, 11th, 16th",
		"cut.1.left.cut":   "cut, wide × long: 5 1/2 in × 63 1/2 in",
		"cut.1.top.ready":  "cut, wide × long: 5 1/2 in × 51 1/2 in | least length: 47 1/4 in",
		"mark.center.top":  "middle to end: 18 1/4 in",
		"mark.left.middle": "end to middle, about: 31 3/4 in",
		"mark.left.ends":   "middle to end: 24 1/4 in",
		"mark.dot.1":       "seam allowance: 1/4 in",
		"test.measured":    "across all three: 3 1/2 in",
		"sew.left.pinned":  "middle to end: 24 1/4 in",
		"sew.left.sewn":    "seam allowance: 1/4 in | stitch length: 2.0 mm",
		"miter.1.folded":   "seam to miter: 45°",
		"miter.1.lined":    "dot to outer edge: 7 7/16 in | seam to miter: 45°",
		"miter.1.looked":   "stripes may miss by: 1/8 in",
		"top.widths":       "width, raw: 46 1/2 in",
		"top.lengths":      "length, raw: 58 1/2 in",
		"top.diagonals":    "each diagonal: 74 3/4 in",
	})
}

// Derived: the bands finish 4 and 6 wide; the miter is the root of both squares, and leans
// from the seams by the angles whose tangents are 4/6 and 6/4. On the side strip it meets the
// raw edge, 4 1/4 out, 4 1/4 x 6/4 = 6 3/8 along; on the other, 6 1/4 x 4/6 = 4 1/6.
func TestNumbersOfUnequalBands(t *testing.T) {
	w := begin(t, plans["unequal bands"])
	wantNumbers(t, w, map[string]string{
		"miter.2.linedSide": "then along the outer edge: 6 3/8 in | dot to outer edge: 7 11/16 in | seam to miter: 33.7°",
		"miter.2.linedEnd":  "then along the outer edge: 4 3/16 in | dot to outer edge: 7 1/2 in | seam to miter: 56.3°",
		"miter.2.folded":    "miter, finished: 7 3/16 in",
		"miter.1.pinned":    "dot to outer edge: 7 11/16 in | seam to miter: 33.7°", // the left strip lies on top
		"miter.2.pinned":    "dot to outer edge: 7 1/2 in | seam to miter: 56.3°",   // the top strip does
		"miter.1.sewn":      "dot to outer edge: 7 11/16 in | stitch length: 2.0 mm",
		"miter.2.sewn":      "dot to outer edge: 7 1/2 in | stitch length: 2.0 mm",
		"top.widths":        "width, raw: 44 1/2 in",
		"top.lengths":       "length, raw: 60 1/2 in",
	})
	// The other way round the lines change places.
	w = begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2","cutTopBottom":"4 1/2"}]}`)
	wantNumbers(t, w, map[string]string{"miter.1.pinned": "dot to outer edge: 7 1/2 in | seam to miter: 56.3°"})
}

// Strips of 95 1/2 in (80 1/2 + 11 + 4) and 75 1/2 in do not come out of 40 in of
// fabric; parts on the diagonal are longer by one cut width a join.
func TestNumbersOfJoinedStrips(t *testing.T) {
	w := begin(t, plans["joined aslant"])
	for edge, length := range map[string]string{"left": "95 1/2", "top": "75 1/2"} {
		strip, _ := calc.ParseLength(length, calc.Inch)
		parts := tickOf(t, w, "join.1."+edge+".measured").Numbers
		joins := len(parts) - 1
		want := strip.Add(calc.Of(11, 2, calc.Inch).Times(int64(joins)))
		var sum calc.Length
		for i, part := range parts {
			sum = sum.Add(part.Figures[1].Length)
			places := []string{"At the squared end, as the cutting page", " from the end as it was squared first, as the cutting page", "From what was kept of the row that was cut for "}
			says := func(place string) bool { return strings.Contains(part.How, place) }
			if part.Figures[0].Shown() != "5 1/2 in" || !slices.ContainsFunc(places, says) {
				t.Errorf("%s, part %d: got %s, %q; want where it is cut from", edge, i+1, part.Shown(), part.How)
			}
		}
		if joins < 1 || !sum.Equal(want) {
			t.Errorf("%s: %d parts, together %s long, want %s", edge, len(parts), calc.Figure{Length: sum, Unit: calc.Inch}.Shown(), calc.Figure{Length: want, Unit: calc.Inch}.Shown())
		}
		word := "joins in this strip: "
		if joins == 1 {
			word = "join in this strip: "
		}
		if got := shownOf(t, w, "join.1."+edge+".sewn"); !strings.HasPrefix(got, word) || !strings.HasSuffix(got, "| seam allowance: 1/4 in | stitch length: 2.0 mm") {
			t.Errorf("%s: joining shows %q, want %q and the allowance", edge, got, word)
		}
	}
}

// Strips of borders that are cut from one fabric lie where its shared layout has them.
func TestNumbersOfASharedFabric(t *testing.T) {
	w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[
		{"cut":"1 1/2","fabric":{"name":"indigo","runs":"lengthwise"}},{"cut":"2"},{"cut":"5 1/2","fabric":{"name":"indigo","runs":"lengthwise"}}]}`)
	if len(w.Sheet.Together) != 1 {
		t.Fatalf("%d fabrics are shared, want one", len(w.Sheet.Together))
	}
	found := 0
	for _, piece := range w.Sheet.Together[0].Picked().Layout {
		id := "cut." + string(rune('0'+piece.Border)) + "." + piece.Edge + ".measured"
		if piece.Part > 0 {
			continue
		}
		found++
		want := "from the edge first cut: " + piece.X.Shown()
		if piece.X.Length.Sign() == 0 {
			want = "place: at the cut edge"
		}
		if piece.Y.Length.Sign() > 0 {
			want += " | from the end first squared: " + piece.Y.Shown()
		}
		if got := shownOf(t, w, id); !strings.HasSuffix(got, want) {
			t.Errorf("%s shows %q, want %q at its end", id, got, want)
		}
	}
	if found == 0 {
		t.Error("no strip of the shared fabric is in one piece")
	}
}

// Nothing says where a strip is cut where no layout takes all of them.
func TestNumbersWhereTheStripsDoNotFit(t *testing.T) {
	w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","fabric":{"usableWidth":"5"}}]}`)
	if need := w.Sheet.Fabric[0]; need.Picked() != nil {
		t.Fatalf("strips 5 1/2 in wide fit on 5 in: %+v", need)
	}
	wantNumbers(t, w, map[string]string{
		"fabric.1.pressed":    "strips to cut: 4",
		"cut.1.left.measured": "cut, wide × long: 5 1/2 in × 63 1/2 in",
	})
	w = begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","stripe":"1 1/8","fabric":{"usableWidth":"5"}}]}`)
	if say := tickOf(t, w, "cut.1.left.measured").Say; say != "Mark width and length, starting on the chosen line." {
		t.Errorf("without a layout a striped strip is measured by %q, want no line numbered", say)
	}
	if got := shownOf(t, begin(t, plans["one plain border"]), "fabric.1.pressed"); !strings.HasPrefix(got, "of fabric, strips ") || !strings.HasSuffix(got, "| strips to cut: 4") {
		t.Errorf("the fabric shows %q, want how much of it, and four strips", got)
	}
}

// A stripe with lines says on which of them a strip begins.
func TestNumbersOfAStripeWithLines(t *testing.T) {
	w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","stripe":"1 1/8",
		"lines":[{"name":"navy","width":"3/8","color":"#22375c"},{"name":"cream","width":"3/4","color":"#fbf5e6"}],"start":"1/8"}]}`)
	numbers := tickOf(t, w, "fabric.1.line").Numbers
	if len(numbers) != 3 || numbers[1].Name != "inner raw edge" || !strings.Contains(numbers[1].Text, "navy") || !strings.HasPrefix(numbers[1].How, "From the plan's lines. The outer raw edge then lies ") {
		t.Errorf("the line chosen shows %+v, want the repeat, and the inner edge on navy", numbers)
	}
	if numbers = tickOf(t, w, "cut.1.left.measured").Numbers; len(numbers) < 3 || numbers[1].Name != "inner raw edge" || numbers[2].Name != "chosen line, from the cut edge" {
		t.Errorf("the left strip shows %+v, want the inner edge, and which of the chosen lines it is on", numbers)
	}
}

// Where the plan says where the first line lies, the step does.
func TestTheFirstLineLiesWhereThePlanSays(t *testing.T) {
	w := begin(t, `{"center":{"width":"24","length":"28"},"borders":[{"cut":"5","stripe":"8","fabric":{"runs":"lengthwise","across":5,"first":"1 1/4"}}]}`)
	for _, edge := range []string{"left", "top"} {
		line := tickOf(t, w, "cut.1."+edge+".measured").Numbers[1]
		if want := "The 1st lies 1 1/4 in from the cut edge. They repeat every 8 in."; line.How != want {
			t.Errorf("the %s strip's line: %q, want %q", edge, line.How, want)
		}
	}
}

// With lines every 10 1/2 in and strips 8 1/2 wide three fit beside each other on 40 in,
// wherever the first line lies: at most 10 1/2 in from the edge, so the third strip ends at
// most at 3 x 10 1/2 + 8 1/2 = 40. Begun on the second line met, it could end at 42.
func TestEachStripNamesTheChosenLineItStartsOn(t *testing.T) {
	w := begin(t, `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"8 1/2","stripe":"10 1/2","fabric":{"runs":"lengthwise"}}]}`)
	named := map[string]int{}
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		numbers := tickOf(t, w, "cut.1."+edge+".measured").Numbers
		line := numbers[1]
		if line.Name != "chosen line, from the cut edge" || !strings.Contains(line.How, "within 10 1/2 in of it") {
			t.Fatalf("the %s strip shows %+v, want the chosen line, and where the first one lies", edge, line)
		}
		nth, past, _ := strings.Cut(line.Text, ", ")
		if say := tickOf(t, w, "cut.1."+edge+".measured").Say; say != "Mark width and length, starting on the "+nth+" chosen line from the cut edge." {
			t.Errorf("the %s strip is measured by %q, want its line, the %s", edge, say, nth)
		}
		if want := map[string]string{"1st": "", "2nd": "10 1/2 in past the 1st", "3rd": "21 in past the 1st"}[nth]; past != want {
			t.Errorf("the %s line lies %q, want %q", nth, past, want)
		}
		named[nth]++
	}
	if named["1st"] == 0 || named["2nd"] == 0 || len(named) > 3 || named["4th"] > 0 {
		t.Errorf("the strips start on the lines %v, want none but the first three", named)
	}
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 13: "13th", 21: "21st", 102: "102nd", 111: "111th"} {
		if got := steps.Ordinal(n); got != want {
			t.Errorf("%d is told as %s, want %s", n, got, want)
		}
	}
}

func TestNumbersOfAMotifAndOfCoping(t *testing.T) {
	w := begin(t, plans["coping on sides"])
	for _, id := range []string{"cut.1.left.measured", "cut.1.left.middle"} {
		numbers := tickOf(t, w, id).Numbers
		i := slices.IndexFunc(numbers, func(n steps.Number) bool { return n.Name == "on the middle" })
		if i < 0 || numbers[i].Text != "a "+string(w.Sheet.Match[0].Centering.On(calc.Sides)) {
			t.Errorf("%s shows %+v, want what of the print lies on the middle", id, numbers)
		}
	}
	wantNumbers(t, w, map[string]string{
		"size.settled": "center, wide × long: 60 1/2 in × 80 1/2 in",
		// The coping adds 2 in (apply_test.go).
		"coping.measured": "build on, wide × long: 62 1/2 in × 80 1/2 in",
	})
	// An allowance that a ruler has not is told exactly.
	w = begin(t, `{"seam":"0.27","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2"}]}`)
	wantNumbers(t, w, map[string]string{"mark.dot.1": "seam allowance: 0.27 in"})
}

// What has no number that it was cut to is told as it was, and a tick without a number
// says so.
func TestATickWithoutANumber(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "press.1.opened")
	op := tickOp("press.1.behind", true)
	op.Number = "7 in"
	_, _, err := try(w, op)
	if r, ok := err.(*steps.Refusal); !ok || !strings.Contains(r.Message, "You were shown 7 in; it is no number at all now.") {
		t.Errorf("done to 7 in, where there is no number: got %v", err)
	}
	next, _ := w.Recall(steps.Entry{Op: op})
	if tick := tickOf(t, next, "press.1.behind"); !tick.Done || len(tick.Numbers) != 0 {
		t.Errorf("read from a history: %+v, want it done, and no number made up", tick)
	}
}

func TestAPlanThatIsNoObjectIsRefused(t *testing.T) {
	for _, plan := range []string{"", "[]", "{", `"plan"`} {
		_, err := steps.Begin(json.RawMessage(plan))
		if r, ok := err.(*steps.Refusal); !ok || r.Code != steps.BadPlan || r.Message == "" {
			t.Errorf("Begin(%q): got %v, want bad-plan", plan, err)
		}
	}
}

// What is left of a row is told where the row is cut, and again where it is used: nothing is
// thrown away that another strip needs.
func TestWhatIsLeftOfARowIsKept(t *testing.T) {
	w := begin(t, plans["joined aslant"])
	kept, used := map[string]string{}, map[string]string{}
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		for i, part := range tickOf(t, w, "join.1."+edge+".measured").Numbers {
			me := fmt.Sprintf("%s, part %d", edge, i+1)
			if _, rest, ok := strings.Cut(part.How, "keep and label "); ok {
				_, whose, _ := strings.Cut(rest, " of it for ")
				kept[strings.TrimSuffix(whose, ".")] = me
				if !strings.HasSuffix(part.Name, "; keep the rest") {
					t.Errorf("%s is named %q, want it to say that the rest is kept", me, part.Name)
				}
			}
			if _, whose, ok := strings.Cut(part.How, "the row that was cut for "); ok {
				used[me] = strings.TrimSuffix(whose, ".")
			}
		}
	}
	if len(kept) == 0 || !maps.Equal(kept, used) {
		t.Errorf("kept are %v, used are %v; want the same, and some", kept, used)
	}
}

// A row that is wider than a part is cut at its own width, and the part trimmed after.
func TestAPartOfAWiderRowIsTrimmed(t *testing.T) {
	w := begin(t, `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[
		{"name":"rail","cut":"2 1/2","fabric":{"name":"slate","runs":"crosswise"}},{"name":"lamps","cut":"4 1/2","fabric":{"runs":"lengthwise"}},
		{"name":"kerb","cut":"1 1/2","fabric":{"name":"slate","runs":"crosswise"}}]}`)
	trimmed := 0
	for _, step := range w.Stages[1].Steps {
		for _, tick := range step.Ticks {
			if !strings.HasPrefix(tick.ID, "join.3.") || !strings.HasSuffix(tick.ID, ".measured") {
				continue
			}
			for _, part := range tick.Numbers {
				if strings.Contains(part.How, "the row that was cut for rail") {
					trimmed++
					if !strings.HasSuffix(part.How, "Then trim this one to 1 1/2 in.") {
						t.Errorf("%s: %q, want it trimmed to its width", tick.ID, part.How)
					}
				}
			}
		}
	}
	if trimmed == 0 {
		t.Error("no part of the kerb lies in a row of the rail")
	}
}
