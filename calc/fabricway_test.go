package calc_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
	"cornerwise/calc/pack"
)

// A print with a direction: strips of 97 on the sides and 77 on top and bottom, 6 1/2 wide.
func TestAOneWayPrintIsCutAsItsHeadsPoint(t *testing.T) {
	const plan = `{"center":{"width":"60","length":"80"},"borders":[{"cut":"6 1/2","fabric":{"way":"one-way","usableWidth":%q,"even":"0"%s}}]}`
	for _, c := range []struct{ name, width, says, pick, length string }{
		// Beside both sides rows of 40 − 13 = 27: four parts a strip, as 77 + 3 × 6 1/2 = 96 1/2 is
		// under 4 × 27, and 8 rows under 97 (derived).
		{"up, joined beside the sides", "40", `,"heads":"up"`, "mixed", "97"},
		// 80 + 2 × 6 1/2 + 4 = 97; no strip of 77 lies beside one of 6 1/2 on 80: 97 + 2 × 6 1/2.
		{"up, in one, below the sides", "80", `,"heads":"up","join":"none"`, "mixed", "110"},
		// 77 + 6 1/2 = 83 1/2: each beside one side, as a frame.
		{"up, in one, as a frame", "84", `,"heads":"up","join":"none"`, "mixed", "103.5"},
		// 77 + 13 = 90.
		{"up, in one, beside both sides", "90", `,"heads":"up","join":"none"`, "mixed", "97"},
		// Four rows.
		{"outwards", "97", `,"heads":"outwards","join":"none"`, "crosswise", "26"},
		{"inwards", "97", `,"heads":"inwards","join":"none"`, "crosswise", "26"},
		// 2 × 97 + 2 × 77 = 348 of rows of 40 with 6 1/2 off for each join but one: 11 (derived).
		{"outwards, joined", "40", `,"heads":"outwards"`, "crosswise", "71.5"},
		{"outwards, said to be crosswise", "97", `,"heads":"outwards","runs":"crosswise","join":"none"`, "crosswise", "26"},
	} {
		s := sheetOf(t, fmt.Sprintf(plan, c.width, c.says))
		need := s.Fabric[0]
		way := need.Picked()
		if way == nil || need.Pick != c.pick || way.Length.Value() != c.length || len(need.All()) != 1 {
			t.Errorf("%s: %q, %+v; want %q alone, %s", c.name, need.Pick, way, c.pick, c.length)
			continue
		}
		if notes := strings.Join(s.Notes, "\n"); !strings.Contains(notes, "heads along the selvage") || strings.Contains(notes, "not all were tried") {
			t.Errorf("%s: notes\n%s\nwant that its heads lie along the selvage, and a length that is proved", c.name, notes)
		}
	}
}

func TestAOneWayPrintThatDoesNotFitSaysWhy(t *testing.T) {
	const plan = `{"center":{"width":"60","length":"80"},"borders":[{"cut":%q%s,"fabric":{"way":"one-way"%s}}]}`
	for _, c := range []struct{ cut, print, says, why string }{
		{"6 1/2", "", `,"heads":"up","join":"none"`, "up to 77 in long"},
		{"6 1/2", `,"motif":"6"`, `,"heads":"up"`, "Join them, or take a wider fabric"},
		{"6 1/2", "", `,"heads":"inwards","join":"none"`, "can't be cut lengthwise"},
		{"41", "", `,"heads":"up"`, "up to 41 in wide"},
		{"40", "", `,"heads":"up"`, "Take a wider fabric."},
	} {
		s := sheetOf(t, fmt.Sprintf(plan, c.cut, c.print, c.says))
		all := s.Fabric[0].All()
		if s.Fabric[0].Pick != "" || len(all) != 1 || all[0].Fits || !strings.Contains(all[0].Why, c.why) {
			t.Errorf("%+v: %q, %+v; want a why with %q", c, s.Fabric[0].Pick, all, c.why)
		}
	}
}

// Heads up the print is upright on both sides of a miter; outwards it may mirror along it.
func TestAPrintWithItsHeadsUpCanNotMirror(t *testing.T) {
	const plan = `{"center":{"width":"60","length":"60"},"borders":[{"name":"birds","cut":"6 1/2","motif":"6","fabric":{"join":"straight","way":"one-way","heads":%q}}]}`
	for heads, possible := range map[string]bool{"up": false, "outwards": true, "inwards": true} {
		s := sheetOf(t, fmt.Sprintf(plan, heads))
		m := s.Match[0]
		if m.Possible != possible || !possible && !strings.Contains(m.Why, "can't mirror at the miter") {
			t.Errorf("%s: possible = %t, %q; want %t", heads, m.Possible, m.Why, possible)
		}
		if n := len(calc.Centerings(planOf(t, fmt.Sprintf(plan, heads)), 1)); (n > 0) != possible {
			t.Errorf("%s: %d ways to center", heads, n)
		}
		if notes := strings.Join(s.Notes, "\n"); strings.Contains(notes, "not mirrored") == possible {
			t.Errorf("%s: notes\n%s", heads, notes)
		}
	}
	_, err := calc.ParsePlan([]byte(strings.Replace(fmt.Sprintf(plan, "up"), `"borders"`, `"coping":{"edges":"sides"},"borders"`, 1)))
	if err == nil || !strings.Contains(err.Error(), "coping: ") {
		t.Errorf("coping strips for a print that can't meet: %v; want a fault", err)
	}
}

func TestAOneWayPrintThatCanNotBe(t *testing.T) {
	const one = `[{"cut":"6 1/2"%s,"fabric":{%s}}]`
	shared := func(inner, outer string) string {
		return fmt.Sprintf(`[{"cut":"2"%s"name":"dusk"}},{"cut":"3"%s"name":"dusk"}}]`, inner, outer)
	}
	for _, c := range []struct{ borders, field, want string }{
		{fmt.Sprintf(one, ``, `"way":"one-way"`), "borders[0].fabric.heads", "up, outwards or inwards"},
		{fmt.Sprintf(one, ``, `"heads":"up"`), "borders[0].fabric.heads", "give its way as one-way"},
		{fmt.Sprintf(one, ``, `"way":"both","heads":"up"`), "borders[0].fabric.heads", "or leave this out"},
		{fmt.Sprintf(one, ``, `"way":"down"`), "borders[0].fabric.way", "both, one-way"},
		{fmt.Sprintf(one, ``, `"way":"one-way","heads":"down"`), "borders[0].fabric.heads", "up, outwards, inwards"},
		{fmt.Sprintf(one, ``, `"way":"one-way","heads":"up","runs":"crosswise"`), "borders[0].fabric.runs", "Leave this out"},
		{fmt.Sprintf(one, ``, `"way":"one-way","heads":"up","runs":"lengthwise"`), "borders[0].fabric.runs", "top and bottom across it"},
		{fmt.Sprintf(one, ``, `"way":"one-way","heads":"inwards","runs":"lengthwise"`), "borders[0].fabric.runs", "all strips are cut crosswise"},
		{fmt.Sprintf(one, `,"stripe":"2"`, `"way":"one-way","heads":"up"`), "borders[0].fabric.heads", "can't turn a corner"},
		{fmt.Sprintf(one, `,"stripe":"7"`, `"way":"one-way","heads":"inwards","across":4`), "borders[0].fabric.across", "through the stripe"},
		{fmt.Sprintf(one, `,"stripe":"7"`, `"way":"one-way","heads":"outwards","first":"1"`), "borders[0].fabric.first", "through the stripe"},
		{shared(`,"fabric":{`, `,"fabric":{"way":"one-way","heads":"up",`), "borders[1].fabric.way", "border 1 says both of the same fabric, dusk"},
		{shared(`,"fabric":{"way":"one-way","heads":"up",`, `,"fabric":{`), "borders[1].fabric.way", "border 1 says one-way of the same fabric, dusk"},
		{shared(`,"stripe":"2","fabric":{"way":"one-way","heads":"inwards",`, `,"stripe":"2","fabric":{"way":"one-way","heads":"outwards",`), "borders[1].fabric.heads", "is outwards, and on border 1 inwards"},
	} {
		_, err := calc.ParsePlan([]byte(`{"center":{"width":"60","length":"80"},"borders":` + c.borders + `}`))
		if err == nil || !strings.Contains(err.Error(), c.field+": ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want a fault of %s with %q", c.borders, err, c.field, c.want)
		}
	}
	p := planOf(t, `{"center":{"width":"60","length":"80"},"borders":[{"cut":"2","fabric":{"way":"both"}}]}`)
	if p.Borders[0].Fabric.Heads != "" {
		t.Errorf("both: heads %q; want none", p.Borders[0].Fabric.Heads)
	}
}

// The strips of one-way prints lie inside the fabric, none over another, all of them, each the
// way that its heads ask for, and take what the packing finds for them.
func TestOneWayPrintsLieAsTheirHeadsPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		var motif string
		repeat := 0
		if rapid.Bool().Draw(t, "printed") {
			repeat = 2 * num("motif", 8, 60)
			motif = fmt.Sprintf(`,"motif":%q`, inches(repeat))
		}
		usable := num("usable", 300, 1600)
		join := rapid.SampledFrom([]string{"none", "straight", "diagonal"}).Draw(t, "join")
		var borders []string
		for range num("borders", 1, 3) {
			heads := rapid.SampledFrom([]string{"up", "up", "outwards", "inwards"}).Draw(t, "heads")
			borders = append(borders, fmt.Sprintf(`{"cut":%q%s,"fabric":{"name":"dusk","way":"one-way","heads":%q,"usableWidth":%q,"join":%q,"even":"0"}}`,
				inches(num("cut", 12, 120)), motif, heads, inches(usable), join))
		}
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[%s]}`,
			inches(2*num("width", 100, 500)), inches(2*num("length", 100, 500)), strings.Join(borders, ","))
		p, s := planOf(t, plan), sheetOf(t, plan)
		for _, c := range append(s.Together, shared(s.Fabric)...) {
			ways := c.All()
			if len(ways) != 1 {
				t.Fatalf("%s\n%d ways; want the one that the heads ask for", plan, len(ways))
			}
			way := ways[0].Way
			if len(c.Borders) == 1 && ways[0].Name == "mixed" {
				checkMixed(t, plan, s, c.Borders[0], way, usable, repeat, join)
			}
			if !way.Fits {
				continue
			}
			checkInside(t, p.Borders[0].Fabric.UsableWidth, way)
			checkWhole(t, p, s, c.Borders, way, false)
			checkHeads(t, p, way)
			area := 0.0
			for _, x := range way.Layout {
				area += x.Width.Length.Float(calc.Inch) * x.Length.Length.Float(calc.Inch)
			}
			if got := way.Length.Length.Float(calc.Inch); got*float64(usable)/sixteen < area-1e-6 {
				t.Fatalf("%s\n%g long; the pieces alone take %g", plan, got, area*sixteen/float64(usable))
			}
		}
	})
}

func shared(each []calc.FabricNeed) (all []calc.SharedFabric) {
	for _, c := range each {
		all = append(all, calc.SharedFabric{Name: c.Name, Borders: []int{c.Border}, Ways: c.Ways})
	}
	return all
}

// checkMixed holds a layout against the packing of its strips, in sixteenths.
func checkMixed(t *rapid.T, plan string, s calc.Sheet, border int, way *calc.Way, usable, repeat int, join string) {
	t.Helper()
	// Strips of one border are alike in length and width where the center is no square, too.
	strips := plainOf(s, border, calc.Pair[calc.Centering]{Sides: calc.OnMotif, TopBottom: calc.OnMotif})
	m := pack.Mixed{Along: strips[:2], Across: strips[2:], Motif: int64(repeat), Joins: join != "none", Work: 6000}
	if strips[2].Length+m.Motif > int64(usable) && !m.Joins || slices.ContainsFunc(s.Strips, func(x calc.Strip) bool {
		return math.Mod(x.CutLength.Length.Float(calc.Inch)*sixteen, 2) != 0
	}) {
		return
	}
	for i := range m.Across {
		x := s.Strips[2*border-1]
		toDot := s.Marks.TopBottom.ToDot.Length.Float(calc.Inch)
		m.Across[i].Tail = int64(math.Round((x.CutLength.Length.Float(calc.Inch)/2 - toDot + 2) * sixteen))
	}
	found, _ := m.Lay(int64(usable), func(width int64) int64 {
		if join == "diagonal" {
			return width
		}
		return sixteen / 2
	})
	want := int64(-1)
	if found != nil {
		want = found.Length
	}
	checkLength(t, plan, "mixed", way, want)
}

// checkHeads looks that each piece lies the way that its border's heads ask for, and its inner
// side where it is with the heads so.
func checkHeads(t *rapid.T, p calc.Plan, way *calc.Way) {
	t.Helper()
	var first *calc.Length
	for _, x := range way.Layout {
		heads := p.Borders[x.Border-1].Fabric.Heads
		if along := heads == calc.Up && (x.Edge == "left" || x.Edge == "right"); way.Along(x) != along {
			t.Fatalf("%s: along = %t, heads %s", told(x), !along, heads)
		}
		// Which side of the quilt the fabric's start is on this strip: the one that heads point to.
		pointed := map[calc.Heads]string{calc.Up: "top", calc.Outwards: x.Edge, calc.Inwards: opposite[x.Edge]}[heads]
		quarter := slices.Index(clockwise, pointed) // turns that bring the start's side up to it
		if way.Heads == "end" {
			quarter += 2
		}
		inner := slices.Index(clockwise, opposite[x.Edge])
		if got := slices.Index(clockwise, x.Inner); (got+quarter)%4 != inner {
			t.Fatalf("%s: its %s side is the inner one, heads %s to the %s of the fabric", told(x), x.Inner, heads, way.Heads)
		}
		if motif := p.Borders[x.Border-1].Motif; motif.Sign() > 0 && x.Runs == "crosswise" {
			if first == nil {
				first = &x.Y.Length
			}
			if n := x.Y.Length.Sub(*first).Float(calc.Inch) / motif.Float(calc.Inch); math.Abs(n-math.Round(n)) > 1e-9 {
				t.Fatalf("%s: its row starts %g repeats from the first", told(x), n)
			}
		}
	}
}

var (
	clockwise = []string{"top", "right", "bottom", "left"}
	opposite  = map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
)

// A piece at hand is judged by the one way that there is: 97 in and 2 to square the ends.
func TestAPieceAtHandForAOneWayPrint(t *testing.T) {
	p := planOf(t, `{"center":{"width":"60","length":"80"},"borders":[{"cut":"6 1/2","fabric":{"way":"one-way","heads":"up"}}]}`)
	for long, short := range map[int64]string{99: "0", 98: "1"} {
		a := calc.Enough(p, 1, calc.Of(40, 1, calc.Inch), calc.Of(long, 1, calc.Inch), func() bool { return true })
		if a.Pick != "mixed" || a.Enough != (short == "0") || a.ShortBy.Value() != short {
			t.Errorf("%d in at hand: %q, enough = %t, short by %s; want mixed, short by %s", long, a.Pick, a.Enough, a.ShortBy.Value(), short)
		}
		if !a.Enough && !a.Widest.Length.Less(p.Borders[0].Cut) || a.Widest.Length.Sign() == 0 {
			t.Errorf("%d in at hand: the widest cut is %s", long, a.Widest.Shown())
		}
	}
}
