package calc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cornerwise/calc"
)

// fabricOf is the need of a plan's only border.
func fabricOf(t testing.TB, plan string) calc.FabricNeed {
	t.Helper()
	s := sheetOf(t, plan)
	if len(s.Fabric) != 1 {
		t.Fatalf("%s: fabric for %d borders; want 1", plan, len(s.Fabric))
	}
	return s.Fabric[0]
}

// strips4 is a plan whose four strips are so long and so wide: the seam takes
// next to nothing, and the spare makes up what the band adds.
func strips4(length, width int, fabric string) string {
	return fmt.Sprintf(`{"center":{"width":"%d","length":"%d"},"borders":[{"cut":"%d","fabric":%s}],"spare":"0"}`,
		length-2*width, length-2*width, width, fabric)
}

func TestFabricAgreesWithPrint(t *testing.T) {
	for _, c := range []struct {
		name, plan, way   string
		length, buy, sold string
		source            string
	}{
		{"four strips of 90 stand side by side across 42",
			strips4(90, 10, `{"usableWidth":"42","runs":"lengthwise","even":"0"}`), "lengthwise", "90", "90", "2 1/2 yd",
			"Quilting Board, 5 September 2009"},
		{"four of 12 wide do not, and take two lengths",
			strips4(90, 12, `{"usableWidth":"42","runs":"lengthwise","even":"0"}`), "lengthwise", "180", "180", "5 yd",
			"Quilting Board, 5 September 2009"},
		{"four strips of 72 out of five rows of 60, straight joins, not six",
			strips4(72, 3, `{"usableWidth":"60","runs":"crosswise","join":"straight","even":"0"}`), "crosswise", "15", "18", "1/2 yd",
			"Quilting Board, 5 December 2019; (derived)"},
		// 11 rows of 3 1/2 are 38 1/2, up to 1 1/8 yd; here the same rounding
		// over one length with squared ends: 36 1/2 + 2.
		{"38 1/2 goes up to 1 1/8 yd",
			strips4(36, 4, `{"usableWidth":"42","runs":"lengthwise","even":"2 1/2"}`), "lengthwise", "36", "40.5", "1 1/8 yd",
			`"Lesson 11: Math for Quilt Sashings and Borders", the rounding`},
	} {
		t.Run(c.name, func(t *testing.T) {
			need := fabricOf(t, c.plan)
			way := need.Picked()
			if need.Pick != c.way || way == nil {
				t.Fatalf("%s: pick = %q; want %q", c.plan, need.Pick, c.way)
			}
			if way.Length.Value() != c.length || way.Buy.Value() != c.buy || way.Buy.Shown() != c.sold {
				t.Errorf("%s: length %s, buy %s (%s); want %s, %s (%s): %s", c.plan,
					way.Length.Value(), way.Buy.Value(), way.Buy.Shown(), c.length, c.buy, c.sold, c.source)
			}
		})
	}
}

// Perimeters in print cut from joined rows: so many rows will do. The
// strips are a quarter of what is needed each.
func TestJoinedRowsAgreeWithPrint(t *testing.T) {
	for _, c := range []struct {
		plan   string
		row    float64
		rows   int
		source string
	}{
		{`{"center":{"width":"52 1/2","length":"52 1/2"},"borders":[{"cut":"3","fabric":{"runs":"crosswise","join":"straight"}}],"spare":"0"}`,
			3, 6, "234 from rows of 40: 6. Brynwood Needleworks, 26 September 2014"},
		{`{"center":{"width":"53 1/2","length":"53 1/2"},"borders":[{"cut":"5","fabric":{"usableWidth":"42","runs":"crosswise","join":"diagonal"}}],"spare":"0"}`,
			5, 7, `254 from rows of 42: 7. Generations Quilt Patterns, "How to calculate quilt borders"`},
	} {
		way := fabricOf(t, c.plan).Crosswise
		if got := way.Length.Length.Float(calc.Inch); got != c.row*float64(c.rows) {
			t.Errorf("%s: length %g; want %d rows of %g (%s)", c.plan, got, c.rows, c.row, c.source)
		}
	}
}

func TestFabricIsNeverBoughtShort(t *testing.T) {
	for _, c := range []struct{ name, plan, length, buy, shown string }{
		{"just over an eighth of a yard is the next", strips4(90, 10, `{"usableWidth":"42","runs":"lengthwise","even":"0.001"}`), "90", "94.5", "2 5/8 yd"},
		{"squaring the ends and shrinkage come before rounding", strips4(90, 10, `{"usableWidth":"42","runs":"lengthwise","even":"2","shrink":"4"}`), "90", "99", "2 3/4 yd"},
		{"a quarter lost in the wash takes a third more", strips4(90, 10, `{"usableWidth":"42","runs":"lengthwise","even":"0","shrink":"25"}`), "90", "121.5", "3 3/8 yd"},
		{"a tenth of a meter", `{"unit":"cm","center":{"width":"80","length":"80"},"borders":[{"cut":"10","fabric":{"runs":"lengthwise","even":"0"}}],"spare":"0"}`, "100", "100", "1 m"},
		{"a millimeter over it", `{"unit":"cm","center":{"width":"80","length":"80"},"borders":[{"cut":"10","fabric":{"runs":"lengthwise","even":"0.1"}}],"spare":"0"}`, "100", "110", "1.1 m"},
	} {
		way := fabricOf(t, c.plan).Lengthwise
		if way.Length.Value() != c.length || way.Buy.Value() != c.buy || way.Buy.Shown() != c.shown {
			t.Errorf("%s: length %s, buy %s, %q; want %s, %s, %q", c.name, way.Length.Value(), way.Buy.Value(), way.Buy.Shown(), c.length, c.buy, c.shown)
		}
	}
}

func TestFabricThatDoesNotFitSaysWhy(t *testing.T) {
	for _, c := range []struct{ name, plan, way, why string }{
		{"a border wider than the fabric", strips4(120, 41, `{"runs":"lengthwise"}`), "lengthwise", "up to 41 in wide"},
		{"a stripe that may start too far in", `{"center":{"width":"60","length":"60"},"borders":[{"cut":"36","stripe":"6"}]}`, "lengthwise", "may lie up to 6 in in"},
		{"strips too long, and no joins", strips4(60, 5, `{"runs":"crosswise","join":"none"}`), "crosswise", "up to 60 in long"},
		{"a print that may start too far in", `{"center":{"width":"28","length":"28"},"borders":[{"cut":"4","motif":"6","fabric":{"runs":"crosswise"}}],"spare":"0"}`, "crosswise", "up to 6 in further in"},
		{"joins that use up the row", strips4(90, 20, `{"usableWidth":"20","runs":"crosswise","join":"diagonal"}`), "crosswise", "used up by the joins"},
		{"joins that leave a thread of the row", strips4(90, 20, `{"usableWidth":"20.001","runs":"crosswise","join":"diagonal"}`), "crosswise", "more than 40 parts"},
		{"parts without number", strips4(90, 20, `{"usableWidth":"0.501","runs":"crosswise","join":"straight"}`), "crosswise", "more than 40 parts"},
	} {
		need := fabricOf(t, c.plan)
		way := need.Lengthwise
		if c.way == "crosswise" {
			way = need.Crosswise
		}
		if way.Fits || way.Length != nil || way.Buy != nil || len(way.Layout) != 0 || !strings.Contains(way.Why, c.why) {
			t.Errorf("%s: fits %t, why %q, %d pieces; want no figures and a why with %q", c.name, way.Fits, way.Why, len(way.Layout), c.why)
		}
		if need.Pick == c.way {
			t.Errorf("%s: pick = %q, which does not fit", c.name, need.Pick)
		}
	}
}

func TestThePickTakesLess(t *testing.T) {
	for _, c := range []struct{ name, plan, want string }{
		{"rows of narrow strips", strips4(60, 3, `{}`), "crosswise"},
		// Columns are 4 high, the row is 1, though 1/8 yd is bought either way.
		{"less in rows, as much to buy", strips4(4, 1, `{"even":"0"}`), "crosswise"},
		{"as much either way", strips4(40, 10, `{}`), "lengthwise"},
		{"only rows fit", strips4(100, 45, `{"join":"straight"}`), "crosswise"},
		{"only columns fit", strips4(60, 3, `{"join":"none"}`), "lengthwise"},
		{"neither", strips4(100, 45, `{"join":"none"}`), ""},
	} {
		if got := fabricOf(t, c.plan).Pick; got != c.want {
			t.Errorf("%s: pick = %q; want %q", c.name, got, c.want)
		}
	}
}

func TestSharedFabricIsLaidOutOnce(t *testing.T) {
	s := sheetOf(t, `{"center":{"width":"40","length":"40"},"borders":[
		{"name":"reed","cut":"2","fabric":{"name":"dusk","usableWidth":"42","shrink":"3","even":"1"}},
		{"name":"bank","cut":"3"},
		{"name":"water","cut":"4","fabric":{"name":"dusk","usableWidth":"30","even":"3"}}]}`)
	if len(s.Together) != 1 || s.Together[0].Name != "dusk" || fmt.Sprint(s.Together[0].Borders) != "[1 3]" {
		t.Fatalf("together = %+v; want one, dusk, of borders 1 and 3", s.Together)
	}
	way := s.Together[0].Lengthwise
	if len(way.Layout) != 8 {
		t.Fatalf("dusk has %d pieces; want 8 strips in one", len(way.Layout))
	}
	// 2 + 2 + 2 + 2 + 4 + 4 + 4 + 4 = 24 go side by side into 30, so it is one
	// strip long: 40 + 2 x 8 + 4 = 60. With 3 to even and 3 percent: 63 / 0.97 =
	// 64.95, up to 67.5.
	if way.Length.Value() != "60" || way.Buy.Value() != "67.5" {
		t.Errorf("dusk: length %s, buy %s; want 60 and 67.5", way.Length.Value(), way.Buy.Value())
	}
	if n := len(sheetOf(t, one("40", "40", "3", "4")).Together); n != 0 {
		t.Errorf("a plan without named fabric: together has %d; want none", n)
	}
}

func TestBordersThatNameOtherRepeatsOfOneFabric(t *testing.T) {
	shared := func(inner, outer string) calc.Ways {
		return sheetOf(t, fmt.Sprintf(`{"center":{"width":"40","length":"40"},"borders":[
			{"cut":"2","stripe":%q,"fabric":{"name":"dusk","usableWidth":"100"}},
			{"cut":"3","stripe":%q,"fabric":{"name":"dusk","usableWidth":"100"}}]}`, inner, outer)).Together[0].Ways
	}
	// Both stripes begin together every 6 in: eight columns, the first
	// 6 in. The band is 4 1/2 cut, so each strip 40 + 9 + 4 long.
	way := shared("2", "3").Lengthwise
	last := way.Layout[len(way.Layout)-1]
	if len(way.Layout) != 8 || way.Length.Value() != "53" {
		t.Errorf("stripes of 2 and 3: %d pieces, length %s; want 8, all side by side, 53", len(way.Layout), way.Length.Value())
	}
	if last.X.Value() != "48" {
		t.Errorf("stripes of 2 and 3: the last column begins at %s; want 48", last.X.Value())
	}
	ways := shared("1.000001", "1.000003")
	if ways.Pick != "" || ways.Lengthwise.Fits || ways.Crosswise.Fits || !strings.Contains(ways.Lengthwise.Why, "One fabric has one repeat") {
		t.Errorf("repeats that hardly ever fall together: %+v; want a refusal", ways)
	}
}

// 60 x 64 finished with a print of 8 misses by 2 whichever way it is centered, so the layout
// may choose. In one column strips of 70 and 66 have their middles 72 apart where both lie
// on a motif; where one lies on a gap, 68: 8 + 35 + 3 × 68 + 33 = 280, and not 292.
func TestOfCenteringsThatMatchAlikeTheOneWithLeastFabric(t *testing.T) {
	s := sheetOf(t, `{"center":{"width":"60","length":"64"},"spare":"0",
		"borders":[{"cut":"3","motif":"8","fabric":{"usableWidth":"3","runs":"lengthwise"}}]}`)
	way, want := s.Fabric[0].Lengthwise, calc.Pair[calc.Centering]{Sides: calc.OnMotif, TopBottom: calc.OnGap}
	if way.Length.Value() != "280" || way.Centering == nil || *way.Centering != want {
		t.Errorf("one column: %s long, centered %v; want 280, %v", way.Length.Value(), way.Centering, want)
	}
	if s.Match[0].Centering != want {
		t.Errorf("the match centers %v; want as the fabric is cut, %v", s.Match[0].Centering, want)
	}
}

// Side by side each column holds one strip, as long whatever lies on its middle: the first
// of the centerings is kept.
func TestOfCenteringsThatTakeAsMuchTheFirst(t *testing.T) {
	s := sheetOf(t, `{"center":{"width":"60","length":"64"},"spare":"0",
		"borders":[{"cut":"3","motif":"8","fabric":{"usableWidth":"40","runs":"lengthwise"}}]}`)
	if want := (calc.Pair[calc.Centering]{Sides: calc.OnMotif, TopBottom: calc.OnMotif}); s.Match[0].Centering != want {
		t.Errorf("four columns: centered %v; want %v", s.Match[0].Centering, want)
	}
}

// Borders of one fabric are centered as the sheet says of each: the middles of a border's strips
// lie on the print so, where all are laid out together.
func TestBordersOfOneFabricAreCenteredAsTheSheetSays(t *testing.T) {
	const fabric = `"motif":"8","fabric":{"name":"dusk","usableWidth":"40","runs":"lengthwise"}}`
	for _, c := range []struct{ width, length, spare, cut, next string }{
		{"58", "52", "0", "10", "15"}, {"44", "66", "4", "16", "14"}, {"40", "46", "3", "8", "16"}, {"36", "62", "2", "5", "6"}, {"58", "64", "3", "9", "15"},
	} {
		s := sheetOf(t, `{"center":{"width":"`+c.width+`","length":"`+c.length+`"},"spare":"`+c.spare+`","borders":[
			{"cut":"`+c.cut+`",`+fabric+`,{"cut":"`+c.next+`",`+fabric+`]}`)
		var first calc.Length
		for i, x := range s.Together[0].Lengthwise.Layout {
			middle, e := x.Y.Length.Add(x.Length.Length.Half()), calc.Sides
			if x.Edge == "top" || x.Edge == "bottom" {
				e = calc.TopBottom
			}
			if s.Match[x.Border-1].Centering.On(e) == calc.OnGap {
				middle = middle.Add(calc.Of(4, 1, calc.Inch))
			}
			if i == 0 {
				first = middle
			}
			if off := middle.Sub(first).Float(calc.Inch) / 8; math.Abs(off-math.Round(off)) > 1e-9 {
				t.Errorf("%v: the %s strip of border %d lies %.3f repeats off the print of the first", c, x.Edge, x.Border, off)
			}
		}
	}
}

// Clothes are told in the order in which the plan names them, each with all its borders;
// a name that only one border has is no shared fabric.
func TestSharedFabricsInTheOrderOfThePlan(t *testing.T) {
	border := func(name string) string { return `{"cut":"2","fabric":{"name":"` + name + `"}}` }
	s := sheetOf(t, `{"center":{"width":"40","length":"40"},"borders":[`+strings.Join([]string{
		border("reed"), border("dusk"), border("reed"), border("reed"), border("kerb"), border("dusk")}, ",")+`]}`)
	var got []string
	for _, c := range s.Together {
		got = append(got, fmt.Sprint(c.Name, c.Borders))
	}
	if want := "[reed[1 3 4] dusk[2 6]]"; fmt.Sprint(got) != want {
		t.Errorf("shared fabrics %v; want %s", got, want)
	}
}

// Of what the borders say of joining their one fabric the most careful holds: none before
// diagonal before straight.
func TestSharedFabricIsJoinedAsTheMostCarefulSays(t *testing.T) {
	for joins, want := range map[[2]string]string{
		{"straight", "straight"}: "straight", {"straight", "diagonal"}: "diagonal", {"diagonal", "straight"}: "diagonal", {"diagonal", "diagonal"}: "diagonal",
		{"none", "diagonal"}: "none", {"diagonal", "none"}: "none", {"none", "straight"}: "none", {"straight", "none"}: "none",
	} {
		border := func(join string) string {
			return `{"cut":"2","fabric":{"name":"dusk","runs":"crosswise","join":"` + join + `"}}`
		}
		s := sheetOf(t, `{"center":{"width":"60","length":"60"},"borders":[`+border(joins[0])+`,`+border(joins[1])+`]}`)
		way, got := s.Together[0].Crosswise, "none"
		if way.Fits {
			got = way.Join
		}
		if got != want {
			t.Errorf("joins %v: %s; want %s", joins, got, want)
		}
	}
}

// A strip just as long as the fabric is wide needs no join; a line more and it does not fit.
func TestAStripAsLongAsTheFabricIsWide(t *testing.T) {
	for usable, want := range map[string]bool{"70": true, "69 7/8": false} {
		if got := fabricOf(t, strips4(70, 5, `{"runs":"crosswise","join":"none","usableWidth":"`+usable+`"}`)).Crosswise.Fits; got != want {
			t.Errorf("strips of 70 across %s: fit %t; want %t", usable, got, want)
		}
	}
}

// A repeat as wide as is reckoned is one repeat still, for stripes and for prints.
func TestARepeatAsWideAsIsReckoned(t *testing.T) {
	for _, print := range []string{`"stripe":"200"`, `"motif":"200"`} {
		border := `{"cut":"3",` + print + `,"fabric":{"name":"dusk","usableWidth":"1000","runs":"lengthwise"}}`
		way := sheetOf(t, `{"center":{"width":"40","length":"40"},"borders":[`+border+`,`+border+`]}`).Together[0].Lengthwise
		if !way.Fits {
			t.Errorf("%s: %s; want it to fit", print, way.Why)
		}
	}
}

// Widths without a common measure, 1/9973 in beside 1/9967 in, are packed in the finest
// grain, which makes fabric a trace longer, never shorter; each piece is cut as planned, and
// a repeat that both borders name is one.
func TestLengthsWithoutACommonMeasure(t *testing.T) {
	border := func(cut string) string {
		return `{"cut":"` + cut + `","stripe":"7/9949","fabric":{"name":"dusk","usableWidth":"40 1/9941"}}`
	}
	s := sheetOf(t, `{"center":{"width":"30 1/9931","length":"31 1/9929"},"borders":[`+border("3 1/9973")+`,`+border("2 1/9967")+`],"spare":"0"}`)
	ways := s.Together[0].Ways
	if ways.Lengthwise == nil || !ways.Lengthwise.Fits {
		t.Fatalf("awkward lengths: %+v; want columns that fit", ways.Lengthwise)
	}
	longest := stripOf(t, s, 1, calc.Sides).CutLength.Length
	if got := ways.Lengthwise.Length.Length; got.Less(longest) || longest.Add(length(t, "0.000001")).Less(got) {
		t.Errorf("columns of %s for strips of %s; want as long, and hardly more", got.Value(calc.Inch), longest.Value(calc.Inch))
	}
	for _, piece := range ways.Lengthwise.Layout {
		edges := calc.Sides
		if piece.Edge == "top" || piece.Edge == "bottom" {
			edges = calc.TopBottom
		}
		if strip := stripOf(t, s, piece.Border, edges); !piece.Length.Length.Equal(strip.CutLength.Length) || !piece.Width.Length.Equal(strip.CutWidth.Length) {
			t.Errorf("%s of border %d is laid %s x %s; want it as cut, %s x %s", piece.Edge, piece.Border,
				piece.Width.Value(), piece.Length.Value(), strip.CutWidth.Value(), strip.CutLength.Value())
		}
	}
}

// Borders of one striped fabric that start on different lines lie so: each on its own line of the
// one print, and none on another, also where the stripe begins elsewhere at the cut edge.
func TestBordersThatStartOnDifferentLinesLieOnOnePrint(t *testing.T) {
	const fabric = `"stripe":"1 1/2","lines":[{"name":"ochre","width":"1","color":"#b98a44"},{"name":"cream","width":"1/2","color":"#ecdcb8"}],"fabric":{"name":"ticking","usableWidth":"60","runs":"lengthwise"}}`
	s := sheetOf(t, `{"center":{"width":"40","length":"50"},"borders":[{"cut":"2",`+fabric+`,{"cut":"5","cutTopBottom":"6","start":"1/2",`+fabric+`]}`)
	way := s.Together[0].Lengthwise
	if !way.Fits {
		t.Fatalf("it does not fit: %s", way.Why)
	}
	inch := func(f calc.Figure) float64 { return f.Length.Float(calc.Inch) }
	for _, first := range []float64{0.1, 0.7, 1, 1.3, 1.5} { // where the inner border's first line comes
		var spans [][2]float64
		for _, x := range way.Layout {
			line := math.Ceil(inch(x.X)/1.5 - 1e-9) // its number, counted from the cut edge
			begin := first
			if x.Border == 2 {
				if begin += 0.5; begin > 1.5 {
					begin -= 1.5
				}
				if off := math.Mod(inch(x.X), 1.5); math.Abs(off-0.5) > 1e-9 {
					t.Errorf("outer %s begins %.3f past the inner border's line, want 1/2", x.Edge, off)
				}
			}
			at := begin + (line-1)*1.5
			spans = append(spans, [2]float64{at, at + inch(x.Width)})
			if at+inch(x.Width) > 60 {
				t.Errorf("the first line at %.1f: %s of border %d goes to %.3f of 60", first, x.Edge, x.Border, at+inch(x.Width))
			}
		}
		for i, a := range spans {
			for _, b := range spans[:i] {
				if a[0] < b[1]-1e-9 && b[0] < a[1]-1e-9 {
					t.Errorf("the first line at %.1f: two strips lie from %v and from %v", first, b, a)
				}
			}
		}
	}
}
